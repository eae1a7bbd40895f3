"""Keeping a sheet in a browser: with and without script, on desk, phone and paper."""

import re

import pytest

WIDTHS = [360, 1280]
OTHERS = {  # address → an input that moves its answer, and what is typed there
    "/year": ("leg2_distance", "40"),
    "/speeds": ("payload", "400"),
    "/charging": ("to_pct", "60"),
    "/plan": ("charge_from", "60"),
    "/complaint": ("reported", "12"),
    "/envelope": ("temperature", "25"),
}


PUBLIC = (  # sheets that are nearly full
    "/routes?vehicles=compact-plug-in&vehicles=family-suv-plug-in&place=whitehorse",
    "/complaint?climate=&temperature=&reported=36",
    "/year?units=us&vehicle=family-suv-plug-in",
)


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


@pytest.mark.parametrize("address", OTHERS)
def test_every_page_keeps_what_it_shows_after_a_change_in_place(open_page, address):
    page = open_page(address)
    first = page.locator("#answer .first")
    before, (name, typed) = first.inner_text(), OTHERS[address]
    page.evaluate("for (const fold of document.querySelectorAll('#change details')) fold.open = true")
    page.fill(f"#{name}", typed)
    page.press(f"#{name}", "Tab")
    page.wait_for_function(
        "before => !document.querySelector('#answer[aria-busy]') "
        "&& document.querySelector('#answer .first').innerText !== before",
        arg=before,
    )
    shown = first.inner_text()
    keep(page, "changed")
    assert first.inner_text() == shown
    page.click("text=Ask the same question today")
    page.wait_for_url(f"**{address}?*")
    assert first.inner_text() == shown
    assert page.complaints == []


@pytest.mark.parametrize("script", [True, False])
def test_a_comparison_is_kept_with_the_table_that_was_sent(open_page, script):
    page = open_page("/routes", java_script_enabled=script)
    page.evaluate("for (const fold of document.querySelectorAll('#change details')) fold.open = true")
    page.fill("#table", "route,distance_km,speed_km_h\nTo the lighthouse,240,70")
    page.click("text=Compare the routes")
    shown = page.locator("#answer .first").inner_text()
    assert "To the lighthouse" in page.locator("#answer").inner_text()
    page.evaluate("document.querySelector('#table').value = 'typed later, and not sent'")
    keep(page)
    assert page.locator("#answer .first").inner_text() == shown
    page.click("text=Ask the same question today")
    assert page.locator("#answer .first").inner_text() == shown
    assert "To the lighthouse,240,70" in page.locator("#table").input_value()


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
@pytest.mark.parametrize("address", ["/", "/?units=us&vehicle=family-suv-plug-in", "/routes", *OTHERS])
def test_a_kept_sheet_prints_on_one_page_with_its_number(open_page, tmp_path, address, sheet):
    page = open_page(address)
    keep(page, "x" * 200)
    file = tmp_path / "sheet.pdf"
    page.pdf(path=file, format=sheet)
    assert len(re.findall(rb"/Type\s*/Page\b", file.read_bytes())) == 1
    page.emulate_media(media="print")
    assert page.locator(".number-line").is_visible()
    assert not page.locator("#change").is_visible()
    assert page.locator(".address, .share").count() == 0  # nobody said where others reach the service


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize("address", ["/", *PUBLIC, *OTHERS])
def test_where_others_reach_it_the_paper_has_address_and_code_on_the_same_page(
    open_page, public_url, tmp_path, address, sheet
):
    page = open_page(address, base=public_url)
    keep(page, "x" * 200)
    path = page.url.removeprefix(public_url)
    assert not page.locator(".share").is_visible()
    file = tmp_path / "sheet.pdf"
    page.pdf(path=file, format=sheet)
    assert len(re.findall(rb"/Type\s*/Page\b", file.read_bytes())) == 1
    page.emulate_media(media="print")
    assert page.locator(".address").inner_text() == "https://depot.example.org/range" + path
    code = page.locator(".share svg").bounding_box()
    assert code["width"] == pytest.approx(code["height"]) == pytest.approx(21 / 25.4 * 96, rel=0.01)  # mm on paper
    assert page.complaints == []


def test_the_button_is_not_printed(open_page):
    page = open_page("/")
    page.emulate_media(media="print")
    assert not page.locator("form.keep").is_visible()
