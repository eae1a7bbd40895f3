"""Standing ready in plain sentences. Both kinds of reader get both temperatures; the rest has one unit."""

from service.quotes.standby import Standby
from service.reporting.words import Units, duration, per_cent, power, temperature
from service.specs import Climate

__all__ = ["standby_sentences"]


def standby_sentences(answer: Standby) -> tuple[str, ...]:
    """How long, what draws, and what is left after the time asked about."""
    if answer.ended_by == "already_there":
        return (f"The charge is at or below {per_cent(answer.floor)} already: the engine would start at once.",)
    return (_how_long(answer), _draw(answer), _after(answer))


def _how_long(answer: Standby) -> str:
    ambient_k = answer.ask.weather.ambient_k
    day = f"At {temperature(ambient_k, Units.METRIC)} ({temperature(ambient_k, Units.US)})"
    seconds = answer.seconds
    if answer.ended_by == "longer_than_told":
        return f"{day}, ready and not moving, the battery lasts longer than 1 000 hours."
    if seconds.p10 is None:
        return f"{day}, ready and not moving, the battery lasts about {duration(seconds.p50)}{_until(answer)}."
    return (
        f"{day}, ready and not moving, nine days in ten the battery lasts {duration(seconds.p10)} or more, "
        f"half the days {duration(seconds.p50)}{_until(answer)}."
    )


def _until(answer: Standby) -> str:
    if answer.ended_by == "low_charge_trigger":
        return f"; at {per_cent(answer.floor)} charge the car starts its engine"
    return ""


def _draw(answer: Standby) -> str:
    climate = answer.ask.cabin.climate
    drawn = f"It draws {_kilowatts(answer.holding_w.p50)}"
    if climate is Climate.OFF:
        return f"{drawn}, with heating and cooling off."
    if answer.climate_w <= 0:
        return f"{drawn}; none of it heats or cools."
    verb = "heats" if answer.ask.weather.ambient_k < answer.ask.cabin.set_point_k else "cools and airs"
    return f"{drawn} once the cabin is at its temperature; {_kilowatts(answer.climate_w)} of it {verb} the cabin."


def _kilowatts(watt: float) -> str:
    """Two decimals below one kilowatt: standing draws are small."""
    return power(watt) if watt >= 950 else f"{watt / 1000:.2f}\u00a0kW"


def _after(answer: Standby) -> str:
    charge = answer.charge_after
    left = charge.p50 if charge.p10 is None else charge.p10
    asked = duration(answer.asked_s)
    if not answer.lasts:
        return f"It does not last {asked} nine days in ten."
    return f"After {asked} {per_cent(left)} or more of the charge is left, nine days in ten."
