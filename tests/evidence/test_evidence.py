"""The committed table is what the comparisons give now, and the closed forms agree."""

from dataclasses import replace

import pytest

from tests.evidence.comparisons import COMPARISONS, numbered

TEXTS = ("subject", "condition", "source", "mark", "unit", "remark", "agrees")
NUMBERS = ("published", "published_low", "published_high", "model", "model_low", "model_high", "tolerance")
PRINTED = 2e-4  # of a model's value: another machine's last digits
MAY_MISS = {
    "Cold and heat, 200 cars",
    "Fast road, 200 cars",
    "Heat pump and cooling",
    "Cold cells",
    "Corrections of road load",
    "Conductors",
    "Charging efficiency",
    "Recharge time",
}
AGAIN = "the table is old: write it again with `python -m tests.evidence`"


def named(slow):
    return [pytest.param(one, id=one.rows.__name__) for one in COMPARISONS if one.slow is slow]


def stale(comparison, catalogue):
    """Conditions whose committed row differs from a fresh run."""
    committed = {(row.subject, row.condition): row for row in catalogue.evidence.values()}
    fresh = comparison.rows()
    return [row.condition for row in fresh if not same(row, committed.get((row.subject, row.condition)))]


def same(fresh, kept):
    """Same words, and numbers within the digits of the table."""
    if kept is None or any(getattr(fresh, name) != getattr(kept, name) for name in TEXTS):
        return False
    last_digit = 0.1 if kept.model_low is not None else kept.tolerance / 5
    allowed = max(PRINTED * abs(kept.model), last_digit) + 1e-9
    return all(close(getattr(fresh, name), getattr(kept, name), allowed) for name in NUMBERS)


def close(ours, theirs, allowed):
    if ours is None or theirs is None:
        return ours is theirs
    return abs(ours - theirs) <= allowed


def test_another_result_is_noticed(catalogue):
    row = next(iter(catalogue.evidence.values()))
    assert same(row, row)
    assert not same(replace(row, model=row.model + 1), row)
    assert not same(replace(row, published=None), row)
    assert not same(replace(row, source="elsewhere"), row)
    assert not same(row, None)


@pytest.mark.parametrize("comparison", named(slow=False))
def test_the_committed_table_is_what_the_command_would_write(comparison, catalogue):
    assert stale(comparison, catalogue) == [], AGAIN


@pytest.mark.evidence
@pytest.mark.parametrize("comparison", named(slow=True))
def test_the_slow_rows_are_what_the_command_would_write(comparison, catalogue):
    assert stale(comparison, catalogue) == [], AGAIN


def test_the_table_holds_nothing_that_no_comparison_makes(catalogue):
    fast = {row.subject for one in COMPARISONS if not one.slow for row in one.rows()}
    slow = {"Cold and heat, 200 cars", "Fast road, 200 cars", "Time loop"}
    assert {row.subject for row in catalogue.evidence.values()} == fast | slow
    fresh = numbered(row for one in COMPARISONS if not one.slow for row in one.rows())
    assert {row.id for row in fresh} <= set(catalogue.evidence)
    assert len(catalogue.evidence) - len(fresh) == sum(row.subject in slow for row in catalogue.evidence.values())


def test_closed_forms_printed_tables_and_rules_all_agree(catalogue):
    outside = {row.subject for row in catalogue.evidence.values() if not row.agrees}
    assert outside <= MAY_MISS


def test_no_condition_stands_twice_in_a_subject(catalogue):
    keys = [(row.subject, row.condition) for row in catalogue.evidence.values()]
    assert len(set(keys)) == len(keys)


def test_most_of_the_table_comes_from_outside(catalogue):
    # a table of our own figures compared with themselves would prove nothing: each row names a source
    assert len(catalogue.evidence) > 200
    assert all(row.source for row in catalogue.evidence.values())
