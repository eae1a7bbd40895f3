"""Residual brake drag, by hand: 1 N·m on each of four wheels of 0.31 m."""

from dataclasses import replace

import pytest

from service.diagnosis.bench import bench_for, drive
from service.diagnosis.causes import changed
from service.diagnosis.complaint import Complaint
from service.diagnosis.verdict import completed
from service.specs import Ask, Journey, Leg, Start, Weather

CRUISE = Journey(legs=(Leg(30_000.0, 22.0),))
MILD = Weather(293.15, 0.6, 0.0, 0.0)


@pytest.fixture(scope="module", params=["mid-electric-sedan", "compact-plug-in", "electric-delivery-van"])
def rows(request, catalogue, values):
    ask = Ask(catalogue.vehicles[request.param], CRUISE, MILD, start=Start(0.9))
    complaint, _ = completed(Complaint(ask, 1e5, health_stated=True), catalogue)
    return bench_for(complaint, catalogue, values), complaint


def test_one_newton_metre_on_each_wheel_is_3_6_wh_per_km_of_work(rows):
    # F = 4·τ/r = 4/0.31 = 12.9 N, so 12.9 J/m; over 3.6 J/m per Wh/km: 3.58, printed as 3.6
    bench, complaint = rows
    dragged = changed(bench, complaint, "dragging_brakes", 1.0)
    force_n = float(dragged.car.bearing_n[0] - bench.car.bearing_n[0])
    assert force_n == pytest.approx(12.9, abs=0.05)
    assert force_n / 3.6 == pytest.approx(3.6, abs=0.05)


def test_the_battery_gives_that_work_and_the_drivetrains_loss(rows, catalogue):
    bench, complaint = rows
    dragged = changed(bench, complaint, "dragging_brakes", 1.0)
    first = drive([bench, dragged], catalogue).first
    more_j = (first.cells_j[1] - first.cells_j[0]) / first.distance_m[0]
    work_j = 4 / 0.31
    assert work_j < more_j < work_j / 0.85  # motor, inverter and gear 85-93 % over a cycle, more at a steady speed


def test_drag_is_proportional_to_the_torque(rows, catalogue):
    bench, complaint = rows
    benches = [bench, *(changed(bench, complaint, "dragging_brakes", torque) for torque in (2.0, 4.0))]
    none, two, four = drive(benches, catalogue).first.cells_j
    assert four - none == pytest.approx(2 * (two - none), rel=0.03)


# SAE J2452 form, α = −0.4 (−0.3 to −0.5, from memory): 210 → 250 kPa ×0.9326; 250 → 200 kPa ×1.0934
@pytest.mark.parametrize(("measured", "placard", "factor"), [(250, 210, 0.9326), (200, 250, 1.0934)])
def test_measured_pressure_scales_the_rolling_resistance_expected(rows, catalogue, values, measured, placard, factor):
    bench, complaint = rows
    soft = replace(complaint, tyre_pa=1e3 * measured, placard_pa=1e3 * placard)
    first = drive([bench, bench_for(soft, catalogue, values)], catalogue).first
    assert first.rolling_j[1] / first.rolling_j[0] == pytest.approx(factor, abs=6e-5)


def test_the_same_pressure_guessed_or_measured_is_the_same_car(rows, catalogue, values):
    bench, complaint = rows
    measured = bench_for(replace(complaint, tyre_pa=200e3), catalogue, values)
    guessed = changed(bench, complaint, "soft_tyres", 50.0)
    assert measured.car.tyre_n[0] == pytest.approx(guessed.car.tyre_n[0])


def test_a_headwind_of_5_m_s_at_100_km_h(rows, catalogue):
    # example 26: head wind of 5 m/s at 100 km/h multiplies air drag by (1 + 5/27.78)² = 1.3924
    bench, complaint = rows
    windy = changed(bench, complaint, "headwind", 5 * 3.6 / 0.65)  # 0.65 of the wind at 10 m reaches the car
    speed_m_s = 100 / 3.6
    still_n = 0.5 * bench.day.air_kg_m3[0] * bench.car.drag_area_m2[0] * speed_m_s**2
    more_n = windy.car.bearing_n[0] - bench.car.bearing_n[0]
    more_n += (windy.car.bearing_n_s_m[0] - bench.car.bearing_n_s_m[0]) * speed_m_s
    assert (still_n + more_n) / still_n == pytest.approx(1.3924, abs=5e-4)
