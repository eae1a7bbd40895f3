"""What a mid-size cabin conducts, identified from the published cold test of one car; run it as a script to see.

Data     one battery-electric car with a 5 kW resistive heater, driven on rolls from a full charge at −6.7 °C against
         22.2 °C: consumption about doubled on UDDS, +40 % on HWFET, +10 % on either without heat (national laboratory
         2013, seen in a report of it). Consumption is that of a drive to empty, from which the ranges were stated.
Car      ordinary figures, for its own are not published: A 30 lbf, B 0.20, C 0.018, 1 750 kg as tested, 24 kWh.
Unknown  conduction of the shell at rest, W/K. What heat adds in the two cycles is matched (with less without heat): two
         figures for one unknown, least squares. On rolls the body stands in the fan's wind, whatever the cycle's speed,
         so the test tells nothing of what speed adds on a road; that is what the panes' outer film adds. Fresh air,
         people, blower and heat capacity are the model's.
Check    practice: 40–60 W/K still, 60–90 W/K at motorway speed. Nothing is held to it.
"""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize_scalar

from service.catalogue import Catalogue, load_catalogue
from service.constants import ZERO_CELSIUS_K
from service.physics.fresh_air import GLASS_INSIDE_W_M2_K, GLASS_PER_M_S_W_M2_K, GLASS_STILL_W_M2_K
from service.quotes.assume import complete
from service.quotes.scenarios import run, scenarios_for
from service.specs import (
    Ask,
    Battery,
    Cabin,
    Climate,
    Heating,
    Journey,
    Kind,
    MassBasis,
    Procedure,
    RoadLoad,
    Vehicle,
    Weather,
)
from service.units import KWH_J, n_s2_m2_from_lbf_per_mph2, n_s_m_from_lbf_per_mph, newton_from_pound_force

COLD_C, ROOM_C = -6.7, 22.2  # 20 °F and 72 °F
MORE_WITH_HEAT = {"udds": 1.0, "hwfet": 0.4}  # of the consumption at 22.2 °C
MORE_WITHOUT = 0.1
STILL_W_K, MOTORWAY_W_K = (40.0, 60.0), (60.0, 90.0)  # common practice
WIDE_W_K = (10.0, 150.0)  # where the data are looked for
MOTORWAY_M_S = 30.0  # 108 km/h
PANES_M2 = 3.0  # middle of 2.5–3.5 m², common practice
CAR = Vehicle(
    "own", "ordinary figures", Kind.BEV, 1750.0, MassBasis.TEST,
    RoadLoad(newton_from_pound_force(30.0), n_s_m_from_lbf_per_mph(0.20), n_s2_m2_from_lbf_per_mph2(0.018)),
    Battery(24 * KWH_J, heater_w=0.0), heating=Heating.RESISTIVE, heater_w=5000.0, body="medium",
)  # fmt: skip


@dataclass(frozen=True)
class Shell:
    """Conduction of a body."""

    still_w_k: float
    per_m_s_w_k: float

    @property
    def motorway_w_k(self) -> float:
        """At 108 km/h."""
        return self.still_w_k + MOTORWAY_M_S * self.per_m_s_w_k


def consumption_j_m(catalogue: Catalogue, cycle: str, celsius: float, climate: Climate, shell: Shell) -> float:
    """Energy at the terminals over distance of a drive to empty on rolls, J/m."""
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    cabin = Cabin(climate, ROOM_C + ZERO_CELSIUS_K)
    ask = Ask(
        CAR, Journey(cycle=cycle), Weather(celsius + ZERO_CELSIUS_K), Procedure.DYNAMOMETER, cabin=cabin, band=False
    )
    ask, _ = complete(ask, catalogue)
    scenarios = scenarios_for(ask, (), catalogue, values)
    scenarios.cars.ua_still_w_k, scenarios.cars.ua_per_m_s_w_k = shell.still_w_k, shell.per_m_s_w_k
    total = run(scenarios, ask, catalogue).total[0]
    return float(total.terminals_j / total.distance_m)


def heat_adds(catalogue: Catalogue, shell: Shell) -> dict[str, float]:
    """What cabin heat adds in the cold, over the consumption at 22.2 °C, by cycle."""
    return {
        cycle: (
            consumption_j_m(catalogue, cycle, COLD_C, Climate.AUTO, shell)
            - consumption_j_m(catalogue, cycle, COLD_C, Climate.OFF, shell)
        )
        / consumption_j_m(catalogue, cycle, ROOM_C, Climate.AUTO, shell)
        for cycle in MORE_WITH_HEAT
    }


def panes_rise_w_k() -> float:
    """What the panes alone conduct more at motorway speed than still, W/K: films as in `fresh_air`, thin glass."""
    pane_w_m2_k = [
        1 / (1 / GLASS_INSIDE_W_M2_K + 1 / (GLASS_STILL_W_M2_K + GLASS_PER_M_S_W_M2_K * speed_m_s))
        for speed_m_s in (0.0, MOTORWAY_M_S)
    ]
    return PANES_M2 * (pane_w_m2_k[1] - pane_w_m2_k[0])


def misses(catalogue: Catalogue, shell: Shell) -> np.ndarray:
    """Model less data, by cycle."""
    ours = heat_adds(catalogue, shell)
    return np.array([ours[cycle] - (more - MORE_WITHOUT) for cycle, more in MORE_WITH_HEAT.items()])


def identified(catalogue: Catalogue) -> Shell:
    """The shell nearest to the data that rises as its panes do."""

    def shell(still_w_k: float) -> Shell:
        return Shell(still_w_k, panes_rise_w_k() / MOTORWAY_M_S)

    found = minimize_scalar(
        lambda still_w_k: float(np.sum(misses(catalogue, shell(still_w_k)) ** 2)), bounds=WIDE_W_K, method="bounded",
        options={"xatol": 0.1},
    )  # fmt: skip
    return shell(float(found.x))


def main() -> None:
    """Print both, and how the table's row does."""
    catalogue = load_catalogue()
    body = catalogue.body("medium")
    table = Shell(body.ua_still_w_k, body.ua_per_m_s_w_k)
    for name, shell in (("identified", identified(catalogue)), ("table", table)):
        adds = ", ".join(f"{cycle} +{100 * more:.0f} %" for cycle, more in heat_adds(catalogue, shell).items())
        print(f"{name:16} {shell.still_w_k:5.1f} W/K still, {shell.per_m_s_w_k:+.2f} W/K per m/s, ", end="")
        print(f"{shell.motorway_w_k:5.1f} W/K at 108 km/h; heat adds {adds}")
    wanted = ", ".join(f"{cycle} +{100 * (more - MORE_WITHOUT):.0f} %" for cycle, more in MORE_WITH_HEAT.items())
    print(f"published: heat adds {wanted}")


if __name__ == "__main__":
    main()
