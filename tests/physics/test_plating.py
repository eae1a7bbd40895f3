"""Lithium plating: graphite's potential sets the current, falling with charge and cold."""

import numpy as np

from service.physics.battery import arrhenius_factor, charge_acceptance, plating_share, steady_acceptance


def test_colder_or_fuller_never_bears_more():
    kelvins, charges = np.linspace(243, 318, 40), np.linspace(0, 1, 41)
    grid = np.array([[plating_share(kelvin, charge) for charge in charges] for kelvin in kelvins])
    assert (np.diff(grid, axis=0) > 0).all()
    assert (np.diff(grid, axis=1) <= 0).all()


def test_cold_costs_what_the_printed_arrhenius_table_says():
    # 35 kJ/mol: 2.113 at 10 °C, 3.641 at 0 °C, 6.540 at −10 °C
    for kelvin, factor in ((283.15, 2.113), (273.15, 3.641), (263.15, 6.540)):
        assert abs(plating_share(kelvin, 0.3) * factor - 1) < 5e-4
        assert abs(arrhenius_factor(35e3, kelvin) - factor) < 1e-3


def test_colder_is_never_charged_faster_below_the_heat_limit():
    kelvins, charges = np.linspace(243, 318, 151), np.linspace(0, 1, 41)
    grid = np.array([[steady_acceptance(kelvin, charge) for charge in charges] for kelvin in kelvins])
    assert (np.diff(grid, axis=0) >= 0).all()
    assert (np.diff(grid, axis=1) <= 0).all()
    assert all(steady_acceptance(kelvin, 0.0) <= charge_acceptance(kelvin) <= 1 for kelvin in kelvins)
