"""The plan of parallel papers: what is asked, for how many marks, on how many papers, and how they look."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from waterleaf.bank.family import Family
from waterleaf.bank.marked_yaml import Marked, read
from waterleaf.bank.models import Marks, Strict
from waterleaf.bank.validation import Id, checked_date, validated
from waterleaf.faults import Fault, Faults

Line = Annotated[str, Field(min_length=1, max_length=300)]
Number = Annotated[int, Field(ge=1, le=200)]


class PlanLine(Strict):
    """A family by name, or one of a topic, level and worth; with `vary`, another on each paper where there is one."""

    family: str | None = None
    marks: dict[str, Marks] = Field(default_factory=dict)
    topic: str | None = None
    level: Literal[1, 2, 3] | None = None
    worth: Number | None = None
    steps: Number | None = None
    vary: bool = False

    @model_validator(mode="after")
    def _one_way(self) -> "PlanLine":
        if (self.family is None) == (self.topic is None):
            raise ValueError("give either family or topic, not both and not neither.")
        if self.family is not None and (self.level or self.worth or self.steps or self.vary):
            raise ValueError("level, worth, steps and vary choose among a topic's families. Leave them out here.")
        if self.topic is not None and self.marks:
            raise ValueError("marks: parts have names of their own in each family; set marks beside a family.")
        return self


class PaperPlan(Strict):
    """The fields of a plan file."""

    id: Id
    title: Annotated[str, Field(min_length=1, max_length=80)]
    papers: Annotated[int, Field(ge=2, le=6)] = 2
    questions: Annotated[list[PlanLine], Field(min_length=1, max_length=30)]
    seed: Annotated[int, Field(ge=0, le=10**9)] = 1
    units: Literal["metric", "us"] | None = None
    paper: Literal["a4", "letter"] | None = None
    decimal: Literal["point", "comma"] = "point"
    ask_unit: bool = False
    date: str | None = None
    minutes: Annotated[int, Field(ge=5, le=480)]
    instructions: Annotated[list[Line], Field(max_length=8)] = Field(default_factory=list)
    formula_sheet: bool = False

    @field_validator("date")
    @classmethod
    def _a_date(cls, text: str | None) -> str | None:
        return checked_date(text, "2026-03-20")


@dataclass(frozen=True, slots=True)
class Slot:
    """One question of the plan: the families that may fill it, best first, and marks that differ from their own.

    The first family is the one that all others have to match.
    """

    families: tuple[Family, ...]
    marks: Mapping[str, Marks]
    vary: bool
    line: str


def read_paper_plan(path: Path, bank: Mapping[str, Family]) -> tuple[PaperPlan, list[Slot]]:
    """A plan and its questions with the families that may fill them.

    Raises Faults with everything wrong in the file.
    """
    marked = read(path, path.name)
    plan = validated(marked, PaperPlan)
    faults: list[Fault] = []
    slots: list[Slot] = []
    named = {line.family for line in plan.questions if line.family}
    taken: set[str] = set()
    for place, line in enumerate(plan.questions):
        where = marked.where(("questions", place))
        if line.family is not None:
            slots += _named(line, bank, where, faults)
            continue
        fitting = _fitting(line, bank)
        free = [family for family in fitting if family.key not in named | taken]
        if not free:
            faults.append(Fault(where, "topic", _nothing_left(line, fitting, bank)))
            continue
        chosen = _rotated(free, plan.seed + place)
        taken.add(chosen[0].key)
        slots.append(Slot(tuple(chosen), {}, line.vary, where))
    if not faults:
        faults += _doubled(marked, plan)
    if faults:
        raise Faults(faults)
    return plan, slots


def _named(line: PlanLine, bank: Mapping[str, Family], where: str, faults: list[Fault]) -> list[Slot]:
    key = line.family or ""
    if key not in bank:
        faults.append(Fault(where, "family", f"{key!r} is not in the bank. `waterleaf bank map` lists it."))
        return []
    family = bank[key]
    for name, marks in line.marks.items():
        if name not in family.parts:
            faults.append(Fault(where, "marks", f"{key} has no part {name!r}: {', '.join(family.parts)}."))
        elif marks.total == 0:
            faults.append(Fault(where, "marks", f"part {name!r} would be worth nothing. Give it a mark."))
    return [Slot((family,), line.marks, False, where)]


def _fitting(line: PlanLine, bank: Mapping[str, Family]) -> list[Family]:
    return [
        family for key, family in sorted(bank.items())
        if family.topic == line.topic and line.level in (None, family.file.level)
        and line.worth in (None, worth_of(family)) and line.steps in (None, steps_of(family))
    ]


def worth_of(family: Family) -> int:
    """All marks of a family."""
    return sum(part.file.marks.total for part in family.parts.values())


def steps_of(family: Family) -> int:
    """Printed lines of working in metric units, over all parts of a family."""
    from waterleaf.draw import draw
    from waterleaf.exercise import pose

    return sum(len(part.working) for part in pose(draw(family, 1)).parts)


def _rotated(free: Sequence[Family], seed: int) -> list[Family]:
    start = seed % len(free)
    return [*free[start:], *free[:start]]


def _nothing_left(line: PlanLine, fitting: Sequence[Family], bank: Mapping[str, Family]) -> str:
    """What the bank has of the topic, so that the line can be mended."""
    asked = ", ".join(
        f"{field} {value}" for field, value in (("level", line.level), ("worth", line.worth), ("steps", line.steps))
        if value
    )
    if fitting:
        return f"{line.topic!r} has no other family of {asked or 'any kind'}: all are on the paper. Take the line out."
    kinds = sorted(
        (family.file.level, worth_of(family), steps_of(family), family.key) for family in bank.values()
        if family.topic == line.topic
    )
    if not kinds:
        topics = ", ".join(sorted({family.topic for family in bank.values()}))
        return f"{line.topic!r} is not a topic of the bank. Topics are {topics}."
    has = "; ".join(f"{key} level {level}, worth {worth}, steps {steps}" for level, worth, steps, key in kinds)
    return f"no family of {line.topic!r} has {asked}. The bank has {has}."


def _doubled(marked: Marked, plan: PaperPlan) -> list[Fault]:
    """A family that is named twice in a plan with other marks would be one question under two schemes."""
    first: dict[str, PlanLine] = {}
    found = []
    for place, line in enumerate(plan.questions):
        if line.family and first.setdefault(line.family, line).marks != line.marks:
            found.append(
                Fault(marked.where(("questions", place)), "marks", f"{line.family} is asked before with other marks. "
                      "Give both lines the same marks.")
            )
    return found
