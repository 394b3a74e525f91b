"""What a class misunderstood: commonest slips, topics to teach again, and draws that were not equally hard."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from waterleaf.bank.family import Family
from waterleaf.marking import items
from waterleaf.marking.classmarks import ClassMarks, StudentMarks
from waterleaf.marking.items import ItemFigures

# A topic in which the class earned less than this share of the marks is named for teaching again, and a draw counts
# as uneven below this chance of error over all looks together (both common practice, no source).
TEACH_BELOW: Final = 0.6
CHANCE: Final = 0.05
MOST_SLIPS: Final = 12
MOST_AGAIN: Final = 4


@dataclass(frozen=True, slots=True)
class CommonSlip:
    """A wrong turn, in which part, how often, of how many who answered."""

    label: str
    family: str
    part: str
    turn: str
    see: str
    count: int
    answered: int


@dataclass(frozen=True, slots=True)
class TopicShare:
    """How much of a topic's marks the class earned."""

    topic: str
    share: float

    @property
    def again(self) -> bool:
        """Whether to teach it again."""
        return self.share < TEACH_BELOW


@dataclass(frozen=True, slots=True)
class UnevenDraw:
    """A drawn number with which the marks of its question went up or down."""

    question: int
    family: str
    given: str
    rho: float
    p: float


@dataclass(frozen=True, slots=True)
class ClassFigures:
    """Figures of the whole test, over the students whose sheets are complete."""

    students: int
    full: int
    mean: float
    median: float
    spread: float
    alpha: float | None
    kr20: float | None
    error: float | None
    items: Mapping[str, ItemFigures]
    totals: tuple[float, ...]

    @property
    def few(self) -> bool:
        """Whether the class is too small for these figures to be stable."""
        return self.students < items.FEW


def complete(marked: ClassMarks) -> list[StudentMarks]:
    """Students whose sheet was handed in and is fully decided."""
    return [entry for entry in marked.students if entry.state == "complete"]


def class_figures(marked: ClassMarks) -> ClassFigures | None:
    """Figures of the test; None where fewer than two sheets are complete."""
    entries = complete(marked)
    if len(entries) < 2:
        return None
    scores = np.array([[outcome.marks or 0.0 for outcome in entry.outcomes] for entry in entries])
    full = list(marked.labels.values())
    totals = scores.sum(axis=1)
    reliability, spread = items.alpha(scores), float(totals.std())
    return ClassFigures(
        students=len(entries), full=sum(full), mean=float(totals.mean()), median=float(np.median(totals)),
        spread=spread, alpha=reliability,
        kr20=items.kr20(scores / full[0]) if items.two_outcomes(scores, full) else None,
        error=items.standard_error(spread, reliability) if reliability is not None and reliability >= 0 else None,
        items=dict(zip(marked.labels, items.item_figures(scores, full), strict=True)),
        totals=tuple(float(total) for total in totals),
    )


def commonest_slips(marked: ClassMarks) -> list[CommonSlip]:
    """The wrong turns that more than one student took, most frequent first."""
    found: Counter[tuple[str, str, str, str, str]] = Counter()
    answered: Counter[str] = Counter()
    for entry in marked.students:
        for outcome in entry.outcomes:
            answered[outcome.label] += bool(outcome.answer)
            if outcome.kind == "slip":
                found[outcome.label, outcome.family, outcome.part, outcome.turn, outcome.see] += 1
    ordered = sorted(found.items(), key=lambda item: (-item[1], item[0]))
    return [CommonSlip(*slip, count, answered[slip[0]]) for slip, count in ordered if count > 1][:MOST_SLIPS]


def topic_shares(marked: ClassMarks, bank: Mapping[str, Family]) -> list[TopicShare]:
    """Each topic with the share of its marks that was earned, weakest first; undecided parts do not count."""
    earned: Counter[str] = Counter()
    possible: Counter[str] = Counter()
    for entry in marked.students:
        if not entry.handed_in:
            continue
        for outcome in entry.outcomes:
            if outcome.marks is not None:
                topic = bank[outcome.family].topic
                earned[topic] += outcome.marks  # type: ignore[assignment]  # half marks are floats
                possible[topic] += outcome.of
    shares = [TopicShare(topic, earned[topic] / possible[topic]) for topic in possible]
    return sorted(shares, key=lambda share: (share.share, share.topic))


def families_again(slips: Sequence[CommonSlip]) -> list[str]:
    """The families whose wrong turns were commonest, each once."""
    return list(dict.fromkeys(slip.family for slip in slips))[:MOST_AGAIN]


def uneven_draws(marked: ClassMarks) -> list[UnevenDraw]:
    """Questions whose marks went with a drawn number, allowing for the number of looks (Bonferroni)."""
    looks: list[UnevenDraw] = []
    entries = [entry for entry in complete(marked) if entry.givens]
    for place, question in enumerate(marked.issued.questions):
        labels = [label for label in marked.labels if label.rstrip("abcdefghijkl") == str(place + 1)]
        scores = [sum(o.marks or 0.0 for o in entry.outcomes if o.label in labels) for entry in entries]
        for given in _given_to_all(entries, place):
            found = items.drift([entry.givens[place][given] for entry in entries], scores)
            if found:
                looks.append(UnevenDraw(place + 1, question.family, given, *found))
    return [look for look in looks if look.p * len(looks) < CHANCE]


def _given_to_all(entries: Sequence[StudentMarks], place: int) -> list[str]:
    """The drawn numbers of a question that every sheet has; parallel papers may ask another family."""
    drawn = [entry.givens[place] for entry in entries]
    return [given for given in (drawn[0] if drawn else ()) if all(given in own for own in drawn)]
