"""Makes parallel papers: the same questions with other numbers, drawn again until no paper is the easier one."""

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from waterleaf.bank.family import Family, System
from waterleaf.classwork.likeness import copyable, too_easy, unlike
from waterleaf.classwork.paperplan import PaperPlan, Slot
from waterleaf.draw import draw
from waterleaf.exercise import Exercise, pose
from waterleaf.faults import refuse
from waterleaf.marking.issuebook import Issued, IssuedPaper, IssuedQuestion, family_of, with_marks

NAMES: Final = "ABCDEF"
# Draws looked at before a question is given up, and draws among which the one that is least worth copying is taken.
_MOST_DRAWS, _CHOICE, _STARTS = 160, 12, 6


@dataclass(frozen=True, slots=True)
class Paper:
    """One of the papers: its name, its questions as they are recorded, and the exercises on it."""

    name: str
    questions: tuple[IssuedQuestion, ...]
    exercises: tuple[Exercise, ...]

    @property
    def recorded(self) -> IssuedPaper:
        """What the issue book keeps of it."""
        return IssuedPaper(self.name, self.questions, tuple(exercise.draw.number for exercise in self.exercises))

    @property
    def marks(self) -> int:
        """Full marks of the paper."""
        return sum(exercise.marks for exercise in self.exercises)


def plan_seed(secret: str, plan: PaperPlan) -> str:
    """A seed that nobody can guess who has not the secret of the class."""
    return hashlib.blake2b(f"{secret} papers {plan.id} {plan.seed}".encode(), digest_size=10).hexdigest()


def parallel_papers(plan: PaperPlan, slots: Sequence[Slot], secret: str, system: System) -> list[Paper]:
    """The papers of a plan, which match question by question.

    Raises Faults with the line of the plan where a family has not enough draws that are alike.
    """
    seed, used = plan_seed(secret, plan), set[tuple[str, bytes]]()
    columns = [
        _column(slot, _question_makers(slot), f"{seed}.{place}", plan.papers, system, used)
        for place, slot in enumerate(slots)
    ]
    return [
        Paper(
            NAMES[number],
            tuple(_recorded(column[number].family, slot) for column, slot in zip(columns, slots, strict=True)),
            tuple(column[number] for column in columns),
        )
        for number in range(plan.papers)
    ]


def papers_again(issued: Issued, bank: Mapping[str, Family]) -> list[Paper]:
    """The papers of an issued plan, made again from the issue book alone.

    Raises Faults where a family is gone or has another version than the one that a paper was drawn from.
    """
    return [
        Paper(paper.name, paper.questions, tuple(
            with_marks(pose(draw(family_of(question, bank), number), issued.system), question)
            for question, number in zip(paper.questions, paper.draws, strict=True)
        ))
        for paper in issued.papers
    ]


def _recorded(family: Family, slot: Slot) -> IssuedQuestion:
    marks = {name: (marks.method, marks.result, marks.unit) for name, marks in slot.marks.items()}
    return IssuedQuestion(family.key, family.file.version, marks)


def _question_makers(slot: Slot) -> list[tuple[Family, IssuedQuestion]]:
    return [(family, _recorded(family, slot)) for family in slot.families]


def _column(
    slot: Slot, makers: Sequence[tuple[Family, IssuedQuestion]], seed: str, papers: int, system: System,
    used: set[tuple[str, bytes]],
) -> list[Exercise]:
    """One question on every paper. The first draw is the measure; where the others cannot meet it, another is tried."""
    reasons: Counter[str] = Counter()
    for start in range(_STARTS):
        first = _first(makers[0], f"{seed}.{start}", system, used, reasons)
        if first is None:
            continue
        found, mine = [first], {_mark(first)}
        for number in range(1, papers):
            rivals = _families_for(slot, makers, first, number, system)
            match = _match(found, rivals, f"{seed}.{start}.{number}", system, used | mine, reasons)
            if match is None:
                break
            found.append(match)
            mine.add(_mark(match))
        if len(found) == papers:
            used |= mine
            return found
    commonest = reasons.most_common(1)[0][0] if reasons else "no draw was found"
    raise refuse(
        slot.line, f"{makers[0][0].key}: no {papers} draws were found that are alike, most often because {commonest}. "
        "Ask for fewer papers, or for another family."
    )


def _mark(exercise: Exercise) -> tuple[str, bytes]:
    return exercise.family.key, exercise.draw.fingerprint


def _families_for(
    slot: Slot, makers: Sequence[tuple[Family, IssuedQuestion]], first: Exercise, number: int, system: System
) -> tuple[Family, IssuedQuestion]:
    """The family for a paper: the first one, or where the plan lets it vary, the next that asks for the same work."""
    if not slot.vary:
        return makers[0]
    alike = [makers[0]]
    for family, question in makers[1:]:
        tried = with_marks(pose(draw(family, "alike"), system), question)
        if not unlike(first, tried):
            alike.append((family, question))
    return alike[number % len(alike)]


def _draws(
    maker: tuple[Family, IssuedQuestion], seed: str, system: System, used: set[tuple[str, bytes]], reasons: Counter[str]
) -> Iterator[Exercise]:
    """Draws that are not used yet and not too easy."""
    family, question = maker
    for attempt in range(_MOST_DRAWS):
        found = draw(family, f"{seed}.{attempt}")
        if (family.key, found.fingerprint) in used:
            reasons["the same numbers come again"] += 1
            continue
        exercise = with_marks(pose(found, system), question)
        reason = too_easy(exercise)
        if reason:
            reasons[reason.partition(" would be")[0] + " would be a factor of 1, 10 or 100"] += 1
        else:
            yield exercise


def _first(
    maker: tuple[Family, IssuedQuestion], seed: str, system: System, used: set[tuple[str, bytes]], reasons: Counter[str]
) -> Exercise | None:
    return next(_draws(maker, f"{seed}.0", system, used, reasons), None)


def _match(
    found: Sequence[Exercise], maker: tuple[Family, IssuedQuestion], seed: str, system: System,
    used: set[tuple[str, bytes]], reasons: Counter[str],
) -> Exercise | None:
    """The draw that matches all earlier papers, and of whose answers fewest are right there too."""
    best: Exercise | None = None
    fewest, seen = 0, 0
    for exercise in _draws(maker, seed, system, used, reasons):
        reason = next(filter(None, (unlike(other, exercise) for other in found)), "")
        if reason:
            reasons[reason.partition(" (")[0]] += 1
            continue
        shared = sum(len(copyable(other, exercise)) for other in found)
        seen += 1
        if best is None or shared < fewest:
            best, fewest = exercise, shared
        if fewest == 0 or seen >= _CHOICE:
            break
    return best


def by_name(papers: Sequence[Paper]) -> Mapping[str, Paper]:
    """The papers by their names."""
    return {paper.name: paper for paper in papers}
