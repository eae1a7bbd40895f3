"""The course of a charge against the session it is tabulated from."""

import numpy as np
import pytest

from service.charging import charger_row, sessions
from service.charging.course import course_of
from service.physics.tables import central_draw
from service.quotes.assume import complete
from service.quotes.scenarios import rows_for
from service.specs import Ask, Journey, Weather


@pytest.fixture
def parts(catalogue, values):
    """Rows of a car and its charger on a circuit, and what an ampere is worth."""

    def of(car, circuit_id, ambient_k):
        circuit = catalogue.circuit(circuit_id)
        ask, _ = complete(Ask(catalogue.vehicle(car), Journey(), Weather(ambient_k), circuit=circuit), catalogue)
        row, _ = rows_for(ask, catalogue, values)
        return row[0], charger_row(ask.vehicle, circuit, values["charger_conversion"], values["charger_fixed_w"])

    return of


@pytest.mark.parametrize("ambient_k", [258.15, 293.15])
@pytest.mark.parametrize("car", ["compact-plug-in", "small-electric-hatch"])
def test_a_course_ends_where_its_session_ends(parts, car, ambient_k):
    row, charger = parts(car, "uk-wall-unit-32a", ambient_k)
    course = course_of(row, central_draw()[0], charger, 0.2, 1.0, ambient_k, 230)
    (whole,) = sessions(row, central_draw()[0], charger, 0.2, 1.0, ambient_k, ambient_k)
    assert course.complete
    assert course.whole_s == whole.seconds
    assert course.wall_j[-1] == whole.wall_j
    assert course.stored_j[-1] == whole.cells_j
    assert course.heating_s == whole.heating_s
    for column in (course.seconds, course.wall_j, course.above_j):
        assert np.all(np.diff(column) > 0)
    assert np.all(np.diff(course.charge) >= 0)


def test_heating_stands_first_and_moves_no_charge(parts):
    row, charger = parts("small-electric-hatch", "uk-wall-unit-32a", 258.15)
    course = course_of(row, central_draw()[0], charger, 0.2, 1.0, 258.15, 230)
    assert course.heating_s > 0
    assert course.seconds[1] == course.heating_s
    assert course.charge[1] == 0.2


def test_no_power_gives_no_course(parts):
    row, charger = parts("compact-plug-in", "uk-wall-unit-32a", 293.15)
    charger.ac_w = charger.fixed_w / 2
    assert course_of(row, central_draw()[0], charger, 0.2, 1.0, 293.15, 230) is None
    assert course_of(row, central_draw()[0], charger, 0.9, 0.9, 293.15, 230) is None
