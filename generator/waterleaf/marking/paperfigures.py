"""Whether parallel papers were equally hard: question by question, beside how the same students did on the rest."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from waterleaf.marking.classmarks import ClassMarks, StudentMarks
from waterleaf.marking.feedback import CHANCE, complete
from waterleaf.marking.items import FEW

# Papers with fewer copies than this say nothing of a question (common practice, no source).
FEWEST_COPIES: Final = 5


@dataclass(frozen=True, slots=True)
class PaperQuestion:
    """One question on all papers: its families, how many did it, the share of its marks earned, the chance of error.

    `p` is None where the class is too small for a test. `looks` is how many questions were tested together.
    """

    question: int
    papers: tuple[str, ...]
    families: tuple[str, ...]
    copies: tuple[int, ...]
    shares: tuple[float | None, ...]
    p: float | None
    looks: int

    @property
    def uneven(self) -> bool:
        """Whether the papers differed by more than chance makes likely, allowing for the number of looks."""
        return self.p is not None and self.p * self.looks < CHANCE


def paper_questions(marked: ClassMarks) -> list[PaperQuestion]:
    """A line for each question of parallel papers; none where the class had no papers.

    Each student's share of a question is set beside their share of all other questions, so that a paper whose students
    are stronger does not look easier. The differences are compared by ranks (Kruskal and Wallis 1952, from memory).
    """
    papers = marked.issued.papers
    by_paper = {
        paper.name: [entry for entry in complete(marked) if entry.sheet.paper == paper.name] for paper in papers
    }
    places = range(len(marked.issued.questions)) if papers else range(0)
    enough = sum(map(len, by_paper.values())) >= FEW and min(map(len, by_paper.values()), default=0) >= FEWEST_COPIES
    looks = [
        (place, _test([[_beside_rest(e, place) for e in entries] for entries in by_paper.values()]) if enough else None)
        for place in places
    ]
    tested = sum(p is not None for _, p in looks)
    return [
        PaperQuestion(
            place + 1, tuple(by_paper), tuple(paper.questions[place].family for paper in papers),
            tuple(len(entries) for entries in by_paper.values()),
            tuple(_share(entries, place) for entries in by_paper.values()), p, tested,
        )
        for place, p in looks
    ]


def _earned(entry: StudentMarks, place: int) -> tuple[float, int]:
    """Marks earned and possible for the question at a place."""
    own = [o for o in entry.outcomes if o.label.rstrip("abcdefghijkl") == str(place + 1)]
    return sum(o.marks or 0.0 for o in own), sum(o.of for o in own)


def _share(entries: Sequence[StudentMarks], place: int) -> float | None:
    marks = [_earned(entry, place) for entry in entries]
    possible = sum(of for _, of in marks)
    return sum(earned for earned, _ in marks) / possible if possible else None


def _beside_rest(entry: StudentMarks, place: int) -> float:
    earned, of = _earned(entry, place)
    full = sum(o.of for o in entry.outcomes)
    rest = (entry.total - earned) / (full - of) if full > of else 0.0
    return earned / of - rest


def _test(groups: Sequence[Sequence[float]]) -> float | None:
    """The chance of ranks as far apart as these; None where all values are the same."""
    if len({value for group in groups for value in group}) < 2:
        return None
    from scipy.stats import kruskal

    return float(kruskal(*groups).pvalue)
