"""A practical task or a report as data: what to have ready, steps with cautions, and criteria with marks."""

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from waterleaf.bank.family import Family
from waterleaf.bank.marked_yaml import Marked, read
from waterleaf.bank.story import StoryFault, names_in
from waterleaf.bank.validation import validated
from waterleaf.faults import Fault, Faults

Line = Annotated[str, Field(min_length=1, max_length=300)]
# Words that head other columns of the results table.
RESERVED: Final = ("id", "name", "date", "assessor", "stopped", "remark", "code")


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class Step(_Strict):
    """Something that can be seen to be done; `care` stands before it, `note` is a value to write down."""

    do: Line
    care: Line | None = None
    note: Annotated[str, Field(min_length=1, max_length=60)] | None = None


class Level(_Strict):
    """What earns these marks."""

    marks: Annotated[int, Field(ge=0, le=20)]
    text: Annotated[str, Field(min_length=1, max_length=160)]


class Criterion(_Strict):
    """One thing that is judged, best level first."""

    name: Annotated[
        str,
        Field(
            pattern=r"^[A-Za-z][A-Za-z0-9 -]{0,27}$",
            description="Use letters, digits, spaces and hyphens, a letter first, at most 28 in all.",
        ),
    ]
    levels: Annotated[list[Level], Field(min_length=3, max_length=4)]

    @model_validator(mode="after")
    def _falling(self) -> "Criterion":
        marks = [level.marks for level in self.levels]
        if marks != sorted(set(marks), reverse=True) or marks[-1] != 0:
            raise ValueError(f"levels: marks {marks} must fall from level to level and end at 0.")
        return self

    @property
    def most(self) -> int:
        """The marks of the best level."""
        return self.levels[0].marks

    def level_for(self, marks: float) -> Level:
        """The best level that these marks reach."""
        return next(level for level in self.levels if level.marks <= marks)


class DayNumbers(_Strict):
    """Numbers of the day from a family: a sentence with its givens, and which of its parts are worked out."""

    family: str
    say: Line
    asks: Annotated[dict[str, Line], Field(min_length=1, max_length=3)]
    mind: Line


class Practical(_Strict):
    """A task that is watched and judged, or a report that is read and judged."""

    title: Annotated[str, Field(min_length=1, max_length=80)]
    kind: Literal["practical", "report"] = "practical"
    minutes: Annotated[int, Field(ge=1, le=600)] | None = None
    sources: Annotated[list[Line], Field(min_length=1, max_length=5)]
    ready: Annotated[list[Line], Field(max_length=10)] = Field(default_factory=list)
    stop: Annotated[list[Line], Field(max_length=6)] = Field(default_factory=list)
    day: DayNumbers | None = None
    steps: Annotated[list[Step], Field(min_length=1, max_length=14)]
    criteria: Annotated[list[Criterion], Field(min_length=4, max_length=6)]

    @model_validator(mode="after")
    def _whole(self) -> "Practical":
        names = [criterion.name.casefold() for criterion in self.criteria]
        if len(set(names)) < len(names):
            raise ValueError("criteria: two have the same name. Give each its own.")
        taken = sorted(set(names) & set(RESERVED))
        if taken:
            raise ValueError(f"criteria: {taken[0]!r} heads a column of the results table. Choose another name.")
        if self.kind == "practical" and not self.stop:
            raise ValueError("stop: say what stops the task at once. A task without a danger is a report.")
        return self

    @property
    def full(self) -> int:
        """All marks of the task."""
        return sum(criterion.most for criterion in self.criteria)


def read_practical(path: Path, bank: Mapping[str, Family] | None = None) -> Practical:
    """A task from its file; with a bank, the numbers of the day are held against it.

    Raises Faults with everything wrong in the file.
    """
    marked = read(path, path.name)
    task = validated(marked, Practical)
    if bank is not None and task.day is not None:
        _check_day(task.day, marked, bank)
    return task


def _check_day(day: DayNumbers, marked: Marked, bank: Mapping[str, Family]) -> None:
    family = bank.get(day.family)
    if family is None:
        raise Faults([Fault(marked.where(("day", "family")), "day.family", f"{day.family!r} is not in the bank.")])
    faults = []
    givens, parts = ", ".join(family.file.given), ", ".join(family.parts)
    try:
        strangers = sorted(names_in(day.say) - set(family.file.given))
    except StoryFault as error:
        raise Faults([Fault(marked.where(("day", "say")), "day.say", f"{error}.")]) from None
    if strangers:
        faults.append(Fault(marked.where(("day", "say")), "day.say", f"{strangers[0]!r} is not given there: {givens}."))
    faults += [
        Fault(marked.where(("day", "asks", name)), "day.asks", f"{name!r} is not a part of {day.family}: {parts}.")
        for name in day.asks if name not in family.parts
    ]
    if faults:
        raise Faults(faults)
