"""Any legal car, day and start has an envelope and a standing time: finite, never negative, limits named, in order."""

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from service.physics.envelope import LIMITS
from service.quotes.envelope import build_envelope
from service.quotes.standby import ENDS, build_standby
from service.quotes.utility_factor import CURVES, fleet_shares
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
    Leg,
    MassBasis,
    PowerSplit,
    Start,
    Triggers,
    Vehicle,
    Weather,
)
from service.units import KWH_J, RPM


def maybe(strategy):
    """A value, or unknown."""
    return st.none() | strategy


SPLIT = st.integers(10, 90).flatmap(
    lambda sun: st.builds(
        PowerSplit,
        sun_teeth=st.just(sun),
        ring_teeth=st.integers(sun + 1, 250),
        final_drive=st.floats(1, 15),
        wheel_radius_m=st.floats(0.2, 0.6),
        generator_max_rad_s=st.floats(1000 * RPM, 30_000 * RPM),
        one_way_clutch=st.booleans(),
        generator_n_m=maybe(st.floats(1, 1000)),
    )
)
TRIGGERS = st.builds(
    Triggers,
    speed_m_s=maybe(st.floats(0, 50)),
    power_w=maybe(st.floats(0, 200e3)),
    low_charge=maybe(st.floats(0, 0.9)),
)


@st.composite
def cars(draw):
    """A car of any kind, with the layout that fits it or none stated."""
    kind = draw(st.sampled_from(list(Kind)))
    fitting = [each for each in Layout if (each is Layout.SINGLE_MOTOR) != kind.has_engine]
    layout = draw(maybe(st.sampled_from(fitting)))
    geared = kind.has_engine and layout in (None, Layout.POWER_SPLIT)
    usable_j = draw(st.floats(0.3, 100)) * KWH_J
    return Vehicle(
        id="own",
        name="own",
        kind=kind,
        mass_kg=draw(st.floats(600, 5000)),
        mass_basis=MassBasis.KERB,
        road_load=BodyAndTyres(draw(st.floats(0.3, 4)), draw(st.floats(0.004, 0.02))),
        battery=Battery(usable_j, usable_j * draw(st.floats(1.03, 3))),
        motor_w=draw(maybe(st.floats(5e3, 400e3))),
        heating=draw(
            maybe(st.sampled_from([each for each in Heating if kind.has_engine or each is not Heating.ENGINE]))
        ),
        layout=layout,
        power_split=draw(maybe(SPLIT)) if geared else None,
        triggers=draw(maybe(TRIGGERS)) if kind.has_engine else None,
    )


@st.composite
def asks(draw):
    """A question."""
    leg = Leg(
        draw(st.floats(100, 20_000)), draw(st.floats(2, 50)), draw(st.floats(0, 5e-3)), draw(st.floats(-0.15, 0.15))
    )
    return Ask(
        draw(cars()),
        draw(st.sampled_from([Journey(), Journey(legs=(leg,)), Journey(cycle="us06")])),
        Weather(draw(st.floats(233.15, 323.15)), altitude_m=draw(st.floats(-430, 4500))),
        start=Start(draw(st.floats(0.01, 1)), draw(st.booleans()), draw(st.booleans()), draw(st.floats(0.5, 1))),
        cabin=Cabin(draw(st.sampled_from(list(Climate))), draw(st.floats(288.15, 301.15)), draw(st.integers(1, 9))),
        band=False,
    )


@settings(max_examples=60, deadline=None, derandomize=True)
@given(asks())
def test_every_envelope_is_whole(catalogue, ask):
    answer = build_envelope(ask, catalogue)
    for curve in (answer.moment, answer.held):
        assert np.all(np.isfinite(curve.force_n))
        assert np.all(curve.force_n >= 0)
        assert set(curve.limited_by) <= set(LIMITS)
    assert np.all(answer.held.force_n <= answer.moment.force_n * (1 + 1e-9))
    speeds = [each.speed_m_s for each in answer.top_speeds]
    assert speeds == sorted(speeds, reverse=True)
    assert all(math.isfinite(each) and each >= 0 for each in speeds)
    assert math.isfinite(answer.seconds_at_top)
    assert answer.seconds_at_top >= 0
    if answer.gear_limit_m_s is not None:
        assert speeds[0] <= answer.gear_limit_m_s * (1 + 1e-9)
    triggers = answer.ask.vehicle.triggers
    if triggers and triggers.speed_m_s is not None:
        assert speeds[0] <= triggers.speed_m_s * (1 + 1e-9) + 1e-9
    assert sum(point.share for point in answer.points) <= 1 + 1e-9
    assert answer.beyond is None or 0 <= answer.beyond <= 1 + 1e-9


@settings(max_examples=60, deadline=None, derandomize=True)
@given(asks(), st.floats(60, 600_000))
def test_every_standing_time_is_whole(catalogue, ask, asked_s):
    answer = build_standby(ask, catalogue, asked_s)
    for value in (answer.seconds.p50, answer.cells_j.p50, answer.holding_w.p50, answer.climate_w):
        assert math.isfinite(value)
        assert value >= 0
    assert answer.ended_by in ENDS
    assert 0 <= answer.charge_after.p50 <= ask.start.state_of_charge + 1e-9
    if answer.seconds.p50 <= asked_s and answer.ended_by != "already_there":
        assert abs(answer.charge_after.p50 - answer.floor) < 1e-9
    assert answer.climate_w <= answer.holding_w.p50 + 1e-9


@given(st.floats(0, 1e6))
def test_shares_of_a_fleet_are_shares(range_m):
    shares = fleet_shares(range_m)
    for name in CURVES:
        assert 0 <= getattr(shares, name) <= 1
    assert shares.un_800 >= shares.un_2200 - 1e-3  # the published polynomial ripples in its flat end
    assert shares.un_2200 >= shares.un_4260 - 1e-3
