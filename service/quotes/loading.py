"""What the car weighs in a question: on the road with its people and load, or on rolls as the test has it.

Source   US test mass: kerb + 300 lb (40 CFR 86.129-00), rounded to its class (40 CFR 86.129-94); WLTP test mass and
         rotating mass: UN GTR 15 annex 4 (EU text 2017/1151 annex XXI). Rolls of the US test turn one axle of the car,
         whose wheels add 1.5 % (dynamometer practice, SAE J2264, from memory).
"""

from collections.abc import Mapping
from enum import StrEnum

from service.constants import DRIVER_KG, US_REFERENCE_PA, US_TEST_LOAD_KG
from service.physics.tables import Loading
from service.quotes.assume import speaks_us
from service.specs import Ask, BodyAndTyres, MassBasis, Procedure, RoadLoad, Vehicle
from service.units import POUND_KG

__all__ = ["MassRule", "equivalent_test_mass_kg", "kerb_mass_kg", "loading", "rolls_loading", "wltp_test_mass_kg"]

WLTP_EXTRA_KG = 25.0  # UN GTR 15: added to the mass in running order
WLTP_LOAD_SHARE = 0.15  # UN GTR 15: of the largest load, passenger cars
LARGEST_LOAD_KG = 450.0  # five people's car, driver already in: common practice
US_ROLLS_ROTATING = 1.015  # one axle, from memory (SAE J2264 practice)
WLTP_ROTATING_SHARE = 0.03  # UN GTR 15 annex 4: of mass in running order + 25 kg


class MassRule(StrEnum):
    """How a test makes its mass from the car's."""

    US_CLASS = "us_class"  # kerb + 300 lb, to the nearest class
    WLTP = "wltp"  # running order + 25 kg + 15 % of the largest load


def kerb_mass_kg(vehicle: Vehicle) -> float:
    """Mass without driver, from whichever basis was stated."""
    if vehicle.mass_basis is MassBasis.RUNNING_ORDER:
        return vehicle.mass_kg - DRIVER_KG
    if vehicle.mass_basis is MassBasis.TEST:
        return vehicle.mass_kg - US_TEST_LOAD_KG
    return vehicle.mass_kg


def equivalent_test_mass_kg(kerb_kg: float) -> float:
    """US equivalent test mass: kerb + 300 lb, to the nearest class. Source: 40 CFR 86.129-94(a).

    >>> round(equivalent_test_mass_kg(3200 * POUND_KG) / POUND_KG)
    3500
    """
    loaded_lb = (kerb_kg + US_TEST_LOAD_KG) / POUND_KG
    step_lb = 125 if loaded_lb < 4062.5 else 250 if loaded_lb < 5625 else 500
    start_lb = 4000 if step_lb == 250 else 5500 if step_lb == 500 else 0
    return (start_lb + round((loaded_lb - start_lb) / step_lb) * step_lb) * POUND_KG


def wltp_test_mass_kg(kerb_kg: float) -> float:
    """WLTP test mass of a passenger car with the usual largest load."""
    return kerb_kg + DRIVER_KG + WLTP_EXTRA_KG + WLTP_LOAD_SHARE * LARGEST_LOAD_KG


def reference_mass_kg(vehicle: Vehicle, kerb_kg: float) -> float:
    """Mass at which coastdown coefficients hold: stated, or the test mass of the procedure they come from."""
    load = vehicle.road_load
    if isinstance(load, BodyAndTyres):
        return kerb_kg
    assert isinstance(load, RoadLoad)
    if load.reference_mass_kg is not None:
        return load.reference_mass_kg
    if vehicle.mass_basis is MassBasis.TEST:
        return vehicle.mass_kg
    if load.reference_pa == US_REFERENCE_PA:
        return kerb_kg + US_TEST_LOAD_KG
    return wltp_test_mass_kg(kerb_kg)


def rolls_loading(vehicle: Vehicle, rule: MassRule) -> Loading:
    """What the rolls of a test accelerate: the stated test mass, or the one that the procedure's rule makes."""
    kerb_kg = kerb_mass_kg(vehicle)
    reference_kg = reference_mass_kg(vehicle, kerb_kg)
    stated_test = vehicle.mass_basis is MassBasis.TEST
    if rule is MassRule.US_CLASS:
        mass_kg = vehicle.mass_kg if stated_test else equivalent_test_mass_kg(kerb_kg)
        return Loading(mass_kg, mass_kg * US_ROLLS_ROTATING, reference_kg)
    mass_kg = vehicle.mass_kg if stated_test else wltp_test_mass_kg(kerb_kg)
    rotating_kg = WLTP_ROTATING_SHARE * (kerb_kg + DRIVER_KG + WLTP_EXTRA_KG)
    return Loading(mass_kg, mass_kg + rotating_kg, reference_kg)


def loading(ask: Ask, values: Mapping[str, float]) -> Loading:
    """Mass aboard and mass that accelerates."""
    vehicle = ask.vehicle
    kerb_kg = kerb_mass_kg(vehicle)
    reference_kg = reference_mass_kg(vehicle, kerb_kg)
    stated_test = vehicle.mass_basis is MassBasis.TEST
    if ask.procedure is Procedure.DYNAMOMETER:
        us = speaks_us(ask) or ask.journey.cycle is None
        return rolls_loading(vehicle, MassRule.US_CLASS if us else MassRule.WLTP)
    people = ask.cabin.occupants - 1 if stated_test else ask.cabin.occupants
    trailer_kg = ask.outfit.trailer.mass_kg if ask.outfit.trailer else 0.0
    mass_kg = (vehicle.mass_kg if stated_test else kerb_kg) + people * DRIVER_KG + ask.payload_kg + trailer_kg
    return Loading(mass_kg, mass_kg + values["rotating_share"] * kerb_kg, reference_kg, trailer_kg)
