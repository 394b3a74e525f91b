"""Marks one student's sheet, later parts judged from the student's own earlier answers as well as from the key."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from waterleaf.bank.models import Marks
from waterleaf.exercise import Exercise, PosedPart
from waterleaf.marking.labels import Labelled, labelled
from waterleaf.marking.partmarks import Judged, Reader, judge_part, own_value, posed_again
from waterleaf.marking.scheme import RIGHT, WORDS, earned


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a student got for one part, and why.

    `marks` is None while a person has to decide. `follows` names the earlier parts from whose wrong answers this one
    follows rightly.
    """

    label: str
    family: str
    part: str
    answer: str
    kind: str
    message: str
    echo: str
    marks: float | None
    of: int
    turn: str = ""
    see: str = ""
    follows: tuple[str, ...] = ()
    own_key: str = ""
    doubt: str = ""
    note: str = ""

    @property
    def words(self) -> str:
        """The verdict for a table."""
        if self.note:
            return f"decided: {self.note}" if self.note != "-" else "decided"
        after = f", from your own {' and '.join(self.follows)}" if self.follows else ""
        return f"{WORDS[self.kind]}{after}"


def mark_sheet(
    exercises: Sequence[Exercise], answers: Mapping[str, str], reader: Reader, doubts: Mapping[str, str] | None = None
) -> list[Outcome]:
    """An outcome for every part of a sheet, in order; parts that are not in `answers` count as blank.

    `doubts` says of some labels why a person has to look at the answer, whatever it says.
    """
    outcomes: list[Outcome] = []
    of_exercise: dict[int, _Chain] = {}
    for item in labelled(exercises):
        chain = of_exercise.setdefault(id(item.exercise), _Chain(item.exercise, reader))
        outcomes.append(chain.mark(item, answers.get(item.label, ""), (doubts or {}).get(item.label, "")))
    return outcomes


class _Chain:
    """The parts of one exercise, with the answers that the student went on from."""

    def __init__(self, exercise: Exercise, reader: Reader) -> None:
        self._exercise, self._reader = exercise, reader
        self._known: dict[str, Any] = {
            name: value for name, value in exercise.keys.items() if name not in exercise.family.parts
        }
        self._labels: dict[str, str] = {}
        self._moved: set[str] = set()  # parts whose value is not the key's
        self._undecided: set[str] = set()

    def mark(self, item: Labelled, text: str, doubt: str) -> Outcome:
        """The outcome of the next part."""
        part = item.part
        judged = Judged("doubtful", "", doubt=doubt) if doubt else judge_part(part, text, self._reader)
        moved = [name for name in part.follows if name in self._moved]
        again = self._from_own(part) if moved else None
        second = judge_part(again, text, self._reader) if again else None
        followed = second is not None and _better(second, judged, part.marks)
        found = second if followed and second is not None else judged
        waiting = [self._labels[name] for name in part.follows if name in self._undecided]
        if waiting and found.kind not in (*RIGHT, "blank", "doubtful"):
            found = Judged(
                "doubtful", found.message, found.echo, doubt=f"rests on {' and '.join(waiting)}, which is in doubt"
            )
        self._go_on(part, item.label, text, judged, again)
        return _outcome(
            item, text, found, tuple(self._labels[name] for name in moved) if followed else (),
            again.key_text if followed and again else "",
        )

    def _from_own(self, part: PosedPart) -> PosedPart | None:
        """The part as it would be asked of someone with this student's earlier answers; None where it has no answer."""
        spec = self._exercise.family.parts[part.name]
        try:
            key = spec.answer(self._known)
            return posed_again(self._exercise, part, key, self._known)
        except (ValueError, ArithmeticError, KeyError, TypeError, IndexError):
            return None  # an impossible earlier answer, such as fewer than no fish, leads nowhere

    def _go_on(self, part: PosedPart, label: str, text: str, judged: Judged, again: PosedPart | None) -> None:
        """Remember what the student went on with: the own answer, else what follows from earlier ones, else the key."""
        name = part.name
        self._labels[name] = label
        key = self._exercise.keys[name]
        value = own_value(self._exercise, part, text, judged, self._reader)
        if value is None and again is not None:
            value = self._exercise.family.parts[name].answer(self._known)
        self._known[name] = key if value is None else value
        if self._known[name] != key:
            self._moved.add(name)
        if judged.kind == "doubtful":
            self._undecided.add(name)


def _better(second: Judged, first: Judged, marks: Marks) -> bool:
    """Whether the verdict from the student's own answers serves the student better, or says more."""
    if first.kind in ("blank", "doubtful") or second.kind in ("blank", "doubtful", "wrong"):
        return False
    return _worth(second, marks) > _worth(first, marks) or (first.kind == "wrong" and second.kind == "slip")


def _worth(judged: Judged, marks: Marks) -> int:
    return earned(judged.kind, marks, unit_missing=judged.unit_missing)


def _outcome(item: Labelled, text: str, judged: Judged, follows: tuple[str, ...], own_key: str) -> Outcome:
    part = item.part
    return Outcome(
        label=item.label, family=item.exercise.family.key, part=part.name, answer=text, kind=judged.kind,
        message=judged.message, echo=judged.echo,
        marks=None if judged.kind == "doubtful" else _worth(judged, part.marks), of=part.marks.total,
        turn=judged.slip.turn if judged.slip else "", see=judged.slip.see if judged.slip else "",
        follows=follows, own_key=own_key, doubt=judged.doubt,
    )
