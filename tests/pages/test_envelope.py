"""The electric side's page as its users see it: desk, phone and paper."""

import re

import pytest

WIDTHS = [360, 1280]
ADDRESSES = (
    "/envelope",
    "/envelope?journey=us06&temperature=20",
    "/envelope?units=us&vehicle=large-electric-suv",
    "/envelope?vehicle=family-suv-plug-in&temperature=-20",
)
BAD = "/envelope?vehicle=own&own_mass=1500&own_consumption=16&own_usable=10&own_kind=phev&own_ring=20&temperature=300"
OUTSIDE = """() => [...document.querySelectorAll('svg.ruler')]
    .filter(svg => svg.getBoundingClientRect().width).flatMap(svg =>
    [...svg.querySelectorAll('text')].filter(text => { const box = text.getBBox(), view = svg.viewBox.baseVal;
        return box.x < -1 || box.x + box.width > view.width + 1; }).map(text => text.textContent))"""


def opened(page):
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    return page


@pytest.mark.parametrize("width", WIDTHS)
def test_the_first_screen_answers_quietly(open_page, width):
    page = open_page("/envelope", width=width, height=740)
    assert page.locator("h1").inner_text().endswith(".")
    ruler = page.locator("svg.ruler:visible").first.bounding_box()
    assert ruler["y"] + ruler["height"] <= 740
    assert page.complaints == []


@pytest.mark.parametrize("width", [*WIDTHS, 768])
@pytest.mark.parametrize("address", [*ADDRESSES, BAD])
def test_nothing_scrolls_sideways_or_sticks_out(open_page, address, width):
    page = opened(open_page(address, width=width))
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate(OUTSIDE) == []


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("address", [ADDRESSES[0], BAD])
def test_axe_finds_nothing(open_page, address, width):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe comes with the extra named test")
    page = opened(open_page(address, width=width, bypass_csp=True))  # axe is injected by the test
    results = axe.Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize("address", ADDRESSES)
def test_it_prints_on_one_page(open_page, tmp_path, address, sheet):
    page = open_page(address)
    page.pdf(path=tmp_path / "sheet.pdf", format=sheet)
    assert len(re.findall(rb"/Type\s*/Page\b", (tmp_path / "sheet.pdf").read_bytes())) == 1


def test_paper_holds_answer_assumptions_and_cautions_but_no_form(open_page):
    page = open_page("/envelope")
    page.emulate_media(media="print")
    for part in ("#headline", ".assumptions .small", ".cautions", ".stamp"):
        assert page.locator(part).is_visible()
    assert not page.locator("#change").is_visible()
    smallest = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('main *')].filter(e => e.getClientRects().length
            && !e.closest('svg') && e.textContent.trim()).map(e => parseFloat(getComputedStyle(e).fontSize)))"""
    )
    assert smallest >= 8 * 96 / 72 - 0.01  # 8 pt


def test_an_answer_of_a_car_with_an_engine_leads_here_and_the_question_follows(open_page):
    page = open_page("/?temperature=20")
    page.locator('#answer a[data-carry="/envelope"]').click()
    page.locator("#headline").wait_for()
    assert "135" in page.locator("h1").inner_text()
    page.locator("#group-car > summary").click()
    page.locator("#vehicle").select_option("mid-electric-sedan")
    page.locator("h1", has_text="This car holds").wait_for()
    assert page.complaints == []
    page.go_back()
    bev = open_page("/?vehicle=mid-electric-sedan")
    assert bev.locator('#answer a[data-carry="/envelope"]').count() == 0
    assert (
        bev.locator('footer a[data-carry="/envelope"]').get_attribute("href") == "/envelope?vehicle=mid-electric-sedan"
    )
