"""The page in a browser: the answer on the first screen, with and without JavaScript, on paper, for everyone."""

import re

import pytest

OVERLAPS = """() => {
    const shown = [...document.querySelectorAll("svg.ruler")].filter((svg) => svg.getBoundingClientRect().width);
    return shown.flatMap((svg) => {
        const boxes = [...svg.querySelectorAll("text")].map((text) => [text.textContent, text.getBBox()]);
        const view = svg.viewBox.baseVal, found = [];
        boxes.forEach(([one, a], i) => {
            if (a.x < -1 || a.x + a.width > view.width + 1 || a.y + a.height > view.height + 4) found.push(one);
            boxes.slice(i + 1).forEach(([other, b]) => {
                const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
                const down = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
                if (across > 0 && down > 3) found.push(`${one} | ${other}`);
            });
        });
        return found;
    });
}"""  # texts of a drawing that stick out of it or lie on one another
OWN = "&own_mass=1500&own_road_load=parts&own_cd_a=0.65&own_crr=0.009&own_usable=20"  # invented
WIDTHS = [1280, 360]
BAD = "/?temperature=300&leg1_distance=abc&vehicle=compact-plug-in"


def headline(page):
    return page.locator("h1").inner_text().replace("\u00a0", " ").replace("\u2212", "-")


@pytest.mark.parametrize("width", WIDTHS)
def test_the_first_screen_answers(open_page, width):
    page = open_page(width=width, height=740)
    assert re.fullmatch(r"At -5 °C, nine days in ten you get at least \d+ km on electricity\.", headline(page))
    ruler = page.locator("svg.ruler:visible").first.bounding_box()
    assert ruler["y"] + ruler["height"] <= 740
    assert page.complaints == []


@pytest.mark.parametrize("width", [*WIDTHS, 768])
@pytest.mark.parametrize("address", ["/", "/?units=us", "/?vehicle=mid-electric-sedan&circuit=na-household-15a", BAD])
def test_nothing_scrolls_sideways(open_page, width, address):
    page = open_page(address, width=width)
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize(
    "address", ["/", "/?units=us&temperature=95", "/?vehicle=large-electric-suv&leg2_distance=200"]
)
def test_labels_of_the_drawings_do_not_overlap(open_page, address, width):
    page = open_page(address, width=width)
    overlaps = page.evaluate(OVERLAPS)
    assert overlaps == []


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("address", ["/", BAD])
def test_axe_finds_nothing(open_page, address, width):
    axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe comes with the extra named test")
    page = open_page(address, width=width, bypass_csp=True)  # axe is injected by the test
    page.evaluate("document.querySelectorAll('details').forEach(fold => { fold.open = true })")
    results = axe.Axe().run(page)
    assert results.violations_count == 0, results.generate_report()


def test_an_answer_refreshes_in_place_and_keeps_focus_and_address(open_page):
    page = open_page()
    before = headline(page)
    page.evaluate("window.unbroken = true")
    page.locator("#group-day > summary").click()
    page.locator("#temperature").fill("20")
    page.locator("#temperature").press("Tab")
    page.locator("h1", has_text="At 20").wait_for()
    assert headline(page) != before
    assert page.evaluate("window.unbroken")  # no new page was loaded
    assert page.evaluate("document.activeElement.id") == "surface"
    assert "temperature=20" in page.url
    assert "20" in page.locator("#now-day").inner_text()
    assert "temperature=20" in page.locator("#as-json").get_attribute("href")
    assert page.complaints == []
    page.reload()
    assert headline(page).startswith("At 20 °C")


def test_sending_the_form_on_a_phone_leads_back_to_the_answer(open_page):
    api = pytest.importorskip("playwright.sync_api")
    page = open_page(width=360, height=740)
    button = page.get_by_role("button", name="Show the answer")
    button.scroll_into_view_if_needed()
    api.expect(page.locator("#headline")).not_to_be_in_viewport()
    button.click()
    api.expect(page.locator("#headline")).to_be_in_viewport()


def test_a_bad_entry_is_told_in_place_and_mended_in_place(open_page):
    page = open_page()
    page.locator("#group-day > summary").click()
    page.locator("#temperature").fill("300")
    page.locator("#temperature").press("Tab")
    page.locator("#faults").wait_for()
    assert page.locator("#temperature").get_attribute("aria-invalid") == "true"
    assert "300" in page.locator("#temperature-error").inner_text()
    page.locator("#faults a").first.click()
    assert page.evaluate("document.activeElement.id") == "temperature"
    page.locator("#temperature").fill("0")
    page.locator("#temperature").press("Tab")
    page.locator("#headline").wait_for()
    assert page.locator("#temperature").get_attribute("aria-invalid") is None
    assert page.locator("#temperature-error").inner_text() == ""


def test_when_refreshing_fails_the_form_is_sent(open_page):
    page = open_page()
    page.route("**/quote-part**", lambda route: route.abort())
    page.locator("#group-day > summary").click()
    page.locator("#temperature").fill("10")
    with page.expect_navigation():
        page.locator("#temperature").press("Tab")
    assert headline(page).startswith("At 10 °C")


def test_without_javascript_the_form_works(open_page):
    page = open_page(java_script_enabled=False)
    page.locator("#group-day > summary").click()
    page.locator("#temperature").fill("30")
    page.get_by_role("button", name="Show the answer").click()
    assert headline(page).startswith("At 30 °C")
    assert "temperature=30" in page.url


def test_errors_keep_what_was_typed_without_javascript(open_page):
    page = open_page(BAD, java_script_enabled=False)
    assert page.locator("#temperature").input_value() == "300"
    assert page.locator("#leg1_distance").input_value() == "abc"
    assert page.locator("#faults li").count() == 2
    targets = [link.get_attribute("href") for link in page.locator("#faults a").all()]
    assert set(targets) == {"#temperature", "#leg1_distance"}
    assert page.locator("#temperature").is_visible()  # its group is unfolded
    assert page.locator("#temperature-error").inner_text() in page.locator("#faults").inner_text()


def test_switching_units_converts_what_was_typed(open_page):
    page = open_page()
    page.locator("#group-units > summary").click()
    with page.expect_navigation():
        page.locator("#units").select_option("us")
    assert re.search(r"At 23 °F, .* \d+ mi ", headline(page))
    assert float(page.locator("#temperature").input_value()) == pytest.approx(23)
    assert page.locator("label[for=temperature]").text_content().endswith("(°F)")


def test_a_car_of_ones_own_by_its_figures(open_page):
    page = open_page("/?vehicle=own&own_kind=bev" + OWN)
    assert re.search(r"at least \d+ km on one charge", headline(page))
    label = "&own_road_load=label&own_label=us&own_consumption=18"
    page = open_page("/?vehicle=own&own_kind=bev&own_mass=1500&own_usable=40" + label)
    assert re.search(r"at least \d+ km on one charge", headline(page))
    page = open_page("/?vehicle=own")
    assert page.locator("#own_consumption").is_visible()
    assert page.locator("#own_consumption").get_attribute("aria-invalid") == "true"
    assert page.locator("#own_mass").get_attribute("aria-invalid") is None  # a label may leave it open


def test_choosing_an_own_car_unfolds_its_figures(open_page):
    page = open_page()
    page.locator("#group-car > summary").click()
    page.locator("#vehicle").select_option("own")
    assert page.locator("#own_mass").is_visible()
    assert page.locator("#headline").is_visible()  # the old answer stays until there is a new one


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize(
    "address",
    [
        "/",
        "/?vehicle=mid-electric-sedan&temperature=-15&surface=snow",
        "/?vehicle=family-suv-plug-in&units=us",
        "/?temperature=34",
    ],
)
def test_it_prints_on_one_page(open_page, tmp_path, address, sheet):
    page = open_page(address)
    file = tmp_path / "sheet.pdf"
    page.pdf(path=file, format=sheet)
    pages = re.findall(rb"/Type\s*/Page\b", file.read_bytes())
    assert len(pages) == 1


def test_paper_holds_answer_assumptions_and_cautions_but_no_form(open_page):
    page = open_page()
    page.emulate_media(media="print")
    for part in ("#headline", ".assumptions .small", ".cautions", ".stamp"):
        assert page.locator(part).is_visible()
    assert not page.locator("#change").is_visible()
    assert not page.locator("footer").is_visible()
    smallest = page.evaluate(
        """() => Math.min(...[...document.querySelectorAll('main *')].filter(e => e.getClientRects().length
            && !e.closest('svg') && e.textContent.trim()).map(e => parseFloat(getComputedStyle(e).fontSize)))"""
    )
    assert smallest >= 8 * 96 / 72 - 0.01  # 8 pt


@pytest.mark.parametrize("address", ["/", "/?vehicle=large-electric-suv&journey=udds"])
def test_the_page_is_light(open_page, address):
    sizes = []
    page = open_page("/healthz")
    page.on("response", lambda reply: sizes.append(len(reply.body())))
    page.goto(page.url.removesuffix("/healthz") + address)
    assert sum(sizes) <= 100_000


def test_the_json_twin_says_the_same(open_page):
    page = open_page()
    reply = page.request.get(page.url.rstrip("/") + "/quote.json")
    said = int(re.search(r"at least (\d+) km", headline(page)).group(1))
    assert round(reply.json()["range_km"]["p10"]) == said
    bad = page.request.get(page.url.rstrip("/") + "/quote.json?temperature=300")
    assert bad.status == 422
    assert bad.json()["errors"][0]["field"] == "temperature"
