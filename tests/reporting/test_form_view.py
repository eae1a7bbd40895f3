"""The form: every input labelled once, errors beside it and in the summary, folds open where they must."""

from service.errors import ErrorRow
from service.reporting.form_layout import LAYOUT
from service.reporting.form_view import form_view


def filled(values=None, errors=None):
    return form_view(values or {}, errors or {}, {"temperature": "°C"}, {"temperature": "20"}, {}, {"Day": "−5 °C"})


def test_every_input_stands_once_and_has_a_label():
    inputs = [each for _, blocks in LAYOUT for block in blocks for each in block.inputs]
    assert len({each.name for each in inputs}) == len(inputs)
    assert all(each.label for each in inputs)


def test_a_fault_is_beside_its_input_in_the_summary_and_unfolded():
    row = ErrorRow("temperature", "300", "300 °C is outside -40 to 50 °C", "give -40 to 50 °C")
    form = filled({"temperature": "300"}, {"temperature": row})
    day = next(group for group in form.groups if group.title == "Day")
    shown = day.blocks[0].inputs[0]
    assert day.open
    assert shown.value == "300"
    assert shown.error == "300\u00a0°C is outside \u221240 to 50\u00a0°C; give \u221240 to 50\u00a0°C."
    assert [(fault.target, fault.label) for fault in form.faults] == [("temperature", "Outside")]


def test_a_fault_of_no_input_is_not_lost():
    form = filled(errors={"form": ErrorRow("form", None, "the journey cannot be driven", "give lower speeds")})
    assert [fault.target for fault in form.faults] == ["change"]


def test_figures_of_an_own_car_unfold_when_it_is_chosen():
    def own_open(vehicle):
        car = filled({"vehicle": vehicle}).groups[0]
        return car.blocks[1].open

    assert own_open("own")
    assert not own_open("compact-plug-in")


def test_folded_groups_say_what_they_hold():
    day = next(group for group in filled().groups if group.title == "Day")
    assert day.summary == "−5 °C"
    assert not day.open
