"""The page's form as finished groups of inputs: label, unit, value, choices and error of each.

Scope    filling the layout; how an input is read is the business of the intake, whose units, typed values and errors
         come in as plain mappings.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from service.errors import ErrorRow
from service.reporting.form_layout import CHOICES, LAYOUT, Block, Input
from service.reporting.words import Units, bound, clock

__all__ = ["Choices", "FormView", "GroupView", "InputView", "Layout", "form_view"]

Choices = Mapping[str, tuple[tuple[str, str], ...]]  # input name → (value, words) in order

Layout = tuple[tuple[str, tuple[Block, ...]], ...]

NO_ROWS: Mapping[str, tuple[str, ...]] = MappingProxyType({})
NARROW_CHARACTERS = 14  # a choice longer than this takes the whole width


@dataclass(frozen=True, slots=True)
class InputView:
    """One input, filled."""

    name: str
    label: str
    unit: str
    value: str
    placeholder: str
    choices: tuple[tuple[str, str], ...]
    keyboard: str
    hint: str
    wide: bool
    error: str
    kind: str = ""
    rows: tuple[str, ...] = ()  # what is wrong with single rows of a table
    ticked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BlockView:
    """A block, filled."""

    title: str
    open: bool
    inputs: tuple[InputView, ...]


@dataclass(frozen=True, slots=True)
class GroupView:
    """What one "change" unfolds."""

    id: str
    title: str
    summary: str
    open: bool
    blocks: tuple[BlockView, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """A line of the summary of errors, and the input it leads to."""

    target: str
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class FormView:
    """The whole form."""

    groups: tuple[GroupView, ...]
    hidden: tuple[tuple[str, str], ...]
    faults: tuple[Fault, ...]


def form_view(
    values: Mapping[str, str],
    errors: Mapping[str, ErrorRow],
    units_of: Mapping[str, str],
    placeholders: Mapping[str, str],
    choices: Choices,
    summaries: Mapping[str, str],
    layout: Layout = LAYOUT,
    rows: Mapping[str, tuple[str, ...]] = NO_ROWS,
) -> FormView:
    """The form, filled.

    Args:
        values: what was typed, by input name.
        errors: what is wrong with it, by input name; "form" for what belongs to no single input.
        units_of: unit beside each input, in the reader's units.
        placeholders: what an empty input means.
        choices: lists that come from the catalogue.
        summaries: one line for each group while it is folded, by title.
        layout: groups of inputs; the first page's if nothing else is said.
        rows: what is wrong with single rows of an input that holds a table, by input name.
    """
    system = Units.US if values.get("units") == Units.US else Units.METRIC
    lists = CHOICES | {"plug_in_hour": tuple((str(hour), clock(hour, system)) for hour in range(24))} | dict(choices)

    def filled(one: Input) -> InputView:
        fault = errors.get(one.name)
        return InputView(
            name=one.name,
            label=one.label,
            unit=units_of.get(one.name, "").removeprefix(one.label.lower()).strip(),
            value=values.get(one.name, ""),
            placeholder=placeholders.get(one.name, ""),
            choices=lists.get(one.name, ()),
            keyboard="text" if one.signed or one.name == "own_name" else "decimal",
            hint=one.hint,
            wide=one.kind != "" or any(len(words) > NARROW_CHARACTERS for _, words in lists.get(one.name, ())),
            error=_told(fault) if fault else "",
            kind=one.kind,
            rows=rows.get(one.name, ()),
            ticked=tuple(values.get(one.name, "").split(",")) if one.kind == "ticks" else (),
        )

    def block(one: Block) -> BlockView:
        inputs = tuple(filled(each) for each in one.inputs)
        chosen = not {*values.get(one.open_when[0], "").split(",")}.isdisjoint(one.open_when[1])
        return BlockView(one.title, chosen or any(each.error for each in inputs), inputs)

    def group(title: str, blocks: tuple[Block, ...]) -> GroupView:
        views = tuple(block(each) for each in blocks)
        faulty = any(each.error for view in views for each in view.inputs)
        return GroupView(title.lower(), title, summaries.get(title, ""), faulty, views)

    groups = tuple(group(title, blocks) for title, blocks in layout)
    return FormView(groups, (("typed_units", system.value),), _faults(groups, errors))


def _faults(groups: tuple[GroupView, ...], errors: Mapping[str, ErrorRow]) -> tuple[Fault, ...]:
    """Every error once, in the order of the inputs; those of no shown input lead to the form."""
    inputs = [each for group in groups for block in group.blocks for each in block.inputs]
    shown = [Fault(each.name, each.label, each.error) for each in inputs if each.error]
    names = {each.name for each in inputs}
    return tuple(shown + [Fault("change", "Form", _told(row)) for name, row in errors.items() if name not in names])


def _told(row: ErrorRow) -> str:
    """An error and the way out, as a sentence."""
    text = f"{row.message}; {row.remedy}" if row.remedy else row.message
    return bound(f"{text[:1].upper()}{text[1:].rstrip('.')}.")
