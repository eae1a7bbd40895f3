"""Keeping a sheet in a browser: with and without script, on desk, phone and paper."""

import re

import pytest

WIDTHS = [360, 1280]


def keep(page, note="", days=""):
    page.fill("#keep-note", note)
    page.select_option("#keep-days", days)
    page.click("form.keep button")
    page.wait_for_url("**/sheets/*")


@pytest.mark.parametrize("script", [True, False])
def test_the_shown_answer_is_kept_under_a_number_and_a_link(open_page, script):
    page = open_page("/?temperature=-11", java_script_enabled=script)
    headline = page.locator("h1").inner_text()
    keep(page, "blue one", "90")
    assert page.locator("h1").inner_text() == headline
    assert re.search(r"\d{4}-\d{4}", page.locator("#change").inner_text())
    assert "blue one" in page.locator("#change").inner_text()
    assert page.complaints == []


def test_an_answer_that_refreshed_in_place_is_the_one_that_is_kept(open_page):
    page = open_page("/")
    before = page.locator("h1").inner_text()
    page.locator("#group-day > summary").click()
    page.fill("#temperature", "25")
    page.press("#temperature", "Tab")
    page.wait_for_function("before => document.querySelector('h1').innerText !== before", arg=before)
    headline = page.locator("h1").inner_text()
    keep(page)
    assert page.locator("h1").inner_text() == headline


def test_a_sheet_is_found_by_its_number_and_deleted(open_page):
    page = open_page("/")
    keep(page, "to be found")
    number = page.locator("#change dd").first.inner_text()
    link = page.url
    page.click("text=Kept sheets")
    page.fill("#reference", number.replace("-", " "))
    page.click("text=Find")
    page.click(f"table >> text={number}")
    assert page.url == link
    page.click("text=Delete this sheet for good")
    assert page.locator("h1").inner_text() == "The sheet is deleted"
    assert page.goto(link).status == 404
    assert page.locator("h1").inner_text() == "There is no such sheet"


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_scrolls_sideways_and_axe_finds_nothing(open_page, width):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe comes with the extra named test")
    page = open_page("/", width=width, bypass_csp=True)  # axe is injected by the test
    keep(page, "x" * 200)
    for address in (page.url, "/sheets", "/sheets?reference=12", "/sheets/none"):
        page.goto(address if "://" in address else re.match(r"http://[^/]+", page.url).group() + address)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        results = axe.Axe().run(page)
        assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize("address", ["/", "/?units=us&vehicle=family-suv-plug-in"])
def test_a_kept_sheet_prints_on_one_page_with_its_number(open_page, tmp_path, address, sheet):
    page = open_page(address)
    keep(page, "x" * 200)
    file = tmp_path / "sheet.pdf"
    page.pdf(path=file, format=sheet)
    assert len(re.findall(rb"/Type\s*/Page\b", file.read_bytes())) == 1
    page.emulate_media(media="print")
    assert page.locator(".number-line").is_visible()
    assert not page.locator("#change").is_visible()


def test_the_button_is_not_printed(open_page):
    page = open_page("/")
    page.emulate_media(media="print")
    assert not page.locator("form.keep").is_visible()
