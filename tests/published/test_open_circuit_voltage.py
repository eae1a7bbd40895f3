"""Open-circuit voltage of cells against published parameter sets, read off at equal steps of charge.

Source   C.-H. Chen et al., J. Electrochem. Soc. 167 (2020) 080534 (NMC 811 and graphite with silicon, 2.5–4.2 V);
         E. Prada et al., J. Electrochem. Soc. 160 (2013) A616 (iron phosphate and graphite, 2.0–3.6 V);
         G.-H. Kim et al., J. Electrochem. Soc. 158 (2011) A955 (NCA and graphite, 2.7–4.2 V: limits only).
         Charge is counted between each set's own voltage limits, at 25 °C.
"""

import os

import numpy as np
import pytest

from service.catalogue import load_catalogue
from service.physics.battery import open_circuit_v

CHEMISTRIES = load_catalogue().chemistries
HALF_A_DIGIT_V = 5.5e-4  # printed to 1 mV, stored to 0.1 mV

PUBLISHED = [  # charge, NMC, iron phosphate
    (0.05, 3.109, 2.785),
    (0.1, 3.296, 2.978),
    (0.2, 3.485, 3.169),
    (0.3, 3.581, 3.206),
    (0.4, 3.667, 3.253),
    (0.5, 3.751, 3.266),
    (0.6, 3.841, 3.269),
    (0.7, 3.948, 3.274),
    (0.8, 4.042, 3.310),
    (0.9, 4.097, 3.314),
    (1.0, 4.200, 3.600),
]


@pytest.mark.parametrize(("charge", "nmc_v", "lfp_v"), PUBLISHED)
def test_cell_voltage_at_charge(charge, nmc_v, lfp_v):
    assert open_circuit_v(np.array(CHEMISTRIES["nmc"].ocv_grid_v), charge) == pytest.approx(nmc_v, abs=HALF_A_DIGIT_V)
    assert open_circuit_v(np.array(CHEMISTRIES["lfp"].ocv_grid_v), charge) == pytest.approx(lfp_v, abs=HALF_A_DIGIT_V)


@pytest.mark.parametrize(("name", "empty_v", "full_v"), [("nmc", 2.5, 4.2), ("nca", 2.7, 4.2), ("lfp", 2.0, 3.6)])
def test_curve_ends_at_the_limits_of_its_set(name, empty_v, full_v):
    curve_v = np.array(CHEMISTRIES[name].ocv_grid_v)
    assert open_circuit_v(curve_v, 0.0) == pytest.approx(empty_v, abs=HALF_A_DIGIT_V)
    assert open_circuit_v(curve_v, 1.0) == pytest.approx(full_v, abs=HALF_A_DIGIT_V)


# every point of the stored grids, remade from the parameter sets that the library ships
@pytest.mark.parametrize(("name", "parameters"), [("nmc", "Chen2020"), ("nca", "NCA_Kim2011"), ("lfp", "Prada2013")])
def test_stored_grid_against_pybamm_live(name, parameters):
    os.environ["PYBAMM_DISABLE_TELEMETRY"] = "true"
    pybamm = pytest.importorskip("pybamm", reason="PyBaMM is not installed")
    values, model = pybamm.ParameterValues(parameters), pybamm.LithiumIonParameters()
    x_empty, x_full, y_full, y_empty = pybamm.lithium_ion.ElectrodeSOHSolver(values).get_min_max_stoichiometries()
    kelvin = values["Ambient temperature [K]"]
    chemistry = CHEMISTRIES[name]
    for charge, volts in zip(chemistry.soc_grid, chemistry.ocv_grid_v, strict=True):
        positive = model.p.prim.U(y_empty + charge * (y_full - y_empty), kelvin)
        negative = model.n.prim.U(x_empty + charge * (x_full - x_empty), kelvin)
        assert float(values.evaluate(positive - negative)) == pytest.approx(volts, abs=6e-5)  # stored to 0.1 mV
