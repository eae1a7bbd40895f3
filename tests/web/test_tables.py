"""Every table that comes as CSV comes as a workbook, too, with the same cells: by programs and from the pages."""

import csv
import io

import openpyxl
import pytest

from service.web.files import WORKBOOK

CAR = {"vehicle": {"id": "small-electric-hatch"}}
ROUTE = {"name": "=Harbour", "journey": {"legs": [{"distance_km": 12, "speed_km_h": 40}]}}
CHARGE = {"from_pct": 20, "to_pct": 80}
NIGHT = CHARGE | {"arrives": "2026-11-25T18:00:00+01:00", "departs": "2026-11-26T07:00:00+01:00"}
ASKED = [
    ("/api/speed-tables", CAR | {"speeds_km_h": [50], "temperatures_c": [0, 20]}),
    ("/api/charging-sessions", CAR | CHARGE | {"circuit": {"id": "eu-household-10a"}, "pack_temperature_c": 20}),
    ("/api/charging-plans", CAR | NIGHT | {"circuit": {"id": "eu-household-10a"}, "tariff": {"id": "night-price-eur"}}),
    ("/api/comparisons", {"vehicles": [CAR["vehicle"]], "routes": [ROUTE], "place": "oslo"}),
]


def cells_of(content):
    sheet = openpyxl.load_workbook(io.BytesIO(content)).active
    return [list(row) for row in sheet.iter_rows(values_only=True)]


def same(cell, text):
    """A cell of the workbook and the CSV's text of it; an apostrophe keeps texts from being formulas there only."""
    if isinstance(cell, bool):
        return text == str(cell)
    if isinstance(cell, int | float):
        return float(text) == pytest.approx(cell)
    return (cell or "") == text.removeprefix("'")


@pytest.mark.parametrize(("path", "question"), ASKED)
def test_programs_get_the_same_cells_in_both(ask, path, question):
    text = ask("POST", f"{path}?format=csv", json=question)
    named = ask("POST", f"{path}?format=xlsx", json=question)
    accepted = ask("POST", path, json=question, headers={"accept": f"{WORKBOOK}, */*"})
    assert named.status_code == accepted.status_code == 200
    assert named.headers["content-type"] == accepted.headers["content-type"] == WORKBOOK
    assert named.headers["content-disposition"].endswith('.xlsx"')
    rows = list(csv.reader(io.StringIO(text.text)))
    cells = cells_of(named.content)
    assert len(cells) == len(rows) > 1
    for read, written in zip(cells, rows, strict=True):
        assert all(same(cell, text) for cell, text in zip(read, written, strict=True))


@pytest.mark.parametrize("path", ["/speeds", "/charging", "/plan"])
def test_pages_offer_it_beside_the_csv(ask, path):
    assert f'formaction="{path}.xlsx"' in ask("GET", path).text
    reply = ask("GET", f"{path}.xlsx")
    assert reply.headers["content-type"] == WORKBOOK
    rows = list(csv.reader(io.StringIO(ask("GET", f"{path}.csv").text)))
    assert cells_of(reply.content)[0] == rows[0]


def test_routes_are_sent_as_a_workbook(ask):
    form = {"typed_units": "metric", "vehicles": "electric-delivery-van", "months_by": "temperatures", "cold": "-10",
            "table": "route,distance_km,speed_km_h\nNorth,40,60\n"}  # fmt: skip
    assert 'formaction="/routes.xlsx"' in ask("GET", "/routes").text
    reply = ask("POST", "/routes.xlsx", data=form)
    assert reply.headers["content-type"] == WORKBOOK
    assert cells_of(reply.content)[1][0] == "North"
    assert ask("POST", "/routes.xlsx", data=form | {"reserve": "far"}).status_code == 422
