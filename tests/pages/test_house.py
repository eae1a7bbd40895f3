"""The other pages of the house, as their users see them: desk, phone and paper, with and without script."""

import re
from urllib.parse import parse_qs, urlsplit

import pytest

PAGES = ("/routes", "/complaint", "/year", "/speeds", "/charging", "/plan")
WIDTHS = [360, 1280]
BAD = {
    "/year": "/year?year_by=typed&lows=x&highs=1&weeks=99&fuel_price=-1",
    "/complaint": "/complaint?reported=far&tyre_pressure=2.2&temperature=300",
    "/routes": "/routes?reserve=-1&months_by=temperatures&cold=-90"
    "&table=route,distance_km,speed_km_h%0ANorth,40,60%0ASouth,x,y",
    "/speeds": "/speeds?trip_speed=900&wind=x&set_point=99",
    "/plan": "/plan?tariff=own&tariff_table=from,to,price_per_kwh%0A00:00,12:00,-1&arrives=tonight&charge_from=200",
    "/charging": "/charging?from_pct=x&to_pct=101&pack_temperature=99&run_length=900&station_amps=1&current_kind=dc",
}
OTHERS = (
    "/routes?units=us",
    "/routes?vehicles=compact-plug-in&vehicles=family-suv-plug-in&place=whitehorse",
    "/routes?months_by=temperatures",
    "/complaint?units=us&temperature=95&reported=40",
    "/complaint?typed_units=metric&vehicle=mid-electric-sedan&reported=31",
    "/complaint?climate=&temperature=&reported=36",
    "/year?units=us&vehicle=family-suv-plug-in",
    "/year?vehicle=small-electric-hatch&leg2_distance=70&circuit=na-household-15a&place=yellowknife",
    "/year?vehicle=own&own_kind=phev&own_mass=1700&own_usable=12&own_label=wltp&own_consumption=22&overnight=garage"
    "&year_by=typed&lows=-20 -18 -10 0 5 10 12 10 5 0 -8 -15&highs=-10 -8 0 10 15 20 22 20 15 8 0 -6",
    "/speeds?units=us&vehicle=compact-plug-in",
    "/speeds?vehicle=large-electric-suv&climate=off&surface=snow",
    "/plan?units=us&vehicle=small-electric-hatch&tariff=depot-demand-usd&circuit=na-wall-unit-30a&preconditioned=yes"
    "&temperature=14",
    "/plan?vehicle=mid-electric-sedan&arrives=2026-03-28 18:00&departs=2026-03-30 07:00",
    "/charging?units=us&to_pct=100&vehicle=compact-plug-in&circuit=na-household-15a&temperature=14",
    "/charging?current_kind=dc&from_pct=10&station_amps=300&vehicle=mid-electric-sedan",
    "/charging?circuit=own&circuit_volts=230&circuit_amps=16&circuit_phases=3&phases_live=2&run_length=60"
    "&run_section=2.5&health=70&to_pct=100&vehicle=large-electric-suv&pilot_amps=10",
)
OUTSIDE = """() => [...document.querySelectorAll('svg.ruler')]
    .filter(svg => svg.getBoundingClientRect().width).flatMap(svg =>
    [...svg.querySelectorAll('text')].filter(text => { const box = text.getBBox(), view = svg.viewBox.baseVal;
        return box.x < -1 || box.x + box.width > view.width + 1; }).map(text => text.textContent))"""

COLLIDING = """() => [...document.querySelectorAll('svg.ruler')]
    .filter(svg => svg.getBoundingClientRect().width).flatMap(svg => {
        const boxes = [...svg.querySelectorAll('text')].map(text => [text.textContent, text.getBBox()]);
        return boxes.flatMap(([one, a], i) => boxes.slice(i + 1).filter(([, b]) =>
            Math.min(a.x + a.width, b.x + b.width) > Math.max(a.x, b.x)
            && Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y) > 3)
            .map(([other]) => `${one} | ${other}`));
    })"""


def opened(page):
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    return page


def printed(page, file, sheet):
    page.pdf(path=file, format=sheet)
    return len(re.findall(rb"/Type\s*/Page\b", file.read_bytes()))


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("address", PAGES)
def test_the_first_screen_answers_quietly(open_page, address, width):
    page = open_page(address, width=width, height=740)
    assert page.locator("h1").inner_text().endswith(".")
    ruler = page.locator("svg.ruler:visible").first.bounding_box()
    assert ruler["y"] + ruler["height"] <= 740
    assert page.complaints == []


@pytest.mark.parametrize("width", [*WIDTHS, 768])
@pytest.mark.parametrize("address", [*PAGES, *BAD.values(), *OTHERS])
def test_nothing_scrolls_sideways_or_sticks_out(open_page, address, width):
    page = opened(open_page(address, width=width))
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate(OUTSIDE) == []


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("address", [*PAGES, *BAD.values(), "/complaint?typed_units=metric&temperature=3"])
def test_axe_finds_nothing(open_page, address, width):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe comes with the extra named test")
    page = opened(open_page(address, width=width, bypass_csp=True))  # axe is injected by the test
    results = axe.Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize("address", [*PAGES, *OTHERS])
def test_it_prints_on_one_page(open_page, tmp_path, address, sheet):
    assert printed(open_page(address), tmp_path / "sheet.pdf", sheet) == 1


@pytest.mark.parametrize("address", PAGES)
def test_paper_holds_answer_assumptions_and_cautions_but_no_form(open_page, address):
    page = open_page(address)
    page.emulate_media(media="print")
    for part in ("#headline", ".assumptions .small", ".cautions", ".stamp"):
        assert page.locator(part).is_visible()
    assert not page.locator("#change").is_visible()
    assert not page.locator(".links").is_visible()
    smallest = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('main *')].filter(e => e.getClientRects().length
            && !e.closest('svg') && e.textContent.trim()).map(e => parseFloat(getComputedStyle(e).fontSize)))"""
    )
    assert smallest >= 8 * 96 / 72 - 0.01  # 8 pt


def test_a_sheet_of_a_finding_has_room_for_readings_and_signature(open_page):
    page = open_page("/complaint")
    assert not page.locator(".blanks").is_visible()
    page.emulate_media(media="print")
    assert page.locator(".blanks dt").all_inner_texts()[-1] == "Date, signature"
    assert all(each.bounding_box()["width"] > 100 for each in page.locator(".blanks dd").all())


@pytest.mark.parametrize("address", ["/", *PAGES])
def test_every_page_leads_to_the_others(open_page, address):
    page = open_page(address)
    links = page.locator(".links a")

    assert links.count() == 1 + len(PAGES)
    assert page.locator(".links [aria-current]").get_attribute("data-carry") == address
    for path in {"/", *PAGES} - {address}:
        page.locator(f'.links a[data-carry="{path}"]').click()
        page.locator("#headline").wait_for()
        assert urlsplit(page.url).path == path
        page.go_back()


def test_a_journey_typed_once_is_asked_by_all(open_page):
    page = open_page("/")
    page.locator("#group-journey > summary").click()
    page.locator("#leg2_distance").fill("31")
    page.locator("#leg2_distance").press("Tab")
    page.locator(".question", has_text="68").wait_for(state="attached")  # (3 + 31) km and back
    page.locator('.links a[data-carry="/complaint"]').click()
    assert page.locator("#headline").inner_text() == "How far did it go?"
    assert page.locator("#leg2_distance").input_value() == "31"
    page.locator("#reported").fill("40")
    page.locator("#reported").press("Tab")
    page.locator("h1", has_text="Reported 40").wait_for()
    assert parse_qs(urlsplit(page.url).query)["leg2_distance"] == ["31"]
    page.locator('.links a[data-carry="/routes"]').click()
    assert "31,80" in page.locator("#table").input_value()
    page.locator('.links a[data-carry="/year"]').click()
    assert "34" in page.locator("#now-journey").inner_text()  # each way
    page.locator('.links a[data-carry="/"]').click()
    assert page.locator("#leg2_distance").input_value() == "31"
    assert page.complaints == []


def test_a_complaint_refreshes_in_place(open_page):
    page = open_page("/complaint")
    page.evaluate("window.unbroken = true")
    page.locator("#group-complaint > summary").click()
    page.locator("#reported").fill("45")
    page.locator("#reported").press("Tab")
    page.locator("h1", has_text="Reported 45").wait_for()
    assert page.evaluate("window.unbroken")
    assert "normal" in page.locator("h1").inner_text()
    assert "45" in page.locator("#now-complaint").inner_text()
    assert page.complaints == []
    page.locator("#tyre_pressure").evaluate("input => { input.value = '2.2'; }")
    page.locator("#reported").fill("46")
    page.locator("#reported").press("Tab")
    page.locator("#faults").wait_for()
    assert page.locator("#tyre_pressure").get_attribute("aria-invalid") == "true"
    assert page.locator("#tyre_pressure").is_visible()  # its group is unfolded


def test_a_year_refreshes_in_place(open_page):
    page = open_page("/year")
    page.evaluate("window.unbroken = true")
    before = page.locator("h1").inner_text()
    page.locator("#group-work > summary").click()
    page.locator("#work_charging").select_option("yes")
    page.locator("h1", has_text="On all").wait_for()
    assert page.evaluate("window.unbroken")
    assert page.locator("h1").inner_text() != before
    assert "charged" in page.locator("#now-work").inner_text()
    assert page.complaints == []
    page.locator("#group-place > summary").click()
    page.locator("#year_by").select_option("typed")
    page.locator("#faults").wait_for()
    assert page.locator("#lows").get_attribute("aria-invalid") == "true"
    assert page.locator("#lows").is_visible()


@pytest.mark.parametrize("script", [True, False])
def test_a_table_of_speeds_follows_the_car_that_is_chosen(open_page, script):
    page = open_page("/speeds", java_script_enabled=script)
    before = page.locator("h1").inner_text()
    page.locator("#group-car > summary").click()
    page.locator("#vehicle").select_option("large-electric-suv")
    page.get_by_role("button", name="Show the answer").click()
    page.locator("#now-car", has_text="SUV").wait_for()
    assert page.locator("h1").inner_text() != before
    assert page.locator(".grid").first.locator("tbody tr").count() == 13
    assert page.complaints == []


def test_the_speeds_are_downloaded_as_csv(open_page):
    page = open_page("/speeds", java_script_enabled=False)
    with page.expect_download() as started:
        page.get_by_role("button", name="All of it as CSV").click()
    assert started.value.suggested_filename == "speed-and-weather.csv"


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("address", [each for each in (*PAGES, *OTHERS) if each.startswith(("/speeds", "/charging"))])
def test_names_of_the_lines_do_not_collide(open_page, address, width):
    page = open_page(address, width=width)
    assert page.evaluate(COLLIDING) == []


@pytest.mark.parametrize("script", [True, False])
def test_routes_are_typed_ticked_and_compared(open_page, script):
    page = open_page("/routes", java_script_enabled=script)
    page.locator("#group-routes > summary").click()
    page.locator("#table").fill("route,distance_km,speed_km_h\nHarbour,30,50\nQuarry,400,80\n")
    page.locator("#group-vehicles > summary").click()
    page.get_by_label("Small electric hatchback").check()
    page.get_by_role("button", name="Compare the routes").click()
    page.locator("b", has_text="Quarry").first.wait_for()
    assert page.locator(".line").count() == 2 * 3
    assert page.locator(".line .who").first.inner_text().startswith("Quarry")
    assert "Quarry,400,80" in page.locator("#table").input_value()


def test_every_bad_row_is_told_beside_the_table_and_nothing_typed_is_lost(open_page):
    page = open_page("/routes", java_script_enabled=False)
    page.locator("#group-routes > summary").click()
    table = "route,distance_km,speed_km_h\nHarbour,30,50\nQuarry,far,80\nMill,20,900\n"
    page.locator("#table").fill(table)
    page.get_by_role("button", name="Compare the routes").click()
    rows = page.locator(".rows li").all_inner_texts()
    assert [row.partition(":")[0] for row in rows] == ["row 3, distance_km", "row 4, speed_km_h"]
    assert page.locator("#table").is_visible()
    assert page.locator("#table").input_value() == table
    assert "Harbour" in page.locator(".line").first.inner_text()  # the good route is answered
    assert "Quarry, Mill are left out" in page.locator("#faults").inner_text()


def test_the_cells_are_downloaded(open_page):
    page = open_page("/routes")
    with page.expect_download() as started:
        page.get_by_role("button", name="All of it as CSV").click()
    assert started.value.suggested_filename == "comparison.csv"


@pytest.mark.parametrize("address", PAGES)
def test_it_works_by_keyboard(open_page, address):
    page = open_page(address)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.tagName") == "SUMMARY"
    page.keyboard.press("Enter")
    assert page.locator("#change details[open]").count() == 1


@pytest.mark.parametrize("address", PAGES)
def test_errors_keep_what_was_typed_without_javascript(open_page, address):
    page = open_page(BAD[address], java_script_enabled=False)
    for link in page.locator("#faults a").all():
        target = page.locator(link.get_attribute("href"))
        assert target.is_visible()
        assert target.get_attribute("aria-invalid") == "true"


@pytest.mark.parametrize("address", PAGES)
def test_the_page_is_light(open_page, address):
    replies = []
    page = open_page("/healthz")
    page.on("response", lambda reply: replies.append(reply))
    page.goto(page.url.removesuffix("/healthz") + address)
    page.wait_for_load_state("networkidle")  # a module may come after the page is called loaded
    assert [reply.url for reply in replies if reply.url.endswith(".js")], "its module was not counted"
    assert sum(len(reply.body()) for reply in replies) <= 100_000
