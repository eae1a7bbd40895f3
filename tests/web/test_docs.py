"""The description page works from this machine alone, under the strict policy."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
CHROMIUM = shutil.which("chromium")


def test_only_what_the_page_needs_is_served(ask):
    page = ask("GET", "/docs")
    assert page.headers["content-type"].startswith("text/html")
    for part in re.findall(r'(?:src|href)="(/[^"]+)"', page.text):
        assert ask("GET", part).status_code == 200
    assert ask("GET", "/docs/index.html").status_code == 404
    assert ask("GET", "/docs/..%2f__init__.py").status_code == 404


@pytest.fixture
def address():
    """A server of our own, on a free port."""
    environment = os.environ | {"PYTHONPATH": str(ROOT), "RANGEWRIGHT_PORT": "0"}
    command = [sys.executable, "-m", "service"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as server:
        try:
            yield re.search(r"http://\S+", server.stdout.readline()).group()
        finally:
            server.terminate()


@pytest.mark.browser
@pytest.mark.skipif(CHROMIUM is None, reason="needs Debian's chromium on the machine")
def test_the_page_shows_and_sends_without_a_word_on_the_console(address):
    sync_api = pytest.importorskip("playwright.sync_api", reason="needs playwright")
    said, asked = [], []
    with sync_api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        page = browser.new_page()
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(f"{address}/docs")
        page.click(".opblock-post .opblock-summary")
        page.click(".try-out__btn")
        page.click(".execute")  # sends the first example
        page.wait_for_selector(".live-responses-table .response-col_status")
        status = page.inner_text(".live-responses-table .response .response-col_status")
        browser.close()
    assert status.startswith("200")
    assert said == []
    assert all(url.startswith((address, "data:")) for url in asked)
