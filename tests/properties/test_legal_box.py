"""Any legal question has an answer: no NaN, nothing infinite or negative, bands in order."""

import dataclasses
import math

import pytest
from hypothesis import example, given, note, settings
from hypothesis import strategies as st

from service.quotes.answer import CAUSES, Band
from service.quotes.build import build_quote
from service.specs import (
    Ask,
    Battery,
    BodyAndTyres,
    Cabin,
    CabinAir,
    Circuit,
    Climate,
    Heating,
    Journey,
    Kind,
    Leg,
    MassBasis,
    Procedure,
    RoadLoad,
    Start,
    Vehicle,
    Weather,
)

IDS = ("compact-plug-in", "family-suv-plug-in", "small-electric-hatch", "mid-electric-sedan", "large-electric-suv",
       "electric-delivery-van")  # fmt: skip
CYCLES = ("udds", "hwfet", "us06", "nycc", "wltc_class3b", "nedc")
KWH_J = 3.6e6


def maybe(strategy):
    """A value, or unknown."""
    return st.none() | strategy


WEATHER = st.builds(
    Weather,
    ambient_k=st.floats(233.15, 323.15),
    relative_humidity=maybe(st.floats(0, 1)),
    wind_m_s=maybe(st.floats(0, 120 / 3.6)),
    sun_w_m2=maybe(st.floats(0, 1200)),
    altitude_m=st.floats(-430, 4500),
    surface=st.sampled_from(["dry", "wet", "slush", "snow"]),
)
START = st.builds(
    Start,
    state_of_charge=st.floats(0.01, 1),
    soaked=st.booleans(),
    preconditioned=st.booleans(),
    state_of_health=st.floats(0.5, 1),
)
CABIN = st.builds(
    Cabin,
    climate=st.sampled_from(list(Climate)),
    set_point_k=st.floats(288.15, 301.15),
    occupants=st.integers(1, 9),
    air=st.sampled_from(list(CabinAir)),
    seat_heat=st.booleans(),
)
LEG = st.builds(
    Leg,
    distance_m=st.floats(10, 30_000),
    speed_m_s=st.floats(5 / 3.6, 200 / 3.6),
    stops_per_m=st.floats(0, 10e-3),
    grade=st.floats(-0.15, 0.15),
)
JOURNEY = st.builds(Journey, cycle=st.sampled_from(CYCLES)) | st.builds(
    Journey, legs=st.lists(LEG, min_size=1, max_size=3).map(tuple)
)
CIRCUIT = maybe(
    st.builds(
        Circuit, id=st.just("own"), name=st.just("own"), region=st.just("own"), volts=st.floats(90, 480),
        continuous_a=st.floats(5, 100), phases=st.integers(1, 3),
    )
)  # fmt: skip
FIT = st.builds(
    RoadLoad,
    f0_n=st.floats(0, 1800),
    f1_n_s_m=st.floats(0, 100),
    f2_n_s2_m2=st.floats(0.022, 11),
    reference_mass_kg=maybe(st.floats(300, 7500)),
    reference_k=st.floats(263.15, 313.15),
    reference_pa=st.sampled_from([98_210.0, 100_000.0]) | st.floats(50e3, 110e3),
)
PARTS = st.builds(BodyAndTyres, cd_a_m2=st.floats(0.2, 6), crr=st.floats(0.003, 0.04))


@st.composite
def own_cars(draw):
    """A car given inline, odd but legal."""
    usable_j = draw(st.floats(0.3, 300)) * KWH_J
    whole = draw(maybe(st.floats(1.0, 2.0)))
    battery = Battery(
        usable_j,
        None if whole is None else usable_j * whole,
        draw(maybe(st.floats(40, 1000))),
        draw(maybe(st.sampled_from(["nmc", "nca", "lfp"]))),
        draw(maybe(st.sampled_from([0.0, 5000.0]))),
    )
    return Vehicle(
        "own", "own", draw(st.sampled_from(list(Kind))), draw(st.floats(500, 7500)),
        draw(st.sampled_from(list(MassBasis))), draw(FIT | PARTS), battery,
        motor_w=draw(maybe(st.floats(5e3, 1e6))), onboard_charger_w=draw(maybe(st.floats(500, 50e3))),
        onboard_charger_phases=draw(maybe(st.integers(1, 3))), heating=draw(maybe(st.sampled_from(list(Heating)))),
        heater_w=draw(maybe(st.floats(0, 20e3))),
        body=draw(maybe(st.sampled_from(["small", "medium", "large", "van"]))),
        base_load_w=draw(maybe(st.floats(0, 5000))), charge_limit_w=draw(maybe(st.floats(1000, 1e6))),
    )  # fmt: skip


def numbers_in(thing, path="quote"):
    """Every number of an answer, with where it stands. The question itself is left out."""
    if isinstance(thing, bool) or thing is None or isinstance(thing, str):
        return
    if isinstance(thing, (int, float)):
        yield path, float(thing)
    elif dataclasses.is_dataclass(thing):
        for each in dataclasses.fields(thing):
            if each.name not in ("ask", "assumptions"):
                yield from numbers_in(getattr(thing, each.name), f"{path}.{each.name}")
    elif isinstance(thing, dict):
        for key, value in thing.items():
            yield from numbers_in(value, f"{path}.{key}")
    elif isinstance(thing, tuple):
        for k, value in enumerate(thing):
            yield from numbers_in(value, f"{path}[{k}]")


def bands_in(thing, path="quote"):
    if isinstance(thing, Band):
        yield path, thing
    elif dataclasses.is_dataclass(thing):
        for each in dataclasses.fields(thing):
            yield from bands_in(getattr(thing, each.name), f"{path}.{each.name}")


def check(quote):
    for path, number in numbers_in(quote):
        assert math.isfinite(number), (path, number)
    for path, band in bands_in(quote):
        if band.p10 is not None:
            assert band.p10 <= band.p50 <= band.p90, (path, band)
    assert quote.range_m.p50 >= 0
    assert quote.to_empty.duration_s >= 0
    assert quote.journey.distance_m >= 0
    assert -0.1 <= quote.journey.arrives_with.p50 <= 1.01
    if quote.charging is not None:
        assert quote.charging.seconds.p50 >= 0
        assert quote.charging.wall_j.p50 >= 0
        assert 0 <= quote.charging.efficiency < 1
    assert set(quote.journey.ledger_j_per_m) == set(quote.to_empty.ledger_j_per_m) == set(CAUSES)
    engine = quote.engine
    work = (0.0, 0.0) if engine is None else (engine.engine_j_m, engine.depleting_engine_j_m)
    for part, engine_j_m in zip((quote.journey, quote.to_empty), work, strict=True):
        causes = part.ledger_j_per_m
        gross = sum(abs(value) for value in causes.values())
        assert sum(causes.values()) == pytest.approx(part.battery_j_per_m.p50 + engine_j_m, abs=1e-6 * gross)


def ask_of(vehicle, journey, weather, start, cabin, procedure, circuit, payload_kg, band):
    return Ask(vehicle, journey, weather, procedure, start, cabin, circuit, payload_kg, band)


REST = {
    "journey": JOURNEY, "weather": WEATHER, "start": START, "cabin": CABIN,
    "procedure": st.sampled_from(list(Procedure)), "circuit": CIRCUIT, "payload_kg": st.floats(0, 2000),
}  # fmt: skip
EXTREME = {
    "journey": Journey(legs=(Leg(500.0, 55.0, grade=0.15),)),
    "weather": Weather(233.15, 1.0, 33.3, 0.0, 4500.0, "snow"),
    "start": Start(0.01, True, False, 0.5),
    "cabin": Cabin(Climate.AUTO, 301.15, 9, CabinAir.FRESH, True),
    "procedure": Procedure.ROAD,
    "circuit": None,
    "payload_kg": 2000.0,
}


@settings(max_examples=60)
@given(id_=st.sampled_from(IDS), band=st.booleans(), **REST)
@example(id_="compact-plug-in", band=True, **EXTREME)
@example(id_="electric-delivery-van", band=True, **EXTREME)
def test_demo_cars_answer_everywhere(catalogue, id_, band, **rest):
    ask = ask_of(catalogue.vehicles[id_], band=band, **rest)
    note(str(ask))
    check(build_quote(ask, catalogue))


@settings(max_examples=60)
@given(vehicle=own_cars(), band=st.booleans(), **REST)
def test_odd_cars_answer_everywhere(catalogue, vehicle, band, **rest):
    ask = ask_of(vehicle, band=band, **rest)
    note(str(ask))
    check(build_quote(ask, catalogue))


@settings(max_examples=15)
@given(id_=st.sampled_from(IDS), **REST)
def test_the_middle_does_not_depend_on_the_band(catalogue, id_, **rest):
    vehicle = catalogue.vehicles[id_]
    with_band = build_quote(ask_of(vehicle, band=True, **rest), catalogue)
    without = build_quote(ask_of(vehicle, band=False, **rest), catalogue)
    middles = {path: band.p50 for path, band in bands_in(with_band)}
    for path, band in bands_in(without):
        assert band.p10 is None is band.p90
        assert band.p50 == pytest.approx(middles[path], rel=1e-12, abs=1e-12), path
    assert with_band.journey.ledger_j_per_m == without.journey.ledger_j_per_m
    of_the_band = "One day in ten or more"  # the one note that only a band gives reason for
    assert tuple(each for each in with_band.notes if not each.startswith(of_the_band)) == without.notes
