"""What a part is called on paper and in tables: 1a, 1b, 2, 3a."""

from collections.abc import Sequence
from dataclasses import dataclass

from waterleaf.bank.family import Family
from waterleaf.exercise import Exercise, PosedPart


@dataclass(frozen=True, slots=True)
class Labelled:
    """A part of a sheet under its printed label."""

    label: str
    exercise: Exercise
    part: PosedPart


def label(question: int, part: int, parts: int) -> str:
    """The label as the worksheet prints it; a question with a single part has no letter."""
    return f"{question + 1}{chr(97 + part) if parts > 1 else ''}"


def labels_of(families: Sequence[Family]) -> list[str]:
    """The labels of a whole assignment, in order."""
    return [
        label(place, index, len(family.parts)) for place, family in enumerate(families)
        for index in range(len(family.parts))
    ]


def labelled(exercises: Sequence[Exercise]) -> list[Labelled]:
    """All parts of a sheet, in order."""
    return [
        Labelled(label(place, index, len(exercise.parts)), exercise, part)
        for place, exercise in enumerate(exercises) for index, part in enumerate(exercise.parts)
    ]
