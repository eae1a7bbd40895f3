"""The ruler of distances: the band, the journey beneath it, what another temperature would give, and its table."""

from collections.abc import Callable
from dataclasses import replace

from service.quotes.answer import Band, Quote
from service.reporting.engine_sentences import BRIEFLY, early_start
from service.reporting.ruler import Label, Ruler
from service.reporting.view_parts import Drawing, Row, Setting, drawn
from service.reporting.words import distance, distance_number, distance_unit, temperature

__all__ = ["HEADROOM", "distance_view"]

HEADROOM = 1.06  # the scale goes a little beyond the last thing shown on it
FAR_TIMES = 2.0  # a journey or comparison beyond so many times the range would squeeze the ruler: told in words only
MOST_REPEATS = 60


def distance_view(quote: Quote, other: Quote | None, setting: Setting) -> tuple[Drawing, tuple[Row, ...]]:
    """The ruler of distances and its table."""
    units, need_m = setting.units, quote.journey.distance_m
    band, early = quote.range_m, early_start(quote)
    if early:
        band = quote.engine.distances.actual_charge_depleting or Band(None, need_m, None)
    number, told = (lambda metres: distance_number(metres, units)), (lambda metres: distance(metres, units))
    far_m = max(band.p50, band.p90 or 0.0)
    labels, rows, shown_m = _band_labels(band, number, told), _band_rows(band, told), [far_m]
    lasts = not early or quote.engine.distances.actual_charge_depleting
    if not lasts:  # nothing ends but the drive itself
        labels, rows = (
            (Label(number(need_m), told(need_m), "this drive", "", "middle"),),
            (Row("this drive", told(need_m)),),
        )
    elif early:
        labels = tuple(map(_used_up, labels))
        rows = tuple(Row(f"battery used up, {row.name}", row.value) for row in rows)
    marks = _engine_marks(quote, far_m)
    labels += tuple(Label(number(at_m), "", f"engine: {why}", why, "start") for at_m, why in marks)
    rows = (*(Row(f"engine starts: {why}", told(at_m)) for at_m, why in marks), *rows)
    if other and not early and other.range_m.p50 <= FAR_TIMES * far_m:
        at = temperature(other.ask.weather.ambient_k, units)
        labels += (Label(number(other.range_m.p50), told(other.range_m.p50), f"at {at}", "", "aside"),)
        rows += (Row(f"at {at}, half the days, at least", told(other.range_m.p50)),)
        shown_m.append(other.range_m.p50)
    stations: tuple[Label, ...] = ()
    if need_m <= FAR_TIMES * far_m:
        stations = _stations(need_m, setting)
        shown_m.append(need_m)
    ruler = Ruler(
        id="range",
        title=f"Distance in {distance_unit(units)}",
        description="; ".join(f"{row.name} {row.value}" for row in rows),
        top=number(max(shown_m)) * HEADROOM,
        low=None if band.p10 is None else number(band.p10),
        middle=number(band.p50),
        high=None if band.p90 is None else number(band.p90),
        labels=labels,
        numeral=lambda value: (f"{value:g}" + (f" {distance_unit(units)}" if value == 0 else ""), ""),
        stations=stations,
        repeats=tuple(number(need_m) * n for n in range(2, min(int(far_m / need_m), MOST_REPEATS) + 1)),
    )
    return drawn(ruler), rows


def _used_up(label: Label) -> Label:
    """The middle says what the marks mean."""
    if label.shape != "middle":
        return label
    return replace(label, words=f"battery used up, {label.words}", short=f"used up, {label.short or label.words}")


def _engine_marks(quote: Quote, far_m: float) -> list[tuple[float, str]]:
    """Where each reason first starts the engine on the journey, and how often it does."""
    found: dict[str, list[float]] = {}
    for each in quote.engine.starts if quote.engine else ():
        if each.fuel_m3 > 0 and each.at_m < far_m:
            found.setdefault(BRIEFLY[each.trigger], []).append(each.at_m)
    return [(at_m[0], why if len(at_m) == 1 else f"{why}, {len(at_m)} times") for why, at_m in found.items()]


def _band_rows(band: Band, told: Callable[[float], str]) -> tuple[Row, ...]:
    if band.p10 is None or band.p90 is None:
        return (Row("about", told(band.p50)),)
    return (
        Row("nine days in ten, at least", told(band.p10)),
        Row("half the days, at least", told(band.p50)),
        Row("one day in ten, at least", told(band.p90)),
    )


def _band_labels(band: Band, number: Callable[[float], float], told: Callable[[float], str]) -> tuple[Label, ...]:
    """Flags of a band, most important first."""
    if band.p10 is None or band.p90 is None:
        return (Label(number(band.p50), told(band.p50), "about", "", "middle"),)
    return (
        Label(number(band.p10), told(band.p10), "nine days in ten", "9 in 10"),
        Label(number(band.p50), told(band.p50), "half the days", "half", "middle"),
        Label(number(band.p90), told(band.p90), "one day in ten", "1 in 10"),
    )


def _stations(need_m: float, setting: Setting) -> tuple[Label, ...]:
    """The journey's own marks."""
    units = setting.units
    end = distance_number(need_m, units)
    if not setting.round_trip:
        return Label(0, "", "start"), Label(end, distance(need_m, units), "journey's end")
    return (
        Label(0, "", "home"),
        Label(end / 2, distance(need_m / 2, units), "work"),
        Label(end, distance(need_m, units), "home again"),
    )
