"""Ready and not moving."""

from dataclasses import replace

import pytest

from service.quotes.standby import build_standby
from service.specs import Ask, Cabin, Climate, Heating, Journey, Layout, Start, Triggers, Weather

COLD, MILD, HOT = Weather(263.15), Weather(294.15), Weather(311.15)


@pytest.fixture
def standby(catalogue):
    def build(vehicle, weather=MILD, asked_s=None, **choices):
        vehicle = catalogue.vehicles[vehicle] if isinstance(vehicle, str) else vehicle
        return build_standby(Ask(vehicle, Journey(), weather, **choices), catalogue, asked_s)

    return build


def test_the_band_is_in_order_and_brackets_the_typical_car(standby):
    for weather in (COLD, MILD, HOT):
        answer = standby("compact-plug-in", weather)
        for band in (answer.seconds, answer.cells_j, answer.holding_w, answer.charge_after):
            assert band.p10 <= band.p50 <= band.p90


def test_the_whole_window_is_drawn(catalogue, standby):
    answer = standby("compact-plug-in")
    usable_j = catalogue.vehicles["compact-plug-in"].battery.usable_j
    assert answer.cells_j.p50 == pytest.approx(usable_j, rel=0.03)  # a gentle draw gives a little more than C/3
    assert answer.ended_by == "empty"


def test_climate_off_lasts_longest(standby):
    off = Cabin(climate=Climate.OFF)
    for weather in (COLD, HOT):
        assert (
            standby("compact-plug-in", weather, cabin=off).seconds.p50 > standby("compact-plug-in", weather).seconds.p50
        )


def test_a_known_trigger_ends_it_before_the_window_does(catalogue, standby):
    car = replace(catalogue.vehicles["compact-plug-in"], triggers=Triggers(low_charge=0.25))
    answer, whole = standby(car), standby("compact-plug-in")
    assert (answer.ended_by, answer.floor) == ("low_charge_trigger", 0.25)
    assert answer.seconds.p50 == pytest.approx(0.75 * whole.seconds.p50, rel=0.03)
    assert standby(car, start=Start(state_of_charge=0.2)).ended_by == "already_there"


def test_half_an_hour_is_told_unless_another_time_is_asked(standby):
    answer = standby("compact-plug-in")
    assert (answer.asked_s, answer.lasts) == (1800.0, True)
    assert answer.charge_after.p50 < 1
    long = standby("compact-plug-in", COLD, asked_s=48 * 3600.0)
    assert not long.lasts
    assert long.charge_after.p50 == 0


def test_less_charge_lasts_less(standby):
    hours = [standby("compact-plug-in", start=Start(state_of_charge=share)).seconds.p50 for share in (0.2, 0.5, 1.0)]
    assert hours == sorted(hours)


def test_only_a_power_split_is_warned_of_neutral(catalogue, standby):
    split = standby("compact-plug-in").cautions[0]
    assert "does not charge its high-voltage battery in neutral, even with the engine running" in split
    assert "in park, or in drive with the brake on, not in neutral" in split
    unknown = replace(catalogue.vehicles["family-suv-plug-in"], layout=None)
    assert standby(unknown).cautions[0].startswith("If this car has a power split")
    series = replace(catalogue.vehicles["family-suv-plug-in"], layout=Layout.SERIES)
    assert not any("neutral" in line for line in standby(series).cautions)
    assert not any("neutral" in line or "garage" in line for line in standby("mid-electric-sedan").cautions)


def test_every_engine_car_is_warned_of_closed_garages_and_all_of_the_handbook(catalogue, standby):
    for id_, car in catalogue.vehicles.items():
        cautions = standby(id_).cautions
        assert any("closed garage" in line for line in cautions) == car.kind.has_engine
        assert any("The handbook rules" in line for line in cautions)


def test_nothing_is_called_safe(standby):
    answer = standby("compact-plug-in", COLD)
    assert not any("safe" in line for line in (*answer.cautions, *answer.notes))


def test_a_car_heated_by_its_engine_says_that_it_starts(standby):
    answer = standby("family-suv-plug-in", COLD)
    assert answer.engine_heats
    assert answer.climate_w == 0
    assert "which will start" in answer.notes[0]
    assert not standby("family-suv-plug-in", HOT).engine_heats


def test_preconditioning_spares_the_warm_up(standby):
    ready = standby("compact-plug-in", COLD, start=Start(preconditioned=True))
    assert ready.charge_after.p50 > standby("compact-plug-in", COLD).charge_after.p50


def test_without_a_band_only_the_middle_is_known(catalogue):
    answer = build_standby(Ask(catalogue.vehicles["compact-plug-in"], Journey(), COLD, band=False), catalogue)
    assert (answer.seconds.p10, answer.seconds.p90) == (None, None)
    assert answer.lasts
    assert catalogue.vehicles["compact-plug-in"].heating is Heating.RESISTIVE
