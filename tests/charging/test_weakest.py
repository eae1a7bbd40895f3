"""Who sets the pace, and in which words."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.charging.onboard import charger_row
from service.charging.run import delivered
from service.charging.weakest import LINKS, find_weakest, weakest_of, weakest_sentence
from service.errors import OutOfRange
from service.specs import Battery, BodyAndTyres, Circuit, Kind, MassBasis, Run, Vehicle

OUTLET, WALL_UNIT, OWN = False, True, None


def circuit(volts, amps, phases=1, wall_unit=WALL_UNIT, run=None):
    return Circuit("own", "", "own", volts, amps, phases, run, wall_unit=wall_unit)


@pytest.mark.parametrize(
    ("supply", "charger", "more", "name", "kw", "sentence"),
    [
        # a charger of 3.3 kW behind 32 A at 230 V, 7.36 kW
        (circuit(230, 32), (3300, 1), {}, "onboard_charger", 3.3,
         "The car's own 3.3 kW charger sets the pace, not your 7.4 kW wall unit; "
         "a stronger one will not charge it faster."),
        # 12 A at 120 V is 1.44 kW: 3.3/1.44 = 2.29
        (circuit(120, 12, wall_unit=OUTLET), (3300, 1), {}, "circuit", 1.44,
         "Your 1.4 kW outlet sets the pace, not the car's 3.3 kW charger; "
         "a stronger one could give up to 2.3 times the power."),
        # alike within 1 %: the charger is named, and no other
        (circuit(230, 32), (7360, 1), {}, "onboard_charger", 7.36,
         "The car's own 7.4 kW charger sets the pace; a stronger wall unit will not charge it faster."),
        # three-phase charger on one phase: a third of 11.04 kW
        (circuit(230, 32), (11_040, 3), {}, "onboard_charger", 3.68,
         "The car's own 11 kW charger takes 3.7 kW on one phase and sets the pace, not your 7.4 kW wall unit; "
         "only three phases will charge it faster."),
        # one-phase charger on 3 × 16 A: 3.68 kW of 11.04; 7.4/3.68 = 2.01
        (circuit(230, 16, 3), (7400, 1), {}, "circuit", 3.68,
         "Your 11 kW wall unit gives 3.7 kW on the one phase that the car uses and sets the pace, not the car's 7.4 kW "
         "charger; a stronger one could give up to 2 times the power."),
        # a portable unit set to 8 A at 120 V is 0.96 kW; the outlet behind it gives 1.44 kW, 1.5 times as much
        (circuit(120, 12, wall_unit=OUTLET), (3300, 1), {"station_a": 8}, "supply_equipment", 0.96,
         "The charging unit is set to 8 A, 1 kW, and sets the pace, not your 1.4 kW outlet; "
         "set higher, it could give up to 1.5 times the power."),
        # 680 Ω is a cable of 20 A: 4.6 kW of 7.36
        (circuit(230, 32), (7400, 1), {"coding_ohm": 680}, "cable", 4.6,
         "The cable is made for 20 A, 4.6 kW, and sets the pace, not your 7.4 kW wall unit; "
         "a stronger one could give up to 1.6 times the power."),
        (circuit(230, 32), (7400, 1), {"pack_w": 2500.0, "cold": True}, "pack", 2.5,
         "At this temperature the battery sets the pace: it takes about 2.5 kW of the 7.4 kW it could be given."),
        (circuit(230, 32), (7400, 1), {"pack_w": 5000.0}, "pack", 5.0,
         "The battery itself sets the pace: it takes about 5 kW of the 7.4 kW it could be given."),
        # by its figures nobody knows whether it is an outlet; 3.3 of 3.5 kW is not worth a promise
        (circuit(230, 14.5, wall_unit=OWN), (3500, 1), {}, "circuit", 3.335,
         "Your 3.3 kW circuit sets the pace, not the car's 3.5 kW charger."),
    ],
)  # fmt: skip
def test_the_weakest_link_is_named_in_a_customers_words(supply, charger, more, name, kw, sentence):
    found = find_weakest(supply, *charger, **more)
    assert found.name == name
    assert found.power_w == pytest.approx(1000 * kw)
    assert weakest_sentence(found) == sentence


@settings(deadline=None, derandomize=True, max_examples=200)
@given(
    st.builds(circuit, st.floats(100, 277), st.floats(6, 80), st.integers(1, 3), st.sampled_from([True, False, None])),
    st.floats(1000, 22_000),
    st.integers(1, 3),
    st.one_of(st.none(), st.floats(6, 80)),
    st.sampled_from([None, 100, 220, 680, 1500]),
    st.one_of(st.none(), st.floats(500, 50_000)),
)
def test_the_named_link_is_the_lowest_and_the_rest_are_told(supply, charger_w, phases, station_a, ohm, pack_w):
    found = find_weakest(supply, charger_w, phases, station_a=station_a, coding_ohm=ohm, pack_w=pack_w)
    assert set(found.links_w) <= set(LINKS)
    assert found.power_w == min(found.links_w.values())
    assert found.links_w[found.name] <= 1.01 * found.power_w
    assert found.gain >= 1
    sentence = weakest_sentence(found)
    assert "sets the pace" in sentence
    assert sentence.endswith(".")
    assert "safe" not in sentence


def test_a_long_run_takes_its_part_of_every_link_but_the_charger():
    run = Run(25.0, section_mm2=2.5)
    thin, none = (find_weakest(circuit(230, 16, run=each), 7400, 1, station_a=10) for each in (run, None))
    assert thin.power_w == pytest.approx(delivered(circuit(230, 16, run=run), 1, 10).power_w)
    assert thin.power_w < none.power_w == 2300


def test_no_cable_has_no_coding():
    with pytest.raises(OutOfRange):
        find_weakest(circuit(230, 32), 7400, 1, coding_ohm=10_000)


def link(car, charger_w, amps, pack_k=298.15):
    """The weakest link of a row of a car behind 240 V, and its sentence."""
    battery, road_load = Battery(60e6), BodyAndTyres(0.65, 0.009)
    vehicle = Vehicle(
        "invented", "an invented car", Kind.BEV, 1600, MassBasis.KERB, road_load, battery,
        onboard_charger_w=charger_w, onboard_charger_phases=1,
    )  # fmt: skip
    supply = circuit(240, amps)
    found = weakest_of(vehicle, supply, car, charger_row(vehicle, supply, 0.93, 200.0), pack_k)
    return found.name, weakest_sentence(found)


def test_a_pack_that_takes_less_than_it_is_given_is_named(build):
    # 10 A at 96·3.8 V and the losses before it, of 7.4 kW
    name, sentence = link(build.car(charge_limit_a=10.0)[0], 7400, 40)
    assert name == "pack"
    assert "battery" in sentence


def test_a_cold_pack_is_named_unless_it_is_heated(build):
    cold_k = 258.15
    assert link(build.car()[0], 7400, 40, cold_k)[0] == "pack"
    heated = build.car(pack_heater_w=3000.0, pack_heat_below_k=278.15)[0]
    assert link(heated, 7400, 40, cold_k)[0] == "onboard_charger"


# the charger is named where a stronger outlet would change nothing worth saying: within 1 %
@pytest.mark.parametrize(("amps", "name"), [(29.0, "circuit"), (29.9, "onboard_charger"), (30.0, "onboard_charger")])
def test_an_even_match_counts_as_the_chargers_limit(build, amps, name):
    assert link(build.car()[0], 7200, amps)[0] == name
