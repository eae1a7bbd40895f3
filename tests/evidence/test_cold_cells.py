"""What cold takes from published cells at low power, computed again with PyBaMM; and where ours lies among them."""

import os
import statistics

import numpy as np
import pytest

from tests.evidence.cells import COLD_SETS, cold_energy

HOURS = 5  # C/5
AGAIN = ("Ecker2015", "OKane2022", "Prada2013")  # the hardest hit in the cold, one in the middle, iron phosphate


def energy_j(pybamm, name, kelvin):
    """Of a full discharge held at a temperature, over the current."""
    values = pybamm.ParameterValues(name)
    values.update({"Ambient temperature [K]": kelvin, "Initial temperature [K]": kelvin})
    values["Current function [A]"] = values["Nominal cell capacity [A.h]"] / HOURS
    at_s = np.arange(0.0, 8 * 3600.0, 30.0)  # ends at the cell's lowest voltage
    model = pybamm.lithium_ion.DFN()
    done = pybamm.Simulation(model, parameter_values=values).solve([0, at_s[-1]], t_interp=at_s, initial_soc=1.0)
    return float(np.trapezoid(done["Terminal voltage [V]"].entries, done["Time [s]"].entries))


@pytest.mark.parametrize("name", AGAIN)
def test_the_sets_of_the_evidence_table(name):
    os.environ["PYBAMM_DISABLE_TELEMETRY"] = "true"
    pybamm = pytest.importorskip("pybamm", reason="PyBaMM is not installed")
    warm_j = energy_j(pybamm, name, 298.15)
    lost = [100 * (1 - energy_j(pybamm, name, kelvin) / warm_j) for kelvin in (263.15, 253.15)]
    assert lost == pytest.approx(COLD_SETS[name], abs=0.1)


def test_ours_loses_no_more_than_the_sets_do_on_average_and_not_much_less():
    ours = [row.model for row in cold_energy() if row.source.startswith("porous")]
    mean = [statistics.mean(column) for column in zip(*COLD_SETS.values(), strict=True)]  # 3.2 and 6.9 %
    for model, sets in zip(ours, mean, strict=True):
        assert 0.6 * sets < model < sets
