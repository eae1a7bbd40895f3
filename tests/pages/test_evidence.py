"""The evidence page at the desk, on a phone, on paper."""

import re

import pytest

WIDTHS = [360, 768, 1280]
STICKS_OUT = """() => [...document.querySelectorAll('.checks th, .checks td')]
    .filter(cell => cell.scrollWidth > cell.clientWidth + 1).map(cell => cell.textContent)"""


def opened(page):
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    return page


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_scrolls_sideways_or_sticks_out(open_page, width):
    page = opened(open_page("/evidence", width=width))
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate(STICKS_OUT) == []
    assert page.complaints == []


@pytest.mark.parametrize("width", [360, 1280])
def test_axe_finds_nothing(open_page, width):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe comes with the extra named test")
    page = opened(open_page("/evidence", width=width, bypass_csp=True))  # axe is injected by the test
    results = axe.Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
def test_it_prints_on_one_page(open_page, tmp_path, sheet):
    file = tmp_path / "sheet.pdf"
    open_page("/evidence").pdf(path=file, format=sheet)
    assert len(re.findall(rb"/Type\s*/Page\b", file.read_bytes())) == 1


def test_misses_are_on_the_first_screen_and_subjects_unfold(open_page):
    page = open_page("/evidence", java_script_enabled=False)
    assert page.locator("h2").first.inner_text() == "What does not agree"
    assert page.locator(".checks b", has_text="outside").first.is_visible()
    fold = page.locator("details", has_text="Air density")
    assert not fold.locator("table").is_visible()
    fold.locator("summary").click()
    assert fold.locator("table").is_visible()


def test_the_skip_link_leads_to_the_subjects(open_page):
    page = open_page("/evidence")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.tagName") == "SUMMARY"


def test_the_page_is_light(open_page):
    sizes = []
    page = open_page("/healthz")
    page.on("response", lambda reply: sizes.append(len(reply.body())))
    page.goto(page.url.removesuffix("/healthz") + "/evidence")
    assert sum(sizes) <= 100_000


def test_a_question_survives_a_look_at_the_evidence(open_page):
    page = open_page("/evidence?vehicle=small-electric-hatch&temperature=-12")
    page.locator('.links a[data-carry="/"]').click()
    assert page.locator("#temperature").input_value() == "-12"
