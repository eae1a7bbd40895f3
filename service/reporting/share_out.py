"""One's own electric share and the published utility factors, as they leave."""

from typing import Self

from pydantic import Field

from service.quotes.own_share import OwnShare
from service.reporting.outgoing import Outgoing, rounded
from service.reporting.share_sentences import why_they_differ

__all__ = ["UtilityFactorsOut"]
CFR, UN = "40 CFR 600.116-12(c)(4)", "UN R154 annex B8 appendix 5"


class UtilityFactorsOut(Outgoing):
    """What share of a fleet's distance the same car drives electrically, beside the share of one's own trips."""

    own_pct: float = Field(
        description="of one's own distance, driven by the plug: one minus fuel over that at a sustained charge"
    )
    at_km: float = Field(description="what the charge lasts: where the published curves are read")
    from_label: bool = Field(description="at_km is the label's, for on this drive the engine runs before it must")
    us_label_pct: float = Field(description=f"one car on many days: {CFR}, after SAE J2841")
    us_city_pct: float = Field(description=f"fleet, city: {CFR}")
    us_highway_pct: float = Field(description=f"fleet, highway: {CFR}")
    us_fleet_pct: float = Field(description="fleet, all roads: SAE J2841 table 2")
    un_800_pct: float = Field(description=f"{UN}, normalised by 800 km")
    un_2200_pct: float = Field(description=f"{UN}, by 2 200 km: from 2025")
    un_4260_pct: float = Field(description=f"{UN}, by 4 260 km: from 2027")
    why_they_differ: str

    @classmethod
    def of_optional(cls, found: OwnShare | None) -> Self | None:
        """From fractions and metres; null where there is nothing to compare."""
        if found is None:
            return None
        names = [name for name in cls.model_fields if name.startswith(("us_", "un_"))]
        return cls(
            own_pct=rounded(100 * found.own),
            at_km=rounded(found.depleting_m / 1000),
            from_label=found.from_label,
            why_they_differ=why_they_differ(),
            **{name: rounded(100 * getattr(found.fleet, name.removesuffix("_pct"))) for name in names},
        )
