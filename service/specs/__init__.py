"""What is known about a car, a day and a person's choices: frozen records in SI, None where unknown.

Nothing here knows where a record comes from (catalogue, form, JSON) or what is done with it.
A None in a `Vehicle` is filled by `service.quotes.assume`, which lists the value and its source in the answer.
"""

from service.specs.ask import Ask, Typical
from service.specs.day import Clock, Place, Procedure, Surface, Weather
from service.specs.journey import Cycle, Journey, Leg, Track
from service.specs.label import Anchor, Label, LabelProcedure, Meter
from service.specs.supply import Circuit, DayKind, LoadRule, Metal, Prices, Run, Tariff, TariffPeriod, TariffTier
from service.specs.use import Cabin, CabinAir, Climate, DriveMode, EngineUse, Outfit, Start, Trailer, TyreClass
from service.specs.vehicle import (
    Battery,
    Body,
    BodyAndTyres,
    Chemistry,
    Engine,
    Fuel,
    Heating,
    Kind,
    Layout,
    MassBasis,
    PowerSplit,
    RoadLoad,
    Triggers,
    Vehicle,
)

__all__ = [
    "Anchor",
    "Ask",
    "Battery",
    "Body",
    "BodyAndTyres",
    "Cabin",
    "CabinAir",
    "Chemistry",
    "Circuit",
    "Climate",
    "Clock",
    "Cycle",
    "DayKind",
    "DriveMode",
    "Engine",
    "EngineUse",
    "Fuel",
    "Heating",
    "Journey",
    "Kind",
    "Label",
    "LabelProcedure",
    "Layout",
    "Leg",
    "LoadRule",
    "MassBasis",
    "Metal",
    "Meter",
    "Outfit",
    "Place",
    "PowerSplit",
    "Prices",
    "Procedure",
    "RoadLoad",
    "Run",
    "Start",
    "Surface",
    "Tariff",
    "TariffPeriod",
    "TariffTier",
    "Track",
    "Trailer",
    "Triggers",
    "Typical",
    "TyreClass",
    "Vehicle",
    "Weather",
]
