"""One session as an answer: closing, warmer and stronger never slower, agreement with the quote, merged curves."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.charging.session import CURVE
from service.errors import BadInput
from service.physics.rows import table
from service.quotes.build import build_quote
from service.quotes.charging_session import SessionAsk, Station, build_session, merged
from service.specs import Ask, Circuit, Journey, Run, Weather
from service.units import KWH_J

steady = settings(deadline=None, derandomize=True, max_examples=40)
CARS = ("compact-plug-in", "small-electric-hatch", "mid-electric-sedan", "large-electric-suv", "electric-delivery-van")
SUPPLIES = st.one_of(
    st.builds(Station, st.floats(10e3, 300e3), st.none() | st.floats(30, 500)),
    st.builds(
        lambda amps, phases, metres: Circuit("o", "", "own", 230, amps, phases, run=metres and Run(metres, 6.0)),
        st.floats(8, 40), st.integers(1, 3), st.none() | st.floats(1, 40),
    ),
)  # fmt: skip
CHARGES = st.tuples(st.floats(0, 0.95), st.floats(0.05, 1)).filter(lambda pair: pair[0] + 0.01 < pair[1])


@steady
@given(st.sampled_from(CARS), SUPPLIES, CHARGES, st.floats(243, 318), st.floats(0.6, 1))
def test_wall_is_stored_and_losses(catalogue, car, supply, charges, pack_k, health):
    found = build_session(
        SessionAsk(catalogue.vehicle(car), supply, *charges, pack_k, min(pack_k, 313.15), health), catalogue
    )
    assert found.stored_j + sum(found.losses_j.values()) == pytest.approx(found.wall_j, rel=1e-9, abs=1e-3)
    assert all(joule >= 0 for joule in found.losses_j.values())
    assert (found.curve.meter_w * found.curve.seconds).sum() == pytest.approx(found.wall_j, rel=1e-9, abs=1e-3)


@steady
@given(st.sampled_from(CARS), SUPPLIES, CHARGES, st.floats(243, 297), st.floats(0.5, 40))
def test_a_warmer_battery_is_never_slower_below_25_degrees(catalogue, car, supply, charges, pack_k, warmer):
    ask = SessionAsk(catalogue.vehicle(car), supply, *charges, pack_k, 273.15)
    warm = replace(ask, pack_k=min(pack_k + warmer, 298.15))
    cold_s, warm_s = (build_session(each, catalogue).seconds for each in (ask, warm))
    assert warm_s <= cold_s * (1 + 2e-3) + 1


@steady
@given(st.sampled_from(CARS), st.floats(8, 30), st.floats(1.01, 2), st.integers(1, 3), CHARGES, st.floats(253, 308))
def test_more_current_is_never_slower(catalogue, car, amps, more, phases, charges, pack_k):
    circuits = (Circuit("o", "", "own", 230, each, phases) for each in (amps, amps * more))
    slow_s, fast_s = (
        build_session(SessionAsk(catalogue.vehicle(car), each, *charges, pack_k), catalogue).seconds
        for each in circuits
    )
    assert fast_s <= slow_s * (1 + 2e-3) + 1


def test_a_whole_session_is_the_quotes_refill_and_balancing(catalogue):
    car, circuit = catalogue.vehicle("family-suv-plug-in"), catalogue.circuit("uk-wall-unit-32a")
    quote = build_quote(Ask(car, Journey(cycle="udds"), Weather(293.15), circuit=circuit, band=False), catalogue)
    found = build_session(SessionAsk(car, circuit, 0.0, 1.0, 293.15), catalogue)
    # the drive leaves the pack a little warmer than the air, and its last hair of charge
    assert found.seconds - found.balancing_s == pytest.approx(quote.charging.seconds.p50, rel=0.02)
    assert found.balancing_s == 1200
    assert found.limited_by == quote.charging.limited_by


def test_a_phase_missing_a_pilot_and_a_run_count_together(catalogue):
    car = catalogue.vehicle("large-electric-suv")
    run = Run(40.0, section_mm2=2.5)
    circuit = Circuit("o", "", "own", 230, 16, 3, run=run)
    found = build_session(SessionAsk(car, circuit, 0.2, 0.5, 293.15, pilot_a=10, phases_live=2), catalogue)
    # two phases of 10 A at 230 V, at the meter; 1.5 conductors' worth of 40 m at 8.866 mΩ/m lose 2 × 10² × 0.532 W
    assert found.curve.meter_w[0] == pytest.approx(2 * 2300, rel=1e-6)
    assert found.losses_j["cable"] / found.seconds == pytest.approx(106.4, rel=0.01)
    assert found.limited_by == "supply_equipment"


def test_an_empty_phase_share_gives_no_power(catalogue):
    car = replace(
        catalogue.vehicle("large-electric-suv"), onboard_charger_w=500.0, onboard_charger_phases=3, label=None
    )
    with pytest.raises(BadInput, match="no more than the car itself draws"):
        build_session(SessionAsk(car, Circuit("o", "", "own", 230, 6, 1), 0.2, 0.5, 293.15), catalogue)


def test_a_full_battery_has_nothing_to_do(catalogue):
    car = catalogue.vehicle("mid-electric-sedan")
    found = build_session(SessionAsk(car, catalogue.circuit("uk-wall-unit-32a"), 0.9999, 1.0, 293.15), catalogue)
    assert found.wall_j >= 0
    assert found.efficiency is None or 0 < found.efficiency < 1


def test_merged_stretches_keep_energy_and_time_and_the_ends():
    rng = np.random.default_rng(5)
    curve = table(CURVE, 900)
    curve.seconds, curve.meter_w, curve.terminal_w = rng.uniform(1, 100, (3, 900))
    curve.start_s = np.concatenate([[0], np.cumsum(curve.seconds)[:-1]])
    few = merged(curve, 160)
    assert len(few) == 160
    assert few.seconds.sum() == pytest.approx(curve.seconds.sum())
    for name in ("meter_w", "terminal_w"):
        assert (few[name] * few.seconds).sum() == pytest.approx((curve[name] * curve.seconds).sum())
    assert (few[0], few[-1]) == (curve[0], curve[-1])
    assert few.start_s[1:] == pytest.approx(np.cumsum(few.seconds)[:-1])


def test_age_costs_capacity_and_more_inside_the_pack(catalogue):
    car = catalogue.vehicle("mid-electric-sedan")
    new, worn = (
        build_session(SessionAsk(car, Station(120e3), 0.1, 0.8, 298.15, health=health), catalogue)
        for health in (1.0, 0.7)
    )
    assert worn.stored_j == pytest.approx(0.7 * new.stored_j, rel=1e-6)
    assert worn.losses_j["pack"] / worn.stored_j > 1.3 * new.losses_j["pack"] / new.stored_j
    assert worn.stored_j / KWH_J > 30


@steady
@given(st.sampled_from(CARS), st.sampled_from([8.0, 16.0, 32.0]), CHARGES, st.floats(253, 308))
def test_a_lower_supply_is_never_faster_and_its_ends_are_sessions_of_their_own(catalogue, car, amps, charges, pack_k):
    circuit = Circuit("o", "", "continental_europe", 230, amps, 1)
    ask = SessionAsk(catalogue.vehicle(car), circuit, *charges, pack_k)
    ends = build_session(ask, catalogue).ends
    assert (ends.low_v, ends.high_v) == pytest.approx((207, 253))  # EN 50160
    low_s, middle_s, high_s = (
        build_session(replace(ask, supply=replace(circuit, volts=volts)), catalogue).seconds
        for volts in (ends.low_v, 230.0, ends.high_v)
    )
    assert (ends.low_s, ends.high_s) == pytest.approx((low_s, high_s))
    assert high_s <= middle_s * (1 + 2e-3) + 1
    assert middle_s <= low_s * (1 + 2e-3) + 1


def test_a_charger_below_the_circuit_does_not_feel_the_supply(catalogue):
    circuit = catalogue.circuit("uk-wall-unit-32a")  # 32 A at 216 V still give 6.9 kW
    found = build_session(SessionAsk(catalogue.vehicle("compact-plug-in"), circuit, 0.1, 1.0, 293.15), catalogue)
    assert found.ends.low_s == found.ends.high_s == found.seconds
    assert build_session(SessionAsk(found.ask.vehicle, Station(50e3), 0.1, 1.0, 293.15), catalogue).ends is None
