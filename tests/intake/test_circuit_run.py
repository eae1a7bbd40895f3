"""A run of cable in a question: units, and errors by field with a way out."""

import pytest

from service.errors import BadInputs
from service.intake.quote import read_ask
from service.specs import Metal

OWN = {"volts": 230, "amps": 16}


@pytest.fixture
def faults(question, catalogue):
    def of(circuit):
        with pytest.raises(BadInputs) as caught:
            read_ask(question({"circuit": circuit}), catalogue)
        return {row.field: row for row in caught.value.rows()}

    return of


def test_a_run_arrives_in_si(question, catalogue):
    run = {"length_m": 30, "section_mm2": 4, "material": "copper", "conductor_temperature_c": 60, "flexible": True}
    ask = read_ask(question({"circuit": OWN | {"run": run}}), catalogue)
    found = ask.circuit.run
    assert (found.length_m, found.section_mm2, found.awg, found.metal) == (30, 4, None, Metal.COPPER)
    assert found.conductor_k == pytest.approx(333.15)
    assert found.flexible


def test_a_circuit_of_the_catalogue_may_have_a_run_too(question, catalogue):
    circuit = {"id": "na-range-50a", "run": {"length_m": 20, "awg": 6, "material": "aluminium"}}
    found = read_ask(question({"circuit": circuit}), catalogue).circuit
    assert (found.id, found.run.awg, found.run.metal, found.run.conductor_k) == (
        "na-range-50a", 6, Metal.ALUMINIUM, None,
    )  # fmt: skip
    assert catalogue.circuits["na-range-50a"].run is None


@pytest.mark.parametrize(
    ("run", "field", "message", "remedy"),
    [
        ({"length_m": 10, "section_mm2": 4, "awg": 12}, "section_mm2", "both a section and a gauge", "one of"),
        ({"length_m": 10}, "section_mm2", "neither a section nor a gauge", "one of section_mm2 and awg"),
        ({"length_m": 10, "section_mm2": 3}, "section_mm2", "no copper section of 3 mm²", "1.5, 2.5, 4, 6"),
        ({"length_m": 10, "awg": 13}, "awg", "no copper gauge 13", "14, 12, 10"),
        ({"length_m": 10, "awg": 14, "material": "aluminium"}, "awg", "no aluminium gauge 14", "12, 10, 8"),
        ({"length_m": 10, "awg": 12.5}, "awg", "not a whole number", "without a fraction"),
        ({"length_m": 0, "awg": 12}, "length_m", "0 m is outside", "more than 0, at most 300 m"),
        ({"length_m": 301, "awg": 12}, "length_m", "301 m is outside", "300 m"),
        ({"awg": 12}, "length_m", "missing", "300 m"),
        ({"length_m": 10, "awg": 12, "material": "silver"}, "material", "not one of the choices", "copper, aluminium"),
        ({"length_m": 10, "awg": 12, "conductor_temperature_c": 140}, "conductor_temperature_c", "140 °C", "105 °C"),
        ({"length_m": 10, "section_mm2": 16, "material": "aluminium", "flexible": True}, "flexible",
         "no flexible leads of aluminium", "give copper"),
    ],
)  # fmt: skip
def test_a_run_that_cannot_be_is_refused_by_field(faults, run, field, message, remedy):
    row = faults(OWN | {"run": run})[f"circuit.run.{field}"]
    assert message in row.message
    assert remedy in row.remedy


def test_a_drop_over_the_usual_advice_is_no_fault(question, catalogue):
    run = {"length_m": 40, "section_mm2": 2.5}  # 16 A: 4.9 %
    assert read_ask(question({"circuit": OWN | {"run": run}}), catalogue).circuit.run.length_m == 40


def test_a_run_that_no_charger_can_work_behind_is_refused_with_a_length(faults):
    row = faults({"volts": 120, "amps": 16, "run": {"length_m": 150, "awg": 14}})["circuit.run.length_m"]
    assert row.value == 150
    assert "120 V" in row.message
    assert "give at most" in row.remedy
