"""An assignment: which questions a class is asked, and how its sheets look and are marked."""

import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, field_validator, model_validator

from waterleaf.bank.family import Family
from waterleaf.bank.marked_yaml import Marked, read
from waterleaf.bank.models import Marks
from waterleaf.bank.validation import Id, checked_date, validated
from waterleaf.faults import Fault, Faults
from waterleaf.marking.checklink import base_address


class QuestionLine(BaseModel):
    """A family by name, or some families of a topic and level."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    family: str | None = None
    topic: str | None = None
    level: Literal[1, 2, 3] | None = None
    count: Annotated[int, Field(ge=1, le=20)] = 1
    marks: dict[str, Marks] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _one_way(self) -> "QuestionLine":
        if (self.family is None) == (self.topic is None):
            raise ValueError("give either family or topic, not both and not neither.")
        if self.topic is not None and self.marks:
            raise ValueError("marks: parts have names of their own in each family; set marks beside a family.")
        if self.family is not None and self.level is not None:
            raise ValueError("level: a family has its own level; give it beside a topic.")
        return self


class Assignment(BaseModel):
    """The fields of an assignment file."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    id: Id
    title: Annotated[str, Field(min_length=1, max_length=80)]
    questions: Annotated[list[QuestionLine], Field(min_length=1, max_length=40)]
    seed: Annotated[int, Field(ge=0, le=10**9)] = 1
    units: Literal["metric", "us"] | None = None
    paper: Literal["a4", "letter"] | None = None
    decimal: Literal["point", "comma"] = "point"
    ask_unit: bool = False
    given: str | None = None
    due: str | None = None
    self_check: bool = True
    site: str | None = None

    @field_validator("given", "due")
    @classmethod
    def _a_date(cls, text: str | None) -> str | None:
        return checked_date(text, "2026-03-09")

    @field_validator("site")
    @classmethod
    def _an_address(cls, text: str | None) -> str | None:
        return None if text is None else base_address(text)


@dataclass(frozen=True, slots=True)
class Question:
    """One question of an assignment: a family, marks that differ from its own, and own numbers that stand in it."""

    family: Family
    marks: Mapping[str, Marks]
    own: Mapping[str, float] = field(default_factory=dict)


def read_assignment(path: Path, bank: Mapping[str, Family]) -> tuple[Assignment, list[Question]]:
    """An assignment and its questions, families of a topic being chosen by the seed.

    Raises Faults with everything wrong in the file.
    """
    marked = read(path, path.name)
    file = validated(marked, Assignment)
    faults: list[Fault] = []
    questions: list[Question] = []
    taken = {line.family for line in file.questions if line.family}
    for place, line in enumerate(file.questions):
        found = _families(line, place, file.seed, bank, taken, marked, faults)
        taken |= {family.key for family in found}
        questions += [Question(family, line.marks) for family in found]
    if faults:
        raise Faults(faults)
    return file, questions


def _families(
    line: QuestionLine, place: int, seed: int, bank: Mapping[str, Family], taken: set[str], marked: Marked,
    faults: list[Fault],
) -> list[Family]:
    where = marked.where(("questions", place))
    if line.family is not None:
        if line.family not in bank:
            faults.append(Fault(where, "family", f"{line.family!r} is not in the bank. `waterleaf bank map` lists it."))
            return []
        family = bank[line.family]
        for name, marks in line.marks.items():
            if name not in family.parts:
                faults.append(Fault(where, "marks", f"{line.family} has no part {name!r}: {', '.join(family.parts)}."))
            elif marks.total == 0:
                faults.append(Fault(where, "marks", f"part {name!r} would be worth nothing. Give it a mark."))
        return [family] * line.count
    level = f" of level {line.level}" if line.level else ""
    fitting = sorted(
        key for key, family in bank.items()
        if family.topic == line.topic and line.level in (None, family.file.level) and key not in taken
    )
    if len(fitting) < line.count:
        faults.append(
            Fault(where, "topic", f"{line.topic!r} has {len(fitting)} families{level} left, not {line.count}. "
                  "Ask for fewer, or name a family twice.")
        )
        return []
    chosen = random.Random(f"{seed}:{place}").sample(fitting, line.count)
    return [bank[key] for key in sorted(chosen)]
