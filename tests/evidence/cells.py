"""Cells: open-circuit voltage, cold resistance, usable energy in the cold, a pack's voltage."""

import numpy as np

from service.catalogue import load_catalogue
from service.catalogue.evidence import Check, Mark
from service.physics.battery import arrhenius_factor, open_circuit_v, pack_resistance_ohm
from service.quotes.assume import complete
from service.quotes.scenarios import rows_for
from service.specs import Ask, Journey, Weather
from service.units import kelvin_from_celsius
from tests.evidence.checks import Source
from tests.published.test_open_circuit_voltage import PUBLISHED

__all__ = ["arrhenius", "cold_energy", "open_circuit"]

NMC = Source("Cell voltage", "Chen et al., J. Electrochem. Soc. 167 (2020) 080534, parameter set", Mark.PUBLISHED)
LFP = Source("Cell voltage", "Prada et al., J. Electrochem. Soc. 160 (2013) A616, parameter set", Mark.PUBLISHED)
NCA = Source("Cell voltage", "Kim et al., J. Electrochem. Soc. 158 (2011) A955, limits", Mark.PUBLISHED)
ARRHENIUS = Source("Cold cells", "exp[E/R·(1/T − 1/298.15 K)], worked by hand", Mark.COMPUTED)
HANDBOOK = Source(
    "Cold cells", "usable energy at low power", Mark.MEMORY,
    "whole cells to their own lowest voltage; a car's window and the sets below keep more"
)  # fmt: skip
POROUS = Source(
    "Cold cells", "porous-electrode model of seven published parameter sets (PyBaMM 26.10.1.1)", Mark.COMPUTED
)  # fmt: skip
# per cent of the energy at 25 °C that a C/5 discharge loses at −10 and −20 °C; remade live in test_cold_cells.py
COLD_SETS = {
    "Chen2020": (1.99, 2.77),
    "Ecker2015": (4.15, 19.04),
    "Marquis2019": (3.75, 6.32),
    "NCA_Kim2011": (0.92, 1.60),
    "OKane2022": (4.99, 8.07),
    "ORegan2022": (4.83, 8.04),
    "Prada2013": (1.92, 2.76),
}
FACTORS = (  # kJ/mol, then factors by °C
    (20, {40: "0.679", 10: "1.533", 0: "2.093", -10: "2.924", -20: "4.196"}),
    (25, {40: "0.617", 10: "1.706", 0: "2.517", -10: "3.824", -20: "6.006"}),
    (35, {40: "0.508", 10: "2.113", 0: "3.641", -10: "6.540", -20: "12.30"}),
)


def open_circuit() -> list[Check]:
    """Read off the grids that packs are built from."""
    cells = load_catalogue().chemistries
    curves = {name: np.array(cell.ocv_grid_v) for name, cell in cells.items()}
    rows = []
    for charge, nmc_v, lfp_v in PUBLISHED:
        for source, name, volts in ((NMC, "nmc", nmc_v), (LFP, "lfp", lfp_v)):
            condition = f"{name.upper()} at {100 * charge:g} % charge, 25 °C"
            rows.append(source.value(condition, f"{volts:.3f}", open_circuit_v(curves[name], charge), "V"))
    for source, name, empty, full in ((NMC, "nmc", "2.5", None), (LFP, "lfp", "2.0", None), (NCA, "nca", "2.7", "4.2")):
        rows.append(source.value(f"{name.upper()} empty", empty, open_circuit_v(curves[name], 0.0), "V"))
        if full:
            rows.append(source.value(f"{name.upper()} full", full, open_circuit_v(curves[name], 1.0), "V"))
    return rows


def arrhenius() -> list[Check]:
    """The printed table; worked example 25 is in it."""
    return [
        ARRHENIUS.value(
            f"resistance at {celsius} °C over 25 °C, {kj} kJ/mol",
            printed,
            arrhenius_factor(1000.0 * kj, kelvin_from_celsius(celsius)),
            "1",
        )
        for kj, by_celsius in FACTORS
        for celsius, printed in by_celsius.items()
    ]


def cold_energy() -> list[Check]:
    """A C/5 discharge of an invented sedan's pack, held at a temperature."""
    catalogue = load_catalogue()
    values = {name: each.value for name, each in catalogue.typical.items()}
    ask = Ask(catalogue.vehicles["mid-electric-sedan"], Journey(cycle="udds"), Weather(298.15))
    car = rows_for(complete(ask, catalogue)[0], catalogue, values)[0][0]

    def energy_j(kelvin: float, steps: int = 2000) -> float:
        amps, total_j = car.capacity_c / (5 * 3600), 0.0
        for k in range(steps):
            charge = 1 - (k + 0.5) / steps
            ohm = pack_resistance_ohm(car.resistance_ohm, car.activation_j_mol, kelvin, charge)
            volt = open_circuit_v(car.ocv_v, charge) - amps * ohm
            if volt < car.min_v:
                break
            total_j += volt * car.capacity_c / steps
        return total_j

    warm_j = energy_j(298.15)
    lost = {celsius: 100 * (1 - energy_j(kelvin_from_celsius(celsius)) / warm_j) for celsius in (-10, -20)}
    words = "energy lost at {} °C, C/5, pack held there"
    spans = {-10: (5.0, 10.0), -20: (10.0, 20.0)}
    rows = [HANDBOOK.span(words.format(celsius), *spans[celsius], lost[celsius], "%") for celsius in lost]
    for column, celsius in enumerate(lost):
        found = [each[column] for each in COLD_SETS.values()]
        rows.append(
            POROUS.span(f"{words.format(celsius)}, beside cell models", min(found), max(found), lost[celsius], "%")
        )
    return rows
