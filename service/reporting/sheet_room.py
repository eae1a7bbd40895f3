"""What one sheet of paper holds: how many lines of routes, how many tests of a finding, beside everything else.

Scope    counted from the text, before anything is set; heights are those of the style sheet on Letter, the shorter of
         the two sheets. A browser test prints both sheets and counts the pages.
"""

from collections.abc import Sequence

from service.catalogue.separating_tests import SeparatingTest
from service.diagnosis.complaint import ComplaintAnswer
from service.fleet.answer import RouteLine, Verdict

__all__ = ["LINES_ON_PAPER", "MISSING_ON_PAPER", "lines_on_paper", "tests_on_paper"]

LINES_ON_PAPER = 12  # at most; fewer where the sheet would not hold them
PAPER_MM = 97.0  # height that the sheet has for lines and their rows in the table of months
LINE_MM, MONTHS_MM, NIGHT_MM = 6.9, 3.7, 7.0  # of a line; of a row of months; of a third vehicle and each further one
LONG_REASON, LONGER_MM = 58, 2.8  # characters beside a drawing; what the next line of text takes
MISSING_ON_PAPER = 5  # questions on the sheet; those that matter most stand first
TESTS_MM, NAME_MM, TEXT_MM = 59.0, 4.5, 3.1  # height that the sheet has for tests; of a test's name; of a line of text
QUESTION_MM, NOTE_MM, BESIDE_MM = 6.6, 7.0, 36.0  # of a question; of a note; what both have beside the ledger
HEADLINE_MM, SECOND_MM = 6.0, 4.6  # of a further line of the headline; of the sentences below it
TEXT_CHARACTERS, HEADLINE_CHARACTERS, SECOND_CHARACTERS = 128, 78, 118  # what a line holds
ASSUMPTIONS, ASSUMPTIONS_A_LINE = 10, 5


def lines_on_paper(shown: Sequence[RouteLine], reasons: Sequence[str], vehicles: int) -> int:
    """How many lines the sheet holds, the first ones, with the rows of those that do not pass all the year."""
    left_mm = PAPER_MM - NIGHT_MM * max(0, vehicles - 2)
    for at, (line, why) in enumerate(zip(shown[:LINES_ON_PAPER], reasons, strict=False)):
        left_mm -= LINE_MM + LONGER_MM * (len(why) > LONG_REASON)
        left_mm -= MONTHS_MM * (line.worst.verdict is not Verdict.PASS)
        if left_mm < 0:
            return at
    return min(len(shown), LINES_ON_PAPER)


def tests_on_paper(tests: Sequence[SeparatingTest], answer: ComplaintAnswer, headline: str, second: str) -> int:
    """How many tests the sheet holds, the first ones: what is missing and assumed takes room from them."""
    beside_mm = QUESTION_MM * min(len(answer.missing), MISSING_ON_PAPER) + NOTE_MM * len(answer.notes)
    left_mm = TESTS_MM - max(0.0, beside_mm - BESIDE_MM)
    left_mm -= HEADLINE_MM * (len(headline) > HEADLINE_CHARACTERS)
    left_mm -= SECOND_MM * ((len(second) - 1) // SECOND_CHARACTERS)
    left_mm -= TEXT_MM * max(0, -(-(len(answer.assumptions) - ASSUMPTIONS) // ASSUMPTIONS_A_LINE))
    for at, each in enumerate(tests):
        left_mm -= NAME_MM + TEXT_MM * -(-(len(each.test) + len(each.limit) + 30) // TEXT_CHARACTERS)
        if left_mm < 0:
            return at
    return len(tests)
