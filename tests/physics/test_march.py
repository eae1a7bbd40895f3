"""The time loop: it follows the trace as far as it can, and the books close whatever happens."""

import numpy as np
import pytest

from service.physics.march import COMPLETED, EMPTY, EVENT_KINDS, STUCK, march_all
from service.physics.rows import EVENT, LEDGER, RECORD, START, table
from service.physics.tables import central_draw, start_state
from service.quotes.answer import CAUSES
from service.specs import Ask, Cabin, Climate, Journey, Leg, Start, Weather
from service.trips.legs import legs_trace
from service.trips.trace import Trace, cycle_trace


@pytest.fixture
def car_and_day(catalogue, rows):
    """Fresh rows of a demo car on a day, climate off unless told else."""

    def make(id_="compact-plug-in", celsius=20.0, climate=Climate.OFF, **weather):
        day = {"relative_humidity": 0.5, "wind_m_s": 3.0, "sun_w_m2": 0.0, **weather}
        ask = Ask(
            catalogue.vehicles[id_], Journey(cycle="udds"), Weather(celsius + 273.15, **day), cabin=Cabin(climate)
        )
        car, day = rows(ask)
        car.engine_w = 0.0  # electricity alone
        return car, day

    return make


def trace_from(speed_m_s, grade=0.0, heading_rad=np.nan):
    """A trace of one second a step."""
    speed = np.asarray(speed_m_s, dtype=float)
    steps = len(speed) - 1
    return Trace(np.ones(steps), speed, np.full(steps, float(grade)), np.full(steps, heading_rad))


def closes(ledger):
    """Causes add up to what left the cells, to the last digits of the gross flow."""
    gross_j = sum(abs(float(ledger[f"{cause}_j"])) for cause in CAUSES) + float(ledger.recovered_j)
    total_j = sum(float(ledger[f"{cause}_j"]) for cause in CAUSES)
    return total_j == pytest.approx(float(ledger.cells_j), abs=1e-9 * gross_j)


@pytest.mark.parametrize("cycle", ["udds", "us06", "nycc"])
@pytest.mark.parametrize(("celsius", "climate"), [(20, Climate.OFF), (-10, Climate.AUTO), (38, Climate.AUTO)])
def test_books_close_over_cycles(catalogue, car_and_day, march, cycle, celsius, climate):
    car, day = car_and_day("mid-electric-sedan", celsius, climate, sun_w_m2=300.0)
    trace = cycle_trace(catalogue.cycle(cycle))
    done = march(car, day, trace)
    assert done.ended == COMPLETED
    assert closes(done.ledger)
    assert done.ledger.cells_j == pytest.approx(done.ledger.terminals_j + done.ledger.pack_j, rel=1e-12)
    assert done.ledger.distance_m == pytest.approx(trace.distance_m, rel=1e-12)
    assert done.ledger.duration_s == pytest.approx(trace.duration_s, rel=1e-12)


def test_charge_is_what_left_the_cells(car_and_day, march, catalogue):
    car, day = car_and_day()
    car.ocv_v[:] = 360.0  # one voltage: charge is energy
    done = march(car, day, cycle_trace(catalogue.cycle("udds")), Start(state_of_charge=0.9))
    used = float(done.ledger.cells_j) / (360.0 * float(car.capacity_c))
    assert 0.9 - float(done.state.charge) == pytest.approx(used, rel=1e-9)


def test_a_weak_motor_falls_behind_and_the_books_still_close(catalogue, car_and_day, march):
    car, day = car_and_day()
    car.motor_w = 12e3
    trace = cycle_trace(catalogue.cycle("us06"))
    done = march(car, day, trace)
    assert done.ended == COMPLETED  # slow, but the pack is well
    assert done.events["motor_limit"].run_s > 60
    assert done.ledger.distance_m < 0.95 * trace.distance_m
    assert closes(done.ledger)


def test_a_limited_car_never_draws_more_than_its_motor_gives(car_and_day, march):
    car, day = car_and_day()
    car.motor_w = 20e3
    done = march(car, day, trace_from(np.minimum(np.arange(120) * 2.5, 35.0)), recorded=True)
    load_w = car.base_w + car.headlamp_w * day.lights
    lost_w = 0.35 * 20e3  # generous for all drive losses
    assert done.record.terminal_w.max() < 20e3 + load_w + lost_w
    assert done.record.terminal_w.max() > 20e3
    assert done.record.speed_m_s.max() < 35.0
    assert np.all(np.diff(done.record.speed_m_s) > -1e-9)


def test_asking_for_more_than_the_motor_gives_does_not_slow_the_car(car_and_day, march):
    car, day = car_and_day()
    car.motor_w = 20e3
    reached = [
        march(car, day, trace_from(np.minimum(np.arange(900) * 2.5, asked)), recorded=True).record[-1]
        for asked in (40.0, 55.0, 80.0)
    ]
    speeds = [float(row.speed_m_s) for row in reached]
    assert speeds == pytest.approx([speeds[0]] * 3, rel=1e-3)
    # at top speed all power goes into air, tyres and bearings: F·v = 20 kW
    half = 0.5 * day.air_kg_m3 * car.drag_area_m2
    tyre_n = car.tyre_n * float(np.exp(-car.tyre_slope_per_k * (day.ambient_k - car.tyre_reference_k)))  # warmed
    resistance_n = half * (speeds[0] ** 2 + day.wind_m_s**2) + tyre_n + car.bearing_n + car.bearing_n_s_m * speeds[0]
    assert resistance_n * speeds[0] == pytest.approx(20e3, rel=0.01)


def test_standing_too_steep_a_hill_draws_only_standby(car_and_day, march):
    car, day = car_and_day()
    car.motor_n, car.motor_w = 1500.0, 60e3  # too weak for 15 %
    done = march(car, day, trace_from(np.minimum(np.arange(60.0), 10.0), grade=0.15))
    assert done.ledger.distance_m == pytest.approx(0.0, abs=1.0)
    assert closes(done.ledger)
    assert np.isfinite(done.ledger.cells_j)


def test_empty_in_the_middle_of_a_second(car_and_day, march):
    car, day = car_and_day()
    trace = trace_from(np.minimum(np.arange(600.0), 25.0))
    done = march(car, day, trace, Start(state_of_charge=0.1))
    assert done.ended == EMPTY
    assert done.state.charge == pytest.approx(0.0, abs=1e-12)
    assert 0 < done.ledger.duration_s < trace.duration_s
    assert done.ledger.duration_s % 1 > 1e-6  # not on a whole second
    assert done.events["empty"].at_m == pytest.approx(float(done.ledger.distance_m))
    assert closes(done.ledger)
    # the same drive from a little more charge goes a little farther: no step in between
    reach_m = [
        float(march(car, day, trace, Start(state_of_charge=charge)).ledger.distance_m)
        for charge in np.linspace(0.1, 0.101, 11)
    ]
    assert np.all(np.diff(reach_m) > 0)
    assert np.diff(reach_m) == pytest.approx(np.mean(np.diff(reach_m)), rel=0.05)


def test_a_failing_pack_ends_the_drive_before_it_is_empty(car_and_day, march):
    car, day = car_and_day(celsius=-25.0)
    car.resistance_ohm *= 4
    done = march(car, day, trace_from(np.minimum(np.arange(1800.0), 33.0)), Start(state_of_charge=0.3))
    assert done.ended in (STUCK, EMPTY)
    assert done.events["pack_limit"].run_s > 0
    assert closes(done.ledger)
    if done.ended == STUCK:
        assert done.state.charge > 0
        assert done.events["cannot_hold_speed"].run_s == 1.0


def test_downhill_fills_the_pack(car_and_day, march):
    car, day = car_and_day()
    speed = np.concatenate([np.linspace(0, 20, 21), np.full(300, 20.0), np.linspace(20, 0, 21)[1:]])
    done = march(car, day, trace_from(speed, grade=-0.08), Start(state_of_charge=0.5))
    assert done.ended == COMPLETED
    assert done.ledger.climbing_j < 0
    assert done.ledger.cells_j < 0
    assert done.ledger.recovered_j > 0
    assert done.state.charge > 0.5
    assert closes(done.ledger)


def test_a_full_pack_takes_nothing_back(car_and_day, march):
    car, day = car_and_day()
    speed = np.concatenate([np.linspace(0, 20, 21), np.full(300, 20.0), np.linspace(20, 0, 21)[1:]])
    done = march(car, day, trace_from(speed, grade=-0.08), Start(state_of_charge=1.0))
    assert done.state.charge <= 1.0 + 1e-3
    assert done.events["regeneration_limit"].run_s > 200
    assert done.ledger.brakes_j > 0
    assert closes(done.ledger)


def test_cold_cells_take_less_back(car_and_day, march, catalogue):
    trace = cycle_trace(catalogue.cycle("udds"))
    warm, cold = (march(*car_and_day(celsius=c), trace, Start(state_of_charge=0.8)) for c in (20.0, -15.0))
    assert cold.ledger.recovered_j < 0.7 * warm.ledger.recovered_j
    assert cold.events["regeneration_limit"].run_s > warm.events["regeneration_limit"].run_s


def test_recorder_shows_the_course(car_and_day, march, catalogue):
    car, day = car_and_day(celsius=-5.0, climate=Climate.AUTO)
    trace = cycle_trace(catalogue.cycle("udds"))
    done = march(car, day, trace, recorded=True)
    record = done.record
    assert len(record) > 100
    assert np.all(np.diff(record.time_s) > 0)
    assert np.all(np.diff(record.distance_m) >= 0)
    assert record.time_s[-1] == pytest.approx(float(done.ledger.duration_s))
    assert record.distance_m[-1] == pytest.approx(float(done.ledger.distance_m))
    assert record.charge[-1] == pytest.approx(float(done.state.charge))
    assert record.cabin_air_k[0] < 275 < 290 < record.cabin_air_k[-1]
    assert record.tyre_rise_k.max() < 25.0
    assert record.speed_m_s.max() == pytest.approx(trace.speed_m_s.max(), rel=0.02)


def test_recording_changes_nothing(car_and_day, march, catalogue):
    car, day = car_and_day(celsius=-5.0, climate=Climate.AUTO)
    trace = cycle_trace(catalogue.cycle("nycc"))
    plain, kept = march(car, day, trace), march(car, day, trace, recorded=True)
    assert plain.ledger == kept.ledger


def test_a_second_drive_goes_on_where_the_first_ended(car_and_day, march, catalogue):
    car, day = car_and_day(celsius=0.0)
    trace = cycle_trace(catalogue.cycle("nycc"))
    first = march(car, day, trace)
    rise_k, charge = float(first.state.tyre_rise_k), float(first.state.charge)
    second = march(car, day, trace, first.state)
    assert second.state.charge < charge
    assert second.state.tyre_rise_k > rise_k > 0
    assert second.ledger.rolling_j < first.ledger.rolling_j  # warmer tyres


def test_driver_factors_keep_the_distance(car_and_day, march, catalogue):
    car, day = car_and_day("mid-electric-sedan")
    trace = cycle_trace(catalogue.cycle("hwfet"))
    plain = march(car, day, trace)
    quick = march(car, day, trace, speed=1.1)
    brisk = march(car, day, trace, acceleration=1.2)
    assert quick.ledger.distance_m == pytest.approx(float(plain.ledger.distance_m), rel=1e-9)
    assert quick.ledger.duration_s == pytest.approx(float(plain.ledger.duration_s) / 1.1, rel=1e-9)
    assert quick.ledger.air_j > 1.15 * plain.ledger.air_j  # 1.21 without wind
    assert brisk.ledger.distance_m == pytest.approx(float(plain.ledger.distance_m), rel=1e-9)
    assert brisk.ledger.air_j == pytest.approx(float(plain.ledger.air_j), rel=1e-9)
    assert brisk.ledger.cells_j > plain.ledger.cells_j
    assert closes(quick.ledger)
    assert closes(brisk.ledger)


def test_other_factors_reach_their_own_cause(car_and_day, march, catalogue):
    car, day = car_and_day("mid-electric-sedan", celsius=-5.0, climate=Climate.AUTO)
    trace = cycle_trace(catalogue.cycle("hwfet"))
    plain = march(car, day, trace).ledger

    def ratio(cause, **factors):
        return float(march(car, day, trace, **factors).ledger[f"{cause}_j"]) / float(plain[f"{cause}_j"])

    assert ratio("rolling", tyre=1.1) == pytest.approx(1.1, rel=1e-9)
    assert ratio("air", air=1.1) == pytest.approx(1.1, rel=1e-9)
    assert ratio("electronics", auxiliary=1.3) == pytest.approx(1.3, rel=1e-9)
    assert ratio("pack", resistance=1.2) == pytest.approx(1.2, rel=0.03)
    assert ratio("heating", heat=1.2) > 1.02
    assert ratio("air", wind=2.0) > 1.0
    assert 1.02 < ratio("drivetrain", loss=1.2) < 1.2  # bearing drag is not scaled


def test_time_step_of_a_steady_stretch_does_not_matter(car_and_day, march):
    car, day = car_and_day("mid-electric-sedan")
    one = legs_trace((Leg(20_000.0, 25.0),))
    speed = np.concatenate([np.arange(26.0), np.full(775, 25.0), np.arange(24.0, -1, -1)])
    fine = march(car, day, trace_from(speed)).ledger
    coarse = march(car, day, one).ledger
    assert coarse.cells_j / coarse.distance_m == pytest.approx(fine.cells_j / fine.distance_m, rel=1e-3)


def test_the_parallel_march_is_the_scalar_one(car_and_day, march, catalogue):
    trace = cycle_trace(catalogue.cycle("nycc"))
    cars, days = zip(*(car_and_day(id_, -5.0, Climate.AUTO) for id_ in catalogue.vehicles), strict=True)
    car_table = np.array(cars).view(np.recarray)
    day_table = np.array(days).view(np.recarray)
    count = len(cars)
    own = np.arange(count)
    starts = [start_state(Start(), car, day) for car, day in zip(cars, days, strict=True)]
    states = np.concatenate(starts).view(np.recarray)
    ledgers, ends = table(LEDGER, count), np.zeros(count, int)
    events = table(EVENT, count * len(EVENT_KINDS)).reshape(count, len(EVENT_KINDS))
    march_all(
        car_table, day_table, central_draw(), own, own, np.zeros(count, int), trace.path, states, ledgers, events,
        table(START, 0), table(RECORD, 0), ends,
    )  # fmt: skip
    assert (ends == COMPLETED).all()
    for row, (car, day) in enumerate(zip(cars, days, strict=True)):
        one = march(car, day, trace)
        assert ledgers[row] == one.ledger
