"""An own car from its label on the page: what was found is listed, and what contradicts stands beside its input."""

import pytest

OWN = {"vehicle": "own", "own_road_load": "label"}
WINDOW = {
    "units": "us",
    "own_label": "us",
    "own_consumption": "28",
    "own_range": "250",
    "own_size": "medium",
    "own_hours": "9.5",
}
BROCHURE = {
    "own_label": "wltp",
    "own_consumption": "15,8",
    "own_range": "415",
    "own_mass": "1750",
    "own_usable": "59",
    "own_charger": "11",
}
PLUG_IN = {"own_kind": "phev", "own_label": "wltp", "own_consumption": "18,2", "own_range": "70", "own_electric": "66"}
APART = {"units": "us", "own_label": "us", "own_city": "27", "own_highway": "29", "own_range": "245"}
PHASES = {"own_low": "12,9", "own_medium": "13,1", "own_high": "14,4", "own_extra_high": "19,6"}


@pytest.mark.parametrize(
    ("given", "listed"),
    [
        (WINDOW, "Usable energy of the battery"),
        (BROCHURE, "Losses of the onboard charger over typical ones"),
        (PLUG_IN, "Usable energy of the battery"),
        (APART, "Kerb mass"),
        (BROCHURE | PHASES, "Drag area"),
    ],
)
def test_a_label_as_a_salesperson_has_it_is_answered(ask, given, listed):
    reply = ask("GET", "/", params=OWN | given)
    assert reply.status_code == 200
    assert f'<th scope="row">{listed}</th>' in reply.text
    assert "fitted to the label" in reply.text
    assert "plausible" in reply.text


@pytest.mark.parametrize(
    ("given", "at"),
    [
        (WINDOW | {"own_range": "400", "own_usable": "60"}, "own_range"),
        (APART | {"own_city": "34", "own_highway": "21"}, "own_highway"),
        (BROCHURE | {"own_consumption": "60"}, "own_range"),
        (WINDOW | {"own_hours": "2", "own_charger": "7"}, "own_hours"),
        (PLUG_IN | {"own_electric": "90"}, "own_electric"),
        (WINDOW | {"own_range": ""}, "own_usable"),
        (WINDOW | {"own_consumption": "9"}, "own_consumption"),
    ],
)
def test_what_contradicts_stands_beside_its_input(ask, given, at):
    reply = ask("GET", "/", params=OWN | given)
    assert reply.status_code == 422
    assert f'href="#{at}"' in reply.text


def test_the_label_comes_first_and_in_the_readers_units(ask):
    text = ask("GET", "/", params=OWN | WINDOW).text
    assert text.index('id="own_consumption"') < text.index('id="own_mass"') < text.index('id="own_cd_a"')
    assert "kWh/100 miles" in text
    assert "A car of your own, from the label" in text
    again = ask("GET", "/", params=OWN | WINDOW | {"typed_units": "us", "units": "metric"}).text
    assert 'name="own_range" type="text" inputmode="decimal" autocomplete="off" value="402.3"' in again


def test_the_fleet_page_takes_a_label_too(ask):
    own = BROCHURE | {"vehicles": "own", "own_name": "Pool car", "own_road_load": "label"}
    table = "route,distance_km,speed_km_h\nTown,20,40\n"
    reply = ask("POST", "/routes", data=own | {"table": table, "months_by": "place", "place": "oslo"})
    assert reply.status_code == 200
    assert "Pool car" in reply.text
