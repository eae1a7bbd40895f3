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
    where = f"where the label says {lasts}" if found.from_label else f"where a charge lasts {lasts}"
    return bound(
        f"{share} of {driven} is driven on electricity from the plug. Official averages {where}: US label "
        f"{per_cent(fleet.us_label)}, US fleet {per_cent(fleet.us_fleet)}; Europe {per_cent(fleet.un_800)}, from 2025 "
        f"{per_cent(fleet.un_2200)}, from 2027 {per_cent(fleet.un_4260)}. {why_they_differ()}"
    )


def why_they_differ() -> str:
    """One sentence."""
    return "Averages count many drivers, some of whom drive far or seldom plug in; yours counts your own trips alone."
