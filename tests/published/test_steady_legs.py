"""Steady speed against closed form, cause by cause, from the question down to the ledger.

Two legs of different length have the same ramps at their ends, so their difference is cruise alone, to the last digit.
Tyres and cabin start warm, the cabin is off; the closed forms are written out below from the inputs of the question.
"""

import math

import pytest

from service.quotes.assume import complete
from service.quotes.scenarios import run, scenarios_for
from service.specs import (
    Ask,
    Battery,
    BodyAndTyres,
    Cabin,
    Climate,
    Journey,
    Kind,
    Leg,
    MassBasis,
    RoadLoad,
    Start,
    Vehicle,
    Weather,
)
from service.trips.legs import legs_trace

GRAVITY = 9.80665
SHORT_M, LONG_M = 20_000.0, 45_000.0
MASS_KG, PEOPLE_KG, PAYLOAD_KG = 1600.0, 75.0, 100.0
WIND_M_S, CAR_WIND = 4.0, 0.65  # at 10 m; at half a metre by the power law
USABLE_J = 60 * 3.6e6
MOTOR_W = 90e3  # torque-limited below the grip of this mass

PARTS = Vehicle(
    "parts", "parts", Kind.BEV, MASS_KG, MassBasis.KERB, BodyAndTyres(cd_a_m2=0.62, crr=0.0095), Battery(USABLE_J),
    motor_w=MOTOR_W, base_load_w=300.0, body="medium",
)  # fmt: skip
FIT = RoadLoad(133.447, 1.99008, 0.400651, reference_mass_kg=1750.0)  # A 30 lbf, B 0.20 lbf/mph, C 0.018 lbf/mph²
COASTED = Vehicle(
    "coasted", "coasted", Kind.BEV, MASS_KG, MassBasis.KERB, FIT, Battery(USABLE_J), motor_w=MOTOR_W,
    base_load_w=300.0, body="medium",
)  # fmt: skip


def cruise(vehicle, speed_m_s, grade, catalogue, values):
    """Ledger of the stretch that only the longer leg has, its car's row, and the charge in its middle."""
    found, charges = [], []
    for length_m in (SHORT_M, LONG_M):
        ask = Ask(
            vehicle,
            Journey(legs=(Leg(length_m, speed_m_s, grade=grade),)),
            Weather(298.15, relative_humidity=0.5, wind_m_s=WIND_M_S, sun_w_m2=0.0),
            start=Start(soaked=False),
            cabin=Cabin(Climate.OFF),
            payload_kg=PAYLOAD_KG,
            band=False,
        )
        filled, _ = complete(ask, catalogue)
        scenarios = scenarios_for(filled, (), catalogue, values)
        outcome = run(scenarios, filled, catalogue)
        found.append(outcome.first[0])
        charges.append(float(outcome.first_charge[0]))
    ledger = {name: float(found[1][name] - found[0][name]) for name in found[0].dtype.names}
    return ledger, scenarios.cars[0], sum(charges) / 2


def tyre_n(vehicle, slope):
    """Rolling resistance of warmed tyres at 25 °C under the mass aboard, N."""
    mass_kg = MASS_KG + PEOPLE_KG + PAYLOAD_KG
    load = vehicle.road_load
    if isinstance(load, BodyAndTyres):
        return load.crr * mass_kg * GRAVITY * slope  # a label's coefficient holds at 25 °C
    share_n = 0.85 * load.f0_n * (mass_kg / load.reference_mass_kg) ** 0.9
    return share_n * math.exp(-0.0086 * 5) * slope  # the fit holds at 20 °C


def bearing_n(vehicle, speed_m_s):
    load = vehicle.road_load
    if isinstance(load, BodyAndTyres):
        return 15.0 + 1.0 * speed_m_s  # assumed, and listed
    return 0.15 * load.f0_n + load.f1_n_s_m * speed_m_s


def drag_n(vehicle, speed_m_s):
    """At 25 °C, 50 %, 101.325 kPa: 1.17732 kg/m³ (CIPM-2007 digits); the fit's own air is 1.16751 kg/m³."""
    load = vehicle.road_load
    wind_m_s = CAR_WIND * WIND_M_S
    area = load.cd_a_m2 if isinstance(load, BodyAndTyres) else 2 * load.f2_n_s2_m2 / 1.16751
    return 0.5 * 1.17732 * area * (speed_m_s**2 + wind_m_s**2)


@pytest.mark.parametrize("vehicle", [PARTS, COASTED], ids=["drag area and label", "coastdown coefficients"])
@pytest.mark.parametrize(("km_h", "grade"), [(90, 0.0), (120, 0.0), (90, 0.02)])
def test_every_cause_against_closed_form(catalogue, values, vehicle, km_h, grade):
    speed = km_h / 3.6
    ledger, car, charge = cruise(vehicle, speed, grade, catalogue, values)
    metres, seconds = LONG_M - SHORT_M, (LONG_M - SHORT_M) / speed
    slope = 1 / math.sqrt(1 + grade**2)
    mass_kg = MASS_KG + PEOPLE_KG + PAYLOAD_KG
    assert ledger["distance_m"] == pytest.approx(metres, rel=1e-9)
    assert ledger["duration_s"] == pytest.approx(seconds, rel=1e-9)

    rolling_n, climb_n = tyre_n(vehicle, slope), mass_kg * GRAVITY * math.sin(math.atan(grade))
    assert ledger["air_j"] / metres == pytest.approx(drag_n(vehicle, speed), rel=1e-5)
    assert ledger["rolling_j"] / metres == pytest.approx(rolling_n, rel=1e-3)  # tyres cooled a little in the ramp
    assert ledger["climbing_j"] / metres == pytest.approx(climb_n, rel=1e-9)
    assert ledger["brakes_j"] == pytest.approx(0.0, abs=1e-6 * ledger["cells_j"])
    assert ledger["electronics_j"] / seconds == pytest.approx(300 + 0.3 * 100, rel=1e-9)  # headlamps 30 % of journeys

    force_n = drag_n(vehicle, speed) + rolling_n + bearing_n(vehicle, speed) + climb_n
    top_n = MOTOR_W / 11.1  # torque limit: constant power from 40 km/h
    loss_w = (0.09 + 0.005) * MOTOR_W * (force_n / top_n) ** 2 + 0.015 * MOTOR_W * force_n / top_n
    loss_w += 0.02 * force_n * speed + 0.001 * MOTOR_W
    drivetrain_j = loss_w * seconds + bearing_n(vehicle, speed) * metres
    assert ledger["drivetrain_j"] == pytest.approx(drivetrain_j, rel=1e-3)

    terminal_w = force_n * speed + loss_w + 330.0
    assert ledger["terminals_j"] / seconds == pytest.approx(terminal_w, rel=1e-3)
    volt = float(car.ocv_v[round(40 * charge)])  # near the middle; the loss over the stretch is its mean
    amps = terminal_w / volt * (1 + terminal_w * car.resistance_ohm / volt**2)  # first order in R
    assert ledger["pack_j"] / seconds == pytest.approx(amps**2 * car.resistance_ohm, rel=4e-2)  # warms by 1 K
    assert ledger["cells_j"] == pytest.approx(ledger["terminals_j"] + ledger["pack_j"], rel=1e-9)
    for none in ("heating_j", "cooling_j", "pack_conditioning_j"):
        assert ledger[none] == 0.0


def test_pack_loss_of_a_flat_pack_is_i_squared_r(catalogue, values, rows, march):
    # one voltage, one temperature: I = (V − √(V² − 4RP))/2R, loss I²R, exactly
    weather = Weather(298.15, relative_humidity=0.5, wind_m_s=0.0, sun_w_m2=0.0)
    ask = Ask(PARTS, Journey(cycle="hwfet"), weather, cabin=Cabin(Climate.OFF))
    car, day = rows(ask)
    car.ocv_v[:], car.activation_j_mol, car.base_w = 360.0, 0.0, 0.0
    legs = [march(car, day, legs_trace((Leg(m, 25.0),)), Start(soaked=False)).ledger for m in (SHORT_M, LONG_M)]
    seconds = float(legs[1].duration_s - legs[0].duration_s)
    terminal_w = float(legs[1].terminals_j - legs[0].terminals_j) / seconds
    ohm = car.resistance_ohm
    amps = (360 - math.sqrt(360**2 - 4 * ohm * terminal_w)) / (2 * ohm)
    assert float(legs[1].pack_j - legs[0].pack_j) / seconds == pytest.approx(amps**2 * ohm, rel=1e-3)
