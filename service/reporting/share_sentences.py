"""One's own electric share beside the official averages, in plain words."""

from service.quotes.own_share import OwnShare
from service.reporting.words import Units, bound, distance, per_cent

__all__ = ["beside_averages", "why_they_differ"]

FULL, NONE = 0.995, 0.005  # shares told as all and as nothing


def beside_averages(found: OwnShare, driven: str, units: Units) -> str:
    """Both sides, and why they differ.

    Args:
        driven: one's own driving, after "all of": "26 km a day, charged once a day,".
    """
    fleet, own = found.fleet, found.own
    share = "All" if own >= FULL else "None" if own <= NONE else per_cent(own)
    lasts = distance(found.depleting_m, units)
    car = f"whose label says {lasts}" if found.from_label else f"that goes {lasts} on a charge"
    return bound(
        f"{share} of {driven} is driven on electricity from the plug. Official averages for a car {car}: "
        f"{per_cent(fleet.us_label)} on US labels, {per_cent(fleet.us_fleet)} in the US fleet; in Europe "
        f"{per_cent(fleet.un_800)} by the first rule, {per_cent(fleet.un_2200)} from 2025, {per_cent(fleet.un_4260)} "
        f"from 2027. {why_they_differ()}"
    )


def why_they_differ() -> str:
    """One sentence."""
    return (
        "They are averages over many drivers, some of whom drive far or seldom plug in; yours is your own trips, "
        "charged as stated."
    )
