import asyncio
import os
import re
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path

import httpx
import pytest

from service.web.app import create_app
from service.web.settings import Settings

ROOT = Path(__file__).parents[2]
QUESTION = {
    "vehicle": {"id": "compact-plug-in"},
    "journey": {"legs": [{"distance_km": 5, "speed_km_h": 50}]},
    "weather": {"temperature_c": -5},
}


def started(settings):
    """An application as after its start: catalogue loaded."""
    app = create_app(settings)

    async def start():
        async with app.router.lifespan_context(app):
            pass

    asyncio.run(start())
    return app


@pytest.fixture(scope="session")
def start():
    return started


@pytest.fixture(scope="session")
def app():
    return started(Settings())


@pytest.fixture
def question():
    return {key: dict(value) for key, value in QUESTION.items()}


@pytest.fixture(scope="session")
def ask(app):
    """Send one request, without a network: ask("GET", "/healthz")."""

    def send(method, path, *, to=None, **options):
        async def exchange():
            transport = httpx.ASGITransport(to or app)
            async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:8000") as client:
                return await client.request(method, path, **options)

        return asyncio.run(exchange())

    return send


@pytest.fixture(scope="session")
def serving():
    """The real service in a process of its own, and where it answers; settings by keyword, as DATABASE_FILE="x"."""

    @contextmanager
    def served(**settings):
        clean = {key: value for key, value in os.environ.items() if not key.startswith("RANGEWRIGHT_")}
        own = {f"RANGEWRIGHT_{name}": str(value) for name, value in settings.items()}
        command = [sys.executable, "-m", "service", "--port", "0"]
        with subprocess.Popen(
            command, stdout=subprocess.PIPE, text=True, cwd=ROOT, env=clean | {"PYTHONPATH": str(ROOT)} | own
        ) as server:
            try:
                yield server, re.search(r"http://127\.0\.0\.1:\d+", server.stdout.readline()).group()
            finally:
                server.kill()

    return served
