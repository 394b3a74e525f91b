"""What of an assignment goes along with a portion of its sheets, to be marked or printed by another process."""

from collections.abc import Mapping
from dataclasses import replace

from waterleaf.bank.family import Family
from waterleaf.marking.issuebook import Issued


def without_sheets(issued: Issued) -> Issued:
    """The assignment without its sheets: whoever works on some of them gets those beside it."""
    return replace(issued, sheets=())


def families_asked(issued: Issued, bank: Mapping[str, Family]) -> dict[str, Family]:
    """The families of all questions, of every paper, that are in the bank."""
    questions = [*issued.questions, *(question for paper in issued.papers for question in paper.questions)]
    return {question.family: bank[question.family] for question in questions if question.family in bank}
