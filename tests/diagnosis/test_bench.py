"""One drive as rows: the upper part of a pack, parking places, measured tyres."""

from dataclasses import replace

import numpy as np
import pytest

from service.diagnosis.bench import distance_m, drive, pressure_share, window_j
from service.diagnosis.complaint import Parked
from service.quotes.build import build_quote
from service.quotes.scenarios import run, scenarios_for
from service.specs import Journey, Leg, Start, Weather

COLD = Weather(263.15, 0.8, 3.0, 0.0)
MILD = Weather(293.15, 0.6, 3.0, 100.0)
FAR = Journey(legs=(Leg(700_000.0, 25.0),))  # one journey longer than the pack lasts


def recorded_m(complaint, bench, catalogue, values):
    """Where the whole pack passes the end charge, by the march's own record (a row every ten seconds)."""
    _, whole = bench(complaint)
    scenarios = scenarios_for(replace(whole.ask, band=False), (), catalogue, values)
    record = run(scenarios, whole.ask, catalogue, recorded=True).record
    return float(np.interp(-complaint.end_charge, -record.charge, record.distance_m))


@pytest.mark.parametrize("weather", [MILD, COLD], ids=["mild", "cold"])
@pytest.mark.parametrize(("start", "end"), [(1.0, 0.1), (0.9, 0.4), (1.0, 0.7), (0.5, 0.3)])
@pytest.mark.parametrize("car", ["mid-electric-sedan", "compact-plug-in", "small-electric-hatch"])
def test_a_cut_window_ends_where_the_whole_pack_passes_that_charge(
    car, start, end, weather, complain, bench, catalogue, values
):
    complaint = complain(car, 1.0, weather, FAR, Start(start), end_charge=end)
    made, _ = bench(complaint)
    reached = distance_m(drive([made], catalogue))[0]
    assert reached == pytest.approx(recorded_m(complaint, bench, catalogue, values), rel=5e-3, abs=60)  # a row is 10 s


def test_to_empty_is_the_quotes_own_drive(complain, bench, catalogue):
    made, whole = bench(complain("mid-electric-sedan", 1.0))
    quote = build_quote(replace(whole.ask, band=False), catalogue)
    assert distance_m(drive([made], catalogue))[0] == quote.range_m.p50


def test_what_the_cells_give_is_what_the_drive_took(complain, bench, catalogue):
    for end in (0.0, 0.3):
        made, _ = bench(complain("mid-electric-sedan", 1.0, end_charge=end))
        assert window_j(made) == pytest.approx(drive([made], catalogue).total.cells_j[0], rel=2e-3)


def test_a_warmer_parking_place_goes_farther_in_the_cold(complain, bench, catalogue):
    benches = [bench(complain("compact-plug-in", 1.0, COLD, parked=each))[0] for each in (None, *Parked)]
    free, outside, garage, warm = distance_m(drive(benches, catalogue))
    assert free == outside  # soaked is outside
    assert outside < garage < warm


def test_a_garage_is_half_way_to_fifteen_degrees(complain, bench):
    made, _ = bench(complain("compact-plug-in", 1.0, COLD, parked=Parked.GARAGE))
    assert made.state.pack_k[0] == pytest.approx(0.5 * (263.15 + 288.15))
    assert made.state.tyre_rise_k[0] == pytest.approx(12.5)


def test_unmeasured_tyres_are_right(complain):
    assert pressure_share(complain("compact-plug-in", 1.0)) == 1.0
    assert pressure_share(complain("compact-plug-in", 1.0, tyre_pa=220e3, placard_pa=220e3)) == 1.0
