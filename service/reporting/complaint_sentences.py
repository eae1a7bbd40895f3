"""What a finding says in plain sentences, for a workshop and its customer. Every number goes through `words`.

Words    "19 cars in 20" lie between the 2.5th and the 97.5th of a hundred; the place of the reported distance is told
         as so many in a hundred that go less far.
"""

from service.diagnosis.complaint import CauseFound, ComplaintAnswer, Missing, Verdict
from service.reporting.words import (
    Units,
    bound,
    consumption_number,
    distance,
    distance_figure,
    distance_number,
    distance_unit,
    plain,
)

__all__ = [
    "adds",
    "headline",
    "in_a_hundred",
    "in_short",
    "missing_words",
    "needed_words",
    "second",
    "sized",
    "takes",
    "verdict_word",
]


LABEL_REACHED = 0.97  # of the label: trip meters and rounding, own choice


def verdict_word(answer: ComplaintAnswer) -> str:
    """The verdict as one word or two."""
    if answer.verdict is Verdict.INSUFFICIENT:
        return "not enough is known to say"
    if answer.verdict is Verdict.NORMAL:
        return "normal"
    if answer.complaint.reported_m >= answer.expected.band.p50:
        return "outside, farther than expected"
    return "outside, yet its label is reached" if label_reached_m(answer) is not None else "outside"


def label_reached_m(answer: ComplaintAnswer) -> float | None:
    """The label's distance for the charge used, where a report below the span reaches it all the same; else None."""
    complaint = answer.complaint
    label = complaint.ask.vehicle.label
    if answer.verdict is not Verdict.OUTSIDE or label is None or not label.electric_range_m:
        return None
    told_m = label.electric_range_m * (complaint.ask.start.state_of_charge - complaint.end_charge)
    low = complaint.reported_m < answer.expected.band.p50
    return told_m if low and complaint.reported_m >= LABEL_REACHED * told_m else None


def headline(answer: ComplaintAnswer, units: Units) -> str:
    """Reported against expected, and the verdict."""
    expected = answer.expected
    return (
        f"Reported {distance(answer.complaint.reported_m, units)}; in these conditions 19 cars in 20 get "
        f"{distance_figure(expected.p2_5, units)} to {distance(expected.p97_5, units)}: {verdict_word(answer)}."
    )


def second(answer: ComplaintAnswer, units: Units) -> str:
    """The place among healthy cars, and the distance from the usual one; or what decides."""
    parts = [in_a_hundred(answer.percentile), _from_usual(answer, units)]
    if answer.verdict is Verdict.INSUFFICIENT:
        asked = [each.question for each in answer.missing if each.decides]
        parts.append(f"The answer hangs on what nobody told{', first of all' * (len(asked) > 1)}: {asked[0]}")
    elif (told_m := label_reached_m(answer)) is not None:
        parts.append(
            f"For this charge its label says {distance(told_m, units)}, and that is reached: no proof of a fault. A "
            "label is a mean of town, motorway, heat and cold; on a drive easier than that most such cars go farther."
        )
    elif answer.verdict is Verdict.OUTSIDE and answer.complaint.reported_m > answer.expected.p97_5:
        parts.append("Check the trip meter, the charge at both ends and the conditions stated.")
    return " ".join(parts)


def in_a_hundred(percentile: float) -> str:
    """Share of healthy cars that go less far.

    >>> in_a_hundred(0.3), in_a_hundred(9.2), in_a_hundred(99.9)
    ('Fewer than 1 in 100 healthy cars would go less far.', 'About 9 in 100 healthy cars would go less far.',
     'More than 99 in 100 healthy cars would go less far.')
    """
    if percentile < 1:
        count = "Fewer than 1"
    elif percentile > 99:
        count = "More than 99"
    else:
        count = f"About {percentile:.0f}"
    return f"{count} in 100 healthy cars would go less far."


def _from_usual(answer: ComplaintAnswer, units: Units) -> str:
    """Against the middle."""
    middle_m = answer.expected.band.p50
    away = distance(abs(middle_m - answer.complaint.reported_m), units)
    way = "less" if answer.complaint.reported_m < middle_m else "more"
    return f"The usual one gets {distance(middle_m, units)}, so {away} {way} was reported."


def takes(cause: CauseFound, units: Units) -> str:
    """What a cause takes off the distance, with its sign."""
    number = distance_number(cause.lost_m, units)
    return plain(-number, 0 if abs(number) >= 9.95 else 1)


def adds(cause: CauseFound, units: Units) -> str:
    """What it adds to the consumption."""
    number = consumption_number(cause.apparent_j_per_m, units)
    return ("+" if round(number) > 0 else "") + plain(number)


def in_short(cause: CauseFound, units: Units) -> str:
    """A cause and what it takes, for a line of several."""
    return f"{cause.about.name} {takes(cause, units)}\u00a0{distance_unit(units)}"


def sized(cause: CauseFound, size: float) -> str:
    """A size in the words of the table, to two digits."""
    return bound(cause.about.wording.format(f"{float(f'{size:.2g}'):g}"))


def needed_words(cause: CauseFound, answer: ComplaintAnswer) -> str:
    """How large it would have to be to explain the whole shortfall, and whether workshops meet that."""
    if cause.counted:
        return "measured: counted already"
    if answer.complaint.reported_m >= answer.expected.band.p50:
        return "nothing is missing"
    if cause.needed_size is None:
        return "cannot alone"
    far = "plausible" if cause.plausible else "more than is met"
    return f"{_figure(cause, cause.needed_size)}: {far}"


def _figure(cause: CauseFound, size: float) -> str:
    """A size with the unit of its table."""
    unit = {"N m": "N·m a wheel"}.get(cause.about.unit, cause.about.unit)
    return f"{float(f'{size:.2g}'):g}\u00a0{unit}"


def missing_words(missing: Missing, units: Units) -> str:
    """What an open input is worth."""
    number = distance_number(missing.narrows_m, units)
    size = f"{plain(number)}\u00a0{distance_unit(units)}" if number >= 1 else f"less than 1\u00a0{distance_unit(units)}"
    tail = ", and it decides" if missing.decides else ""
    return f"narrows the span by {size}{tail}"


def measured_words(answer: ComplaintAnswer, units: Units) -> tuple[str, str, str]:
    """Expected, worked out from the report, and the difference, without the unit."""
    expected = consumption_number(sum(answer.ledger_j_per_m.values()), units)
    measured = consumption_number(answer.measured_j_per_m, units)
    extra = measured - expected
    return plain(expected), plain(measured), ("+" if round(extra) > 0 else "") + plain(extra)
