"""The envelope of whole cars, and what common practice says of it. No parameter was set for these checks."""

from dataclasses import replace

import numpy as np
import pytest

from service.physics.envelope import CONTROL_SPEED, GENERATOR_SPEED, LIMITS, PACK
from service.quotes.electric_side import layout_of
from service.quotes.envelope import build_envelope
from service.specs import (
    Ask,
    Battery,
    BodyAndTyres,
    Cabin,
    Climate,
    Heating,
    Journey,
    Kind,
    Layout,
    MassBasis,
    PowerSplit,
    Start,
    Triggers,
    Vehicle,
    Weather,
)
from service.units import KM_H, KWH_J, MPH, RPM

MILD = Weather(293.15, wind_m_s=0.0)
FINAL = 55 / 54 * 77 / 24  # 3.26775, published tooth counts
PLAIN_HYBRID = Vehicle(  # invented, of ordinary figures: 1.3 kWh of cells, of which little is used
    id="own",
    name="plain hybrid",
    kind=Kind.HYBRID,
    mass_kg=1380,
    mass_basis=MassBasis.KERB,
    road_load=BodyAndTyres(cd_a_m2=0.55, crr=0.008),
    battery=Battery(usable_j=0.4 * KWH_J, nominal_j=1.3 * KWH_J, nominal_v=201.6, chemistry="nmc"),
    motor_w=60e3,
    heating=Heating.ENGINE,
    layout=Layout.POWER_SPLIT,
    power_split=PowerSplit(30, 78, FINAL, 0.305, 10_000 * RPM),
    triggers=Triggers(speed_m_s=25 * MPH, low_charge=0.4),
)


@pytest.fixture
def envelope(catalogue):
    def build(vehicle, weather=MILD, journey=None, oil=None, **choices):
        vehicle = catalogue.vehicles[vehicle] if isinstance(vehicle, str) else vehicle
        return build_envelope(Ask(vehicle, journey or Journey(), weather, **choices), catalogue, oil)

    return build


@pytest.fixture
def published_gear(catalogue):
    """The demo plug-in with the published tooth counts of worked example 20."""
    gear = PowerSplit(30, 78, FINAL, 0.305, 10_000 * RPM, True, 40.0)
    return replace(catalogue.vehicles["compact-plug-in"], power_split=gear)


def test_a_plug_in_reaches_84_mph_on_electricity_alone(published_gear, envelope):
    # common practice: about 84 mph. Kinematics: 10 000 rpm of the generator motor; force and heat allow it on the level
    answer = envelope(published_gear)
    assert answer.layout is Layout.POWER_SPLIT
    assert answer.top.speed_m_s / MPH == pytest.approx(84, abs=1)
    assert answer.top.limited_by == GENERATOR_SPEED
    assert answer.gear_limit_m_s == pytest.approx(answer.top.speed_m_s)
    here = np.searchsorted(answer.held.speed_m_s, answer.top.speed_m_s)
    assert answer.held.force_n[here] > answer.road_load_n[here]


def test_a_plain_hybrid_does_25_mph_for_about_two_minutes(envelope):
    # common practice. The speed is a control threshold (motor, gear and pack could go on), the minutes a small pack:
    # three fifths charged, down to a low-charge trigger at two fifths of a small window
    answer = envelope(PLAIN_HYBRID, start=Start(state_of_charge=0.6), cabin=Cabin(climate=Climate.OFF))
    assert answer.top.limited_by == CONTROL_SPEED
    assert answer.top.speed_m_s / MPH == pytest.approx(25, abs=0.01)
    assert 60 < answer.seconds_at_top < 180
    free = envelope(replace(PLAIN_HYBRID, triggers=None), start=Start(state_of_charge=0.6))
    assert free.top.speed_m_s > 2 * answer.top.speed_m_s


@pytest.mark.parametrize(
    ("id_", "layout"),
    [
        ("compact-plug-in", Layout.POWER_SPLIT),
        ("family-suv-plug-in", Layout.PARALLEL),  # not stated: the commonest
        ("mid-electric-sedan", Layout.SINGLE_MOTOR),
    ],
)
def test_layout_of_the_demo_cars(catalogue, envelope, id_, layout):
    assert layout_of(catalogue.vehicles[id_]) is layout
    answer = envelope(id_)
    told = {each.name for each in answer.assumptions}
    assert "layout" not in told
    bare = replace(catalogue.vehicles["family-suv-plug-in"], layout=None)
    assert "layout" in {each.name for each in envelope(bare).assumptions}


def test_every_layout_has_its_envelope(catalogue, envelope):
    car = replace(catalogue.vehicles["compact-plug-in"], power_split=None)
    answers = {layout: envelope(replace(car, layout=layout)) for layout in Layout if layout is not Layout.SINGLE_MOTOR}
    series, split, parallel = (answers[each] for each in (Layout.SERIES, Layout.POWER_SPLIT, Layout.PARALLEL))
    assert parallel.moment.force_n[0] > series.moment.force_n[0]  # through the lowest gear
    fast = series.moment.speed_m_s > 60 * KM_H
    assert np.all(parallel.moment.force_n[: len(fast)][fast] <= series.moment.force_n[fast] * (1 + 1e-9))
    assert split.held.force_n[1] < series.held.force_n[1]  # oil stands still with the engine
    assert (split.gears, split.gear_limit_m_s) == ((), None)
    assert any("not known" in note for note in split.notes)


def test_the_second_motor_pushes_only_with_a_clutch(published_gear, envelope):
    car = published_gear
    with_clutch = envelope(car)
    without = envelope(replace(car, power_split=replace(car.power_split, one_way_clutch=False)))
    # 40 N·m at the sun, 78/30 at the ring, through the final drive at the tyre
    push_n = 40 * 78 / 30 * car.power_split.final_drive / car.power_split.wheel_radius_m
    assert with_clutch.push_n == pytest.approx(push_n)
    assert without.push_n == 0
    assert with_clutch.moment.force_n[0] - without.moment.force_n[0] == pytest.approx(push_n)


def test_cold_and_low_charge_weaken_it(envelope):
    mild, cold = envelope("compact-plug-in"), envelope("compact-plug-in", Weather(253.15, wind_m_s=0.0))
    assert cold.pack_w < 0.5 * mild.pack_w
    assert cold.top.limited_by == PACK
    assert cold.top.speed_m_s < mild.top.speed_m_s
    low = envelope("compact-plug-in", start=Start(state_of_charge=0.02))
    assert low.pack_w < mild.pack_w


def test_oil_is_a_parameter(envelope):
    dry, wet = envelope("mid-electric-sedan", oil=0.0), envelope("mid-electric-sedan", oil=1.0)
    shown = min(len(dry.held.force_n), len(wet.held.force_n))  # as far as the shorter top speed
    assert np.all(dry.held.force_n[:shown] <= wet.held.force_n[:shown])
    assert dry.top.speed_m_s < wet.top.speed_m_s
    assert dry.moment.force_n[:shown] == pytest.approx(wet.moment.force_n[:shown])
    assert "oil circulation in the motor" not in {each.name for each in dry.assumptions}


def test_shares_of_a_journey_are_of_its_time(envelope):
    answer = envelope("compact-plug-in", journey=Journey(cycle="us06"))
    total = sum(point.share for point in answer.points)
    assert 0.5 < total < 1  # the rest is standing and braking
    assert 0 < answer.beyond < 0.1  # the hardest of the regulatory cycles
    assert any("more than the electric side gives" in note for note in answer.findings)
    gentle = envelope("compact-plug-in", journey=Journey(cycle="udds"))
    assert gentle.beyond == 0
    assert envelope("compact-plug-in").beyond is None


def test_the_held_curve_never_lies_above_the_moments(envelope):
    for id_ in ("compact-plug-in", "family-suv-plug-in", "small-electric-hatch"):
        for kelvin in (248.15, 293.15):
            answer = envelope(id_, Weather(kelvin))
            assert np.all(answer.held.force_n <= answer.moment.force_n + 1e-9)
            assert {*answer.moment.limited_by, *answer.held.limited_by} <= set(LIMITS)
            assert answer.top_speeds[0].speed_m_s >= answer.top_speeds[-1].speed_m_s


def test_gear_rows_tell_engine_still_and_turning(published_gear, envelope):
    answer = envelope(published_gear)
    at_60 = {round(row.engine_rad_s / RPM): row for row in answer.gears if round(row.speed_m_s / KM_H) == 60}
    assert at_60[0].sun_rad_s / RPM == pytest.approx(-4433.5, abs=0.1)  # worked example
    assert at_60[1000].sun_rad_s / RPM == pytest.approx(-833.5, abs=0.1)
    assert at_60[0].within
    still = [row for row in answer.gears if row.engine_rad_s == 0]
    assert [row.within for row in still] == [row.speed_m_s <= answer.gear_limit_m_s for row in still]
    for speed_m_s, engine in answer.least_engine:
        assert (engine > 0) == (speed_m_s > answer.gear_limit_m_s)


def test_an_engine_car_with_unknown_triggers_says_so(catalogue, envelope):
    unknown = replace(catalogue.vehicles["family-suv-plug-in"], triggers=None)
    assert any("controls start the engine is not known" in note for note in envelope(unknown).notes)
    assert not any("controls start" in note for note in envelope("mid-electric-sedan").notes)
