"""The ruler of hours: from plugging in to full, with its sentences and its table."""

from dataclasses import dataclass
from itertools import groupby

from service.quotes.answer import ChargingAnswer, OutletTime
from service.reporting.charts import HOUR_STEPS
from service.reporting.distance_view import HEADROOM
from service.reporting.ruler import Label, Ruler
from service.reporting.sentences import charging_headline, energy_at_socket, full_at, until
from service.reporting.view_parts import Drawing, Row, Setting, drawn
from service.reporting.words import Units, bound, clock, days_passed, duration
from service.specs import Prices

__all__ = ["ChargingView", "charging_view", "other_outlets"]

HOUR_S = 3600.0
NO_PRICES = Prices()


@dataclass(frozen=True, slots=True)
class ChargingView:
    """The clock ruler and what is said about it."""

    headline: str
    weakest_link: str
    energy: str
    cable: str  # of a run up to the plug; empty without one
    drawing: Drawing
    rows: tuple[Row, ...]
    outlets: tuple[Row, ...]  # on the region's other outlets


def charging_view(charging: ChargingAnswer, setting: Setting, prices: Prices = NO_PRICES) -> ChargingView:
    """The ruler of hours and its sentences. More days are served by the longer time, so the ends change places."""
    units, start, seconds = setting.units, setting.plug_in_hour, charging.seconds
    ends = [value for value in (seconds.p10, seconds.p90) if value is not None]
    low_s, high_s = (min(ends), max(ends)) if len(ends) == 2 else (None, None)
    labels = [Label(seconds.p50 / HOUR_S, clock(full_at(start, seconds.p50), units), "half the days", "half", "middle")]
    rows = [Row("half the days, at most", duration(seconds.p50), until(start, seconds.p50, units))]
    if low_s is not None and high_s is not None:
        labels.append(Label(high_s / HOUR_S, clock(full_at(start, high_s), units), "nine days in ten", "9 in 10"))
        rows.append(Row("nine days in ten, at most", duration(high_s), until(start, high_s, units)))
    labels.append(Label(0.0, clock(start, units), "plugged in"))
    ruler = Ruler(
        id="clock",
        title="Time of day while charging",
        description="; ".join(f"{row.name} {row.value}, {row.note}" for row in rows),
        top=max(seconds.p50, high_s or 0.0) / HOUR_S * HEADROOM,
        low=None if low_s is None else low_s / HOUR_S,
        middle=seconds.p50 / HOUR_S,
        high=None if high_s is None else high_s / HOUR_S,
        labels=tuple(labels),
        numeral=lambda hours: _numeral(start + hours, units),
        steps=HOUR_STEPS,
        numeral_em=5.0,
    )
    return ChargingView(
        headline=charging_headline(charging, start, units),
        weakest_link=bound(charging.limited_by_sentence),
        energy=energy_at_socket(charging, prices),
        cable=bound(" ".join(charging.cable_advice)),
        drawing=drawn(ruler),
        rows=tuple(rows),
        outlets=other_outlets(charging),
    )


def other_outlets(charging: ChargingAnswer) -> tuple[Row, ...]:
    """Hours on the region's other usual outlets; of several that take as long, the weakest stands for the rest."""
    asked = charging.circuit.id
    listed = (each for each in charging.outlets if each.circuit.usual or each.circuit.id == asked)
    groups = groupby(listed, key=_hours)
    others = ((hours, list(group)) for hours, group in groups)
    return tuple(
        Row(group[0].circuit.name + (" or stronger" if len(group) > 1 else ""), hours, "")
        for hours, group in others
        if asked not in {each.circuit.id for each in group}
    )


def _hours(outlet: OutletTime) -> str:
    return "cannot charge this car" if outlet.seconds is None else duration(outlet.seconds)


def _numeral(hour: float, units: Units) -> tuple[str, str]:
    """Time of day, and the day if it is not the first."""
    days = days_passed(hour)
    return clock(hour, units), f"day {days + 1}" if days else ""
