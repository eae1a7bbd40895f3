"""The other two pages of the house, as their users see them."""

import re

import pytest

PAGES = ("/routes", "/complaint")


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("address", PAGES)
def test_the_first_screen_answers_quietly_and_fits(open_page, address, width):
    page = open_page(address, width=width)
    assert page.locator("h1").first.inner_text().endswith(".")
    assert page.complaints == []
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


@pytest.mark.parametrize("address", PAGES)
def test_axe_finds_nothing(open_page, address):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe comes with the extra named test")
    page = open_page(address, bypass_csp=True)  # axe is injected by the test
    results = axe.Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize("address", PAGES)
def test_it_prints_on_one_page(open_page, tmp_path, address, sheet):
    page = open_page(address)
    file = tmp_path / "sheet.pdf"
    page.pdf(path=file, format=sheet)
    assert len(re.findall(rb"/Type\s*/Page\b", file.read_bytes())) == 1


@pytest.mark.parametrize("address", ["/", *PAGES])
def test_every_page_leads_to_the_other_two(open_page, address):
    page = open_page(address)
    paths = {link.get_attribute("href").partition("?")[0] for link in page.locator(".mast a").all()}
    assert {"/", *PAGES} - {address} <= paths


@pytest.mark.parametrize("address", PAGES)
def test_it_answers_without_javascript(open_page, address):
    page = open_page(address, java_script_enabled=False)
    assert page.locator("h1").first.inner_text()
