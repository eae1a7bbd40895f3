"""Where the energy goes: the ledger as a table in the order of its causes, and as a strip."""

from dataclasses import dataclass

from service.quotes.answer import CAUSES, Quote
from service.reporting.ruler import ACCENT, FAINT, INK, NARROW, WIDE, Segment, draw_strip
from service.reporting.sentences import CAUSE_NAMES
from service.reporting.view_parts import Drawing, Row
from service.reporting.words import (
    WHOLE_FROM,
    Units,
    consumption,
    consumption_number,
    consumption_per_trade_unit,
    consumption_unit,
    money,
    per_cent,
    plain,
)

__all__ = ["LedgerView", "ledger_view"]

LEAST_J_M = 18.0  # 5 Wh/km: where the engine does it all, the little from the socket is not told
COLOURS = {  # what moves the car, what the machine keeps, what the weather asks for
    **dict.fromkeys(("air", "rolling", "climbing", "brakes"), INK),
    **dict.fromkeys(("drivetrain", "pack", "electronics"), FAINT),
    **dict.fromkeys(("heating", "cooling", "pack_conditioning"), ACCENT),
}
SHORT_NAMES = {
    "air": "air",
    "rolling": "tyres",
    "climbing": "climbing",
    "brakes": "brakes",
    "drivetrain": "motor and gears",
    "pack": "battery losses",
    "heating": "heating",
    "cooling": "cooling",
    "pack_conditioning": "battery warming",
    "electronics": "lights and electronics",
}


@dataclass(frozen=True, slots=True)
class LedgerView:
    """Where the energy goes."""

    drawing: Drawing
    head: str
    unit: str
    rows: tuple[Row, ...]
    total: Row
    sentence: str


def ledger_view(quote: Quote, units: Units) -> LedgerView:
    """The table in the order of the causes, and the strip of those that take energy."""
    ledger = {cause: quote.to_empty.ledger_j_per_m.get(cause, 0.0) for cause in CAUSES}
    total = sum(ledger.values())
    told = {cause: plain(consumption_number(value, units)) for cause, value in ledger.items()}
    rows = tuple(
        Row(CAUSE_NAMES[cause].capitalize(), told[cause], per_cent(value / total))
        for cause, value in ledger.items()
        if told[cause] != "0"
    )
    segments = [Segment(SHORT_NAMES[cause], value, COLOURS[cause]) for cause, value in ledger.items() if value > 0]
    helped = quote.engine is not None and quote.engine.depleting_engine_j_m > 0
    givers = "battery and engine" if helped else "the battery"
    title = f"Energy drawn from {givers} for each stretch of road, by cause"
    description = "; ".join(f"{row.name} {row.value} {consumption_unit(units)}" for row in rows)
    strip = [draw_strip("ledger", title, description, segments, size) for size in (WIDE, NARROW)]
    wall = quote.to_empty.wall_j_per_m
    at_socket = ""
    if wall and wall.p50 > LEAST_J_M:
        at_socket = (
            f"At the socket that is {consumption(wall.p50, units)}, or {consumption_per_trade_unit(wall.p50, units)}."
        )
    if quote.engine is None and quote.journey_cost is not None:  # of cars with an engine it is told with the fuel
        at_socket += f" The drive costs about {money(quote.journey_cost, quote.ask.prices.currency, WHOLE_FROM)}."
    return LedgerView(
        drawing=Drawing(*strip),
        head=f"From {givers}, on a middling day",
        unit=consumption_unit(units),
        rows=rows,
        total=Row(f"Drawn from {givers}", plain(consumption_number(total, units)), per_cent(1.0)),
        sentence=at_socket,
    )
