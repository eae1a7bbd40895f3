"""Hand-made quotes: figures of plausible size that no code of ours has computed."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import settings

from service.quotes.answer import (
    Assumption,
    Band,
    ChargingAnswer,
    Event,
    JourneyAnswer,
    Quote,
    Sensitivity,
    ToEmptyAnswer,
)
from service.reporting.views import Setting
from service.reporting.words import Units
from service.specs import (
    Ask,
    Battery,
    BodyAndTyres,
    Circuit,
    Heating,
    Journey,
    Kind,
    Leg,
    MassBasis,
    Vehicle,
    Weather,
)

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
KM, WH_KM, KWH = 1000.0, 3.6, 3.6e6
COLD = {
    "air": 38.0,
    "rolling": 62.0,
    "climbing": 0.0,
    "brakes": 6.0,
    "drivetrain": 24.0,
    "pack": 7.0,
    "heating": 78.0,
    "cooling": 0.0,
    "pack_conditioning": 0.0,
    "electronics": 9.0,
}
MILD = COLD | {"air": 34.0, "rolling": 47.0, "brakes": 4.0, "drivetrain": 22.0, "pack": 3.0, "heating": 0.0}


def ledger(wh_per_km):
    return {cause: value * WH_KM for cause, value in wh_per_km.items()}


@pytest.fixture
def ask():
    vehicle = Vehicle(
        "demo",
        "Compact plug-in hybrid",
        Kind.PHEV,
        1550.0,
        MassBasis.KERB,
        BodyAndTyres(0.62, 0.0085),
        Battery(8.8 * KWH),
        motor_w=65e3,
        onboard_charger_w=3300.0,
        heating=Heating.RESISTIVE,
    )
    circuit = Circuit("eu-household-10a", "Household socket, 230 V at 10 A", "continental_europe", 230.0, 10.0)
    legs = (Leg(16_000.0, 16.7), Leg(16_000.0, 16.7))
    return Ask(vehicle, Journey(legs=legs), Weather(268.15), circuit=circuit)


@pytest.fixture
def quote(ask):
    """A winter day: 31 to 41 km."""
    band = Band(31 * KM, 36 * KM, 41 * KM)
    wall = Band(240 * WH_KM, 262 * WH_KM, 300 * WH_KM)
    journey = JourneyAnswer(
        32 * KM, 2400.0, Band(190 * WH_KM, 224 * WH_KM, 260 * WH_KM), wall, ledger(COLD), Band(0.0, 0.11, 0.22), True
    )
    to_empty = ToEmptyAnswer(band, 2700.0, Band(190.0, 224 * WH_KM, 260.0), wall, ledger(COLD), "empty")
    charging = ChargingAnswer(
        ask.circuit,
        Band(4.5 * 3600, 4.75 * 3600, 5.2 * 3600),
        Band(9.9 * KWH, 10.2 * KWH, 10.6 * KWH),
        0.86,
        "circuit",
        "the circuit limits",
        2300.0,
    )
    return Quote(
        ask,
        band,
        journey,
        to_empty,
        charging,
        (Event("pack_limit", 40.0, 300.0, 4.0, "The cold battery held back acceleration for 4 s."),),
        (
            Sensitivity("cabin_heat", 9 * KM, "With the cabin heater off"),
            Sensitivity("colder", -4 * KM, "At ten degrees colder"),
        ),
        (Assumption("wind", 12.0, "km/h", "common practice"), Assumption("chemistry", "nmc", "", "common practice")),
        ("Tyre temperature is extrapolated below 5 °C.",),
    )


@pytest.fixture
def mild(quote):
    """The same question at 20 °C: 52 km, middle only."""
    return replace(
        quote,
        ask=replace(quote.ask, weather=Weather(293.15), band=False),
        range_m=Band(None, 52 * KM, None),
        to_empty=replace(quote.to_empty, ledger_j_per_m=ledger(MILD)),
    )


@pytest.fixture
def setting():
    return Setting(Units.METRIC, "there and back", True, 18.0, date(2026, 11, 25), "0.1.0")
