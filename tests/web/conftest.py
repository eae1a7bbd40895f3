import asyncio

import httpx
import pytest

from service.web.app import create_app
from service.web.settings import Settings

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
