"""What electricity and fuel cost, as it arrives; shared by quotes and years."""

from typing import Annotated

from pydantic import Field

from service.intake.fields import Incoming, Number, optional
from service.quotes.money import LITRE_M3
from service.specs import Prices
from service.units import KWH_J

__all__ = ["PricesIn"]

ShortWord = Annotated[str, Field(max_length=12)]


class PricesIn(Incoming):
    """What is paid, in whatever currency the asker means."""

    currency: ShortWord = Field(
        "",
        description="a word or sign that is given back beside every sum. Prices left open are the usual ones in EUR or "
        "USD; without a currency, of the place: USD in the United States, EUR elsewhere",
    )
    electricity_per_kwh: Number | None = optional("electricity_per_kwh")
    work_electricity_per_kwh: Number | None = optional("work_electricity_per_kwh", "null: as at home")
    fuel_per_l: Number | None = optional("fuel_per_l")

    def prices(self) -> Prices:
        """The same in SI."""
        return Prices(
            currency=self.currency.strip(),
            electricity_per_j=_scaled(self.electricity_per_kwh, 1 / KWH_J),
            work_electricity_per_j=_scaled(self.work_electricity_per_kwh, 1 / KWH_J),
            fuel_per_m3=_scaled(self.fuel_per_l, 1 / LITRE_M3),
        )


def _scaled(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor
