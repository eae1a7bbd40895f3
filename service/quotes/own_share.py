"""One's own share of electric driving beside the shares that fleets' statistics give the same car.

Scope    cars that plug in and have an engine. Own: the asked drive once a day, or a year's working days, charged in
         between as the question says. Fleets: `utility_factor` at the distance that the car's charge lasts.
Share    of the distance that the plug drives: one minus the fuel over that of the same drive at a sustained charge. It
         is what a utility factor means; metres on which a sustained engine happens to stand do not count.
Distance until the charge is used up on this drive. Where an engine runs long before that, it makes the charge last:
         then the label's distance stands in its place, if one is known. Of a year the mean of its twelve months.
"""

from dataclasses import dataclass

from service.quotes.answer import Quote
from service.quotes.utility_factor import FleetShares, fleet_shares
from service.quotes.year_answer import Commute, Year
from service.specs import Kind

__all__ = ["OwnShare", "own_share_of_drive", "own_share_of_year"]

LEAST_CHARGE = 0.01  # used on the way; less is none
LASTS = 0.5  # first fuel within this share of what the charge lasts: it is stretched by the engine


@dataclass(frozen=True, slots=True)
class OwnShare:
    """Both sides."""

    own: float  # share of the distance that the plug drives, central car
    depleting_m: float  # what the fleets' shares are read at
    from_label: bool  # that distance is the label's, not this drive's
    fleet: FleetShares


def own_share_of_drive(quote: Quote) -> OwnShare | None:
    """Of one drive a day; None without plug or engine, or where no distance is known."""
    if quote.engine is None or quote.ask.vehicle.kind is not Kind.PHEV:
        return None
    lasts, label = quote.engine.distances.actual_charge_depleting, quote.ask.vehicle.label
    if lasts is not None and quote.range_m.p50 >= LASTS * lasts.p50:
        return beside(plugged_share(quote), lasts.p50, from_label=False)
    told_m = label and label.electric_range_m
    return beside(plugged_share(quote), told_m, from_label=True) if told_m else None


def plugged_share(quote: Quote) -> float:
    """Of the journey: 1 where nothing is burnt, 0 where no less than at a sustained charge or the charge is kept."""
    engine = quote.engine
    if engine.fuel_m3_m.p50 <= 0:
        return 1.0
    if quote.journey.arrives_with.p50 > quote.ask.start.state_of_charge - LEAST_CHARGE:
        return 0.0
    return max(1 - engine.fuel_m3_m.p50 / max(engine.sustaining_m3_m, engine.fuel_m3_m.p50), 0.0)


def own_share_of_year(year: Year | Commute) -> OwnShare | None:
    """Of all working days; None without plug or engine."""
    if year.ask.vehicle.kind is not Kind.PHEV:
        return None
    months_m = [month.range_m.p50 for month in year.months]
    return beside(year.year.electric_share.p50, sum(months_m) / len(months_m), from_label=False)


def beside(own: float, depleting_m: float, from_label: bool) -> OwnShare:
    """One's own share with the published ones."""
    return OwnShare(own, depleting_m, from_label, fleet_shares(depleting_m))
