"""The table that shows how far parallel papers match, question by question, and says where they do not."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from waterleaf.classwork.likeness import PartShape, copyable, drawn_numbers, range_texts, ratio, shape_of
from waterleaf.classwork.parallel import Paper
from waterleaf.exercise import Exercise
from waterleaf.marking.labels import label
from waterleaf.marking.tableout import Cell

HEADINGS: Final = (
    "question", "topic", "level", "family", "marks", "steps", "changes of unit", "asked for", "numbers",
    "answers apart", "differences",
)


@dataclass(frozen=True, slots=True)
class Match:
    """One question of all papers."""

    question: int
    topic: str
    level: int
    families: tuple[str, ...]  # each once
    shape: tuple[PartShape, ...]
    numbers: tuple[str, ...]
    apart: float | None  # None where no two papers ask the same family
    differences: tuple[str, ...]
    answers: tuple[tuple[str, ...], ...]  # for each part: its label, then its answer on every paper

    @property
    def row(self) -> list[Cell]:
        """The row of the table, in the order of HEADINGS."""
        return [
            self.question, self.topic, self.level, "; ".join(self.families), self.marks, self.steps, self.changes,
            self.asked, "; ".join(self.numbers) or "readings", self.far, "; ".join(self.differences) or "none",
        ]

    @property
    def far(self) -> str:
        """How many times as large an answer is on one paper as on another."""
        return "not compared" if self.apart is None else f"× {self.apart:.1f}"

    @property
    def marks(self) -> str:
        """Marks of the parts and their sum."""
        each = [sum(shape.marks) for shape in self.shape]
        return _sum(each)

    @property
    def steps(self) -> str:
        """Lines of working of the parts and their sum."""
        return _sum([shape.steps for shape in self.shape])

    @property
    def changes(self) -> int:
        """Changes of unit over all parts."""
        return sum(shape.changes for shape in self.shape)

    @property
    def asked(self) -> str:
        """How finely each answer is asked for."""
        return ", ".join(dict.fromkeys(shape.asked for shape in self.shape))


def _sum(each: Sequence[int]) -> str:
    return f"{'+'.join(map(str, each))} = {sum(each)}" if len(each) > 1 else str(each[0])


def matches(papers: Sequence[Paper]) -> list[Match]:
    """A line for every question. The papers have already been held against one another; this shows the outcome."""
    return [
        _match(place, [(paper.name, paper) for paper in papers]) for place in range(len(papers[0].exercises))
    ]


def _match(place: int, papers: Sequence[tuple[str, Paper]]) -> Match:
    exercises = {name: paper.exercises[place] for name, paper in papers}
    first = papers[0][1].exercises[place]
    pairs = [
        (one, other) for index, (one, _) in enumerate(papers) for other, _ in papers[index + 1 :]
    ]
    shapes = {name: shape_of(exercise) for name, exercise in exercises.items()}
    differences = _other_families(exercises, shapes)
    labels = [label(place, index, len(first.parts)) for index in range(len(first.parts))]
    overlaps: dict[str, list[str]] = {}
    for one, other in pairs:
        for index in copyable(exercises[one], exercises[other]):
            overlaps.setdefault(labels[index], []).append(f"{one} and {other}")
    differences += [f"{name} has answers that overlap on {', '.join(where)}" for name, where in overlaps.items()]
    same = [(one, other) for one, other in pairs if exercises[one].family.key == exercises[other].family.key]
    apart = max(
        (ratio(a, b) for one, other in same
         for a, b in zip(exercises[one].parts, exercises[other].parts, strict=True)), default=None,
    )
    return Match(
        place + 1, first.family.topic, first.family.file.level,
        tuple(dict.fromkeys(exercise.family.key for exercise in exercises.values())),
        shapes[papers[0][0]], tuple(range_texts(exercises)), apart, tuple(differences),
        tuple(
            (name, *(exercise.parts[index].answer for exercise in exercises.values()))
            for index, name in enumerate(labels)
        ),
    )


def _other_families(exercises: Mapping[str, Exercise], shapes: Mapping[str, tuple[PartShape, ...]]) -> list[str]:
    """What sets the questions of other families apart from the first paper's."""
    own, first = next(iter(exercises.items()))
    others: dict[str, list[str]] = {}
    for name, exercise in exercises.items():
        if exercise.family.key != first.family.key:
            others.setdefault(exercise.family.key, []).append(name)
    found = []
    for key, names in others.items():
        who = f"papers {' and '.join(names)}" if len(names) > 1 else f"paper {names[0]}"
        counts = len(drawn_numbers(exercises[names[0]])), len(drawn_numbers(first))
        found.append(f"on {who} the family is {key}: {counts[0]} drawn numbers, {counts[1]} on paper {own}")
        asked = [", ".join(shape.asked for shape in shapes[name]) for name in (names[0], own)]
        if asked[0] != asked[1]:
            found.append(f"{who} asked for {asked[0]}, paper {own} for {asked[1]}")
    return found


def as_text(found: Sequence[Match], papers: Sequence[Paper]) -> list[str]:
    """The table for a terminal: two lines a question."""
    lines = [f"Papers {', '.join(paper.name for paper in papers)}: {papers[0].marks} marks each"]
    for match in found:
        lines.append(
            f"  {match.question}  {match.topic}, level {match.level}, {' / '.join(match.families)}: "
            f"marks {match.marks}, steps {match.steps}, changes of unit {match.changes}, {match.asked}"
        )
        lines.append(f"     {'; '.join(match.numbers) or 'readings'}; answers apart {match.far}")
        lines += [f"     differs: {difference}" for difference in match.differences]
    if not any(match.differences for match in found):
        lines.append("  no difference in topic, level, family, marks, steps, changes of unit or figures")
    return lines
