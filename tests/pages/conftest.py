"""The real service on a free port, and a headless Chromium that may speak to nobody else.

Without Chromium these tests skip and say so; with RANGEWRIGHT_REQUIRE_BROWSER=1 they fail instead.
"""

import os
import shutil
import socket
import threading
import time
from contextlib import closing, contextmanager

import pytest
import uvicorn

from service.web.app import create_app
from service.web.settings import Settings

LONGEST_START_S = 120  # compiling on a slow machine


def pytest_collection_modifyitems(items):
    for item in items:
        if item.path.parent.name == "pages":
            item.add_marker(pytest.mark.browser)


@contextmanager
def listening(folder, **more):
    """The service on a free port, with a store in that folder; where it answers."""
    with closing(socket.socket()) as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    settings = Settings(port=port, database=str(folder / "sheets.sqlite3"), **more)
    server = uvicorn.Server(uvicorn.Config(create_app(settings), port=port, log_level="warning"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    deadline = time.monotonic() + LONGEST_START_S
    while not server.started and thread.is_alive() and time.monotonic() < deadline:
        time.sleep(0.05)
    assert server.started, "the service did not start"
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="session")
def base_url(tmp_path_factory):
    """The service, listening on this machine."""
    with listening(tmp_path_factory.mktemp("kept")) as address:
        yield address


@pytest.fixture(scope="session")
def public_url(tmp_path_factory):
    """Another one, which others reach under a name."""
    with listening(tmp_path_factory.mktemp("public"), public_url="https://depot.example.org/range") as address:
        yield address


@pytest.fixture(scope="module")  # its event loop must be gone when other rooms start theirs
def browser():
    """Headless Chromium of the machine."""
    binary = shutil.which("chromium") or shutil.which("chromium-browser")
    if binary is None:
        if os.environ.get("RANGEWRIGHT_REQUIRE_BROWSER") == "1":
            pytest.fail("RANGEWRIGHT_REQUIRE_BROWSER=1, but there is no chromium on this machine")
        pytest.skip("no chromium on this machine: the pages are not looked at")
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright comes with the extra named test")
    with playwright.sync_playwright() as engine:
        arguments = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
        chromium = engine.chromium.launch(executable_path=binary, args=arguments)
        yield chromium
        chromium.close()


@pytest.fixture
def open_page(browser, base_url):
    """Opens an address; `page.complaints` holds console errors and requests to anyone but the service."""
    contexts = []

    def go(address="/", width=1280, height=800, base=base_url, **options):
        context = browser.new_context(viewport={"width": width, "height": height}, **options)
        contexts.append(context)
        page = context.new_page()
        page.complaints = []
        page.on("console", lambda message: message.type == "error" and page.complaints.append(message.text))
        page.on("pageerror", lambda error: page.complaints.append(str(error)))
        page.on("request", lambda request: _watch(page, request.url, base))
        page.goto(base + address)
        return page

    yield go
    for context in contexts:
        context.close()


def _watch(page, url, base_url):
    if not url.startswith((base_url, "data:")):
        page.complaints.append(f"asked for {url}")
