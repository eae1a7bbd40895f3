"""200 plausible cars of one era on rolls: what stands beside a published mean of a few.

Method   Latin hypercube with a fixed seed over what differs from car to car and from test to test. Each uncertainty is
         drawn once: drag area, tyres, bearing and oil drag, tyre share, motor, blower by the spreads of
         data/typical.csv; losses, pack, heat, 12 V consumers, charger and the laboratory's own scatter by its scatter_*
         rows, as a quote's band draws them. A car's rolls are set to its own coastdown coefficients.
Priors   sizes, batteries, heaters and heat pumps as was usual in the year of a test: from memory; none was moved to
         bring a comparison nearer.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from scipy.stats import norm, qmc

from service.catalogue import Catalogue
from service.constants import STANDARD_GRAVITY_M_S2, US_REFERENCE_AIR_KG_M3, WLTP_REFERENCE_AIR_KG_M3
from service.physics.rows import DRAW
from service.quotes.assume import complete
from service.quotes.band import scatter
from service.quotes.loading import equivalent_test_mass_kg, wltp_test_mass_kg
from service.quotes.procedure_run import impose
from service.quotes.procedures import us_cold
from service.quotes.scenarios import run, scenarios_for
from service.specs import Ask, Battery, Cabin, Heating, Journey, Kind, MassBasis, Procedure, RoadLoad, Vehicle, Weather
from service.units import KWH_J

__all__ = ["CARS", "Car", "Era", "drive", "population"]

CARS = 200
FREEZING_K = 273.15
SEED = 20_262  # any fixed number
GLIDER_KG = {"small": 1230.0, "medium": 1430.0, "large": 1750.0}  # car without its traction battery: from memory
GLIDER_SPREAD = 0.06  # 1 σ within a size: from memory
ENGINE_KG = 120.0  # engine, tank and exhaust of a plug-in hybrid: from memory
TYRE_AT_20_C = np.exp(0.008 * 5)  # label's 25 °C to the coastdown's 20 °C, UN R117
SHARES = ("size", "heat_pump", "battery", "heater")
SPREADS = ("glider", "cd_a", "crr", "motor", "no_load_n_s_m", "tyre_share", "blower_w")
MOST_TYRE_SHARE = 0.97  # bearings and seals are never nothing


@dataclass(frozen=True, slots=True)
class Era:
    """What cars of the year of a test were like: usable kWh and share of each size, heaters, heat pumps."""

    sizes: Mapping[str, float]
    usable_kwh: Mapping[str, tuple[float, float]]
    heater_kw: tuple[float, float]
    heat_pumps: float
    kind: Kind = Kind.BEV


@dataclass(frozen=True, eq=False, slots=True)
class Car:
    """One car by what its rolls and its test need."""

    kind: Kind
    size: str
    kerb_kg: float
    crr: float
    cd_a_m2: float
    battery: Battery
    motor_w: float
    heating: Heating
    heater_w: float
    values: Mapping[str, float]
    normals: Mapping[str, float]  # of each factor of a draw

    def on_rolls(self, us: bool) -> Vehicle:
        """With the coefficients that its rolls are set to."""
        mass_kg = equivalent_test_mass_kg(self.kerb_kg) if us else wltp_test_mass_kg(self.kerb_kg)
        tyre_n = self.crr * TYRE_AT_20_C * mass_kg * STANDARD_GRAVITY_M_S2
        air_kg_m3 = US_REFERENCE_AIR_KG_M3 if us else WLTP_REFERENCE_AIR_KG_M3
        load = RoadLoad(
            tyre_n / self.values["tyre_share"], self.values["no_load_n_s_m"], 0.5 * air_kg_m3 * self.cd_a_m2, mass_kg,
            reference_pa=98_210.0 if us else 100_000.0,
        )  # fmt: skip
        return Vehicle(
            "population", "population", self.kind, self.kerb_kg, MassBasis.KERB, load, self.battery,
            motor_w=self.motor_w, heating=self.heating, heater_w=self.heater_w, body=self.size,
        )  # fmt: skip


@lru_cache(maxsize=1)
def hypercube() -> tuple[np.ndarray, ...]:
    """Uniform columns, one a name: SHARES, SPREADS and the factors of a draw."""
    names = (*SHARES, *SPREADS, *DRAW.names)
    return tuple(qmc.LatinHypercube(len(names), rng=np.random.default_rng(SEED)).random(CARS).T)


def population(era: Era, catalogue: Catalogue) -> list[Car]:
    """The cars of an era; car k of every era sits at the same place of the hypercube."""
    columns = hypercube()
    names = (*SHARES, *SPREADS, *DRAW.names)
    return [car_of(era, {name: column[k] for name, column in zip(names, columns, strict=True)}, catalogue)
            for k in range(CARS)]  # fmt: skip


def car_of(era: Era, place: Mapping[str, float], catalogue: Catalogue) -> Car:
    """One car from its place in the hypercube, 0 to 1 on each axis."""
    normals = {name: float(norm.ppf(place[name])) for name in (*SPREADS, *DRAW.names)}

    def spread(entry: str, axis: str) -> float:
        typical = catalogue.typical_entry(entry)
        return typical.value * float(np.exp(typical.spread * normals[axis]))

    size = size_of(era, place["size"])
    low_kwh, high_kwh = era.usable_kwh[size]
    usable_j = KWH_J * (low_kwh + (high_kwh - low_kwh) * place["battery"])
    suffix = "engine" if era.kind.has_engine else "bev"
    nominal_j = usable_j * catalogue.typical_entry(f"nominal_over_usable_{suffix}").value
    kerb_kg = GLIDER_KG[size] * float(np.exp(GLIDER_SPREAD * normals["glider"]))
    kerb_kg += nominal_j / 3600 / catalogue.typical_entry("pack_wh_per_kg").value
    kerb_kg += ENGINE_KG if era.kind.has_engine else 0.0
    values = {name: each.value for name, each in catalogue.typical.items()}
    for entry in ("no_load_n_s_m", "blower_w", "tyre_share"):
        values[entry] = spread(entry, entry)
    values["tyre_share"] = min(values["tyre_share"], MOST_TYRE_SHARE)
    low_kw, high_kw = era.heater_kw
    return Car(
        kind=era.kind,
        size=size,
        kerb_kg=kerb_kg,
        crr=spread("crr", "crr"),
        cd_a_m2=spread(f"cd_a_{size}_m2", "cd_a"),
        battery=Battery(usable_j, nominal_j),
        motor_w=kerb_kg * spread(f"motor_w_per_kg_{suffix}", "motor"),
        heating=Heating.HEAT_PUMP if place["heat_pump"] < era.heat_pumps else Heating.RESISTIVE,
        heater_w=1000.0 * (low_kw + (high_kw - low_kw) * place["heater"]),
        values=values,
        normals={name: normals[name] for name in DRAW.names},
    )


def size_of(era: Era, place: float) -> str:
    """The size whose share of the era holds that place."""
    total = 0.0
    for size, share in era.sizes.items():
        total += share
        if place < total:
            return size
    return size


def drive(
    car: Car,
    journey: Journey,
    days: tuple[tuple[Weather, Cabin], ...],
    catalogue: Catalogue,
    rolls: bool = True,
    cold_rolls: bool = False,
) -> tuple[np.recarray, np.recarray]:
    """Ledgers of one journey and of the drive to empty, a row for each day, all factors of the car drawn.

    Args:
        cold_rolls: on days of frost the rolls are set as in the US cold test, which stands for cold tyres and air.
    """
    vehicle = car.on_rolls(us=journey.cycle is None or not journey.cycle.startswith("wltc"))
    procedure = Procedure.DYNAMOMETER if rolls else Procedure.ROAD
    asks = [
        complete(Ask(vehicle, journey, weather, procedure, cabin=cabin, band=False), catalogue)[0]
        for weather, cabin in days
    ]
    changes = tuple((ask, factors_of(car, ask)) for ask in asks)
    scenarios = scenarios_for(asks[0], changes, catalogue, car.values)
    for row, ask in enumerate((asks[0], *asks)):
        if cold_rolls and ask.weather.ambient_k < FREEZING_K:
            impose(scenarios.cars[row : row + 1], replace(us_cold(), cell_k=ask.weather.ambient_k))
    outcome = run(scenarios, asks[0], catalogue)
    return outcome.first[1:], outcome.total[1:]


def factors_of(car: Car, ask: Ask) -> dict[str, float]:
    """The car's place on each factor, by the scatter of a question."""
    sigma = scatter(ask, car.values)
    return {name: float(np.exp(sigma[name] * car.normals[name])) for name in DRAW.names}
