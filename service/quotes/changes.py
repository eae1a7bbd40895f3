"""What one change does to the range: the questions beside the question.

Scope    changes that a customer can make or meet. Each is a changed `Ask` and, where the change has no field of its
         own, factors on the central draw. The sentence says the change; its effect is said where units are known.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from service.physics.laps import FURTHEST_M
from service.physics.tyres import pressure_factor
from service.quotes.answer import Sensitivity
from service.specs import Ask, Climate, Heating, Procedure

__all__ = ["Change", "changes_for", "sensitivities"]

COLDER_K = 10.0
SLOWER = 0.9
CALMER = 0.75  # share of the energy of speeding up and slowing down, common practice for a gentle driver
STRONG_WIND_M_S = 40 / 3.6  # strong breeze, Beaufort 6 begins at 39 km/h
LOAD_KG = 150.0  # two passengers
SOFT_PA, PLACARD_PA = 200e3, 250e3  # half a bar below a usual placard pressure: common practice
AGED = 0.85  # capacity left after some years: club benchmark ≥ 80 % at 200 000 km
WORTH_SAYING = 0.01  # of the range; smaller effects are left out
AT_ONCE_M = 50.0  # an engine that starts within so little starts at once for whoever drives
COOLER_K = 3.0  # what seat heat lets people turn the cabin down by: common practice
LOWEST_SET_POINT_K = 288.15  # 15 °C, the legal input box
COLDEST_K, WARMEST_K = 233.15, 323.15  # the legal input box


@dataclass(frozen=True, slots=True)
class Change:
    """One changed question."""

    input: str
    sentence: str
    ask: Ask
    factors: Mapping[str, float] = field(default_factory=dict)


def changes_for(ask: Ask, sunny_w_m2: float) -> tuple[Change, ...]:
    """The changes that make sense for a completed question, under this sun on a sunny day."""
    return tuple(weather_changes(ask) + cabin_changes(ask) + sun_changes(ask, sunny_w_m2) + car_changes(ask))


def weather_changes(ask: Ask) -> list[Change]:
    """Colder, windier, wetter."""
    day = ask.weather
    changes = []
    if day.ambient_k - COLDER_K >= COLDEST_K:
        colder = replace(ask, weather=replace(day, ambient_k=day.ambient_k - COLDER_K))
        changes.append(Change("temperature", "Ten degrees Celsius (18 °F) colder", colder))
    if ask.procedure is Procedure.ROAD and day.wind_m_s < STRONG_WIND_M_S:
        windy = replace(ask, weather=replace(day, wind_m_s=STRONG_WIND_M_S))
        changes.append(Change("wind", "A strong breeze of 40 km/h (25 mph)", windy))
    if ask.procedure is Procedure.ROAD and day.surface == "dry":
        wet = replace(ask, weather=replace(day, surface="wet"))
        changes.append(Change("surface", "A wet road", wet))
    return changes


def cabin_changes(ask: Ask) -> list[Change]:
    """Heater off, seats heated instead of air, ready on the wall; off alone where only the engine could heat."""
    heats = ask.weather.ambient_k < ask.cabin.set_point_k
    by_engine = heats and ask.vehicle.heating is Heating.ENGINE
    if ask.cabin.climate is Climate.OFF or (by_engine and ask.vehicle.engine is None):
        return []
    off = replace(ask, cabin=replace(ask.cabin, climate=Climate.OFF))
    changes = [Change("climate", "Cabin heating and cooling switched off", off)]
    if by_engine:
        return changes
    cooler_k = ask.cabin.set_point_k - COOLER_K
    if heats and not ask.cabin.seat_heat and cooler_k >= LOWEST_SET_POINT_K:
        seats = replace(ask, cabin=replace(ask.cabin, seat_heat=True, set_point_k=cooler_k))
        changes.append(Change("seat_heat", "Seat and wheel heat on and the cabin 3 °C (5 °F) cooler", seats))
    if not ask.start.preconditioned and ask.start.soaked:
        what = "Cabin and battery" if ask.vehicle.battery.heater_w else "Cabin"
        ready = replace(ask, start=replace(ask.start, preconditioned=True))
        changes.append(Change("preconditioned", f"{what} brought to temperature while still plugged in", ready))
    return changes


def sun_changes(ask: Ask, sunny_w_m2: float) -> list[Change]:
    """The shade instead of the sun; on a day that is warm already, the sun instead of the shade."""
    if ask.cabin.climate is Climate.OFF or ask.start.preconditioned:
        return []
    if ask.start.in_sun:
        shade = replace(ask, start=replace(ask.start, in_sun=False))
        return [Change("in_sun", "Parked in the shade before", shade)]
    day = ask.weather
    if ask.procedure is not Procedure.ROAD or day.ambient_k < ask.cabin.set_point_k:
        return []
    sunny = replace(day, sun_w_m2=max(day.sun_w_m2, sunny_w_m2))
    changed = replace(ask, weather=sunny, start=replace(ask.start, in_sun=True))
    return [Change("in_sun", "A sunny day, and the car parked in the sun before", changed)]


def car_changes(ask: Ask) -> list[Change]:
    """Speed, style, load, tyres, age."""
    changes = [
        Change("speed", "Driving ten per cent slower", ask, {"speed": SLOWER}),
        Change("style", "Gentler speeding up and braking", ask, {"acceleration": CALMER}),
        Change("pressure", "Tyres half a bar (7 psi) too soft", ask, {"tyre": pressure_factor(SOFT_PA, PLACARD_PA)}),
    ]
    if ask.procedure is Procedure.ROAD:
        loaded = replace(ask, payload_kg=ask.payload_kg + LOAD_KG)
        changes.append(Change("payload", "Two passengers' weight more (150 kg, 330 lb)", loaded))
        boxed = ask.outfit.roof_box
        other = replace(ask, outfit=replace(ask.outfit, roof_box=not boxed))
        changes.append(Change("roof_box", "The roof box taken off" if boxed else "A roof box", other))
    if ask.start.state_of_health > AGED:
        aged = replace(ask, start=replace(ask.start, state_of_health=AGED))
        changes.append(Change("health", "A battery aged to 85 % of its capacity", aged))
    return changes


def starts_at_once(ask: Ask, electric_m: float) -> bool:
    """True where the changed question's engine runs from the start."""
    return ask.vehicle.engine is not None and electric_m < AT_ONCE_M


def sensitivities(changes: tuple[Change, ...], central_m: float, changed_m: list[float]) -> tuple[Sensitivity, ...]:
    """Effects on the range worth saying, the largest first."""
    if central_m >= FURTHEST_M:
        return ()  # no distance to empty: nothing to add to it
    effects = [
        Sensitivity(change.input, reached_m - central_m, change.sentence, starts_at_once(change.ask, reached_m))
        for change, reached_m in zip(changes, changed_m, strict=True)
        if abs(reached_m - central_m) >= WORTH_SAYING * central_m
        and reached_m < FURTHEST_M
        and not (starts_at_once(change.ask, reached_m) and starts_at_once(change.ask, central_m))
    ]
    return tuple(sorted(effects, key=lambda each: -abs(each.effect_m)))
