"""The shape of a family file, field by field. What a field means to an instructor stands in its description, which also
feeds the JSON Schema that editors use."""

from typing import Annotated, Any, Final, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Discriminator, Field, Tag, model_validator

# No drawn value is larger; beyond, its digits could not be written out to the step.
MOST: Final = 1e12

Name = Annotated[
    str,
    Field(
        pattern=r"^[a-z][a-z0-9_]{0,40}$",
        description="Use small letters, digits and underscores, a letter first, at most 41 in all.",
    ),
]
Text = Annotated[str, Field(min_length=1, max_length=4000)]
Line = Annotated[str, Field(min_length=1, max_length=400)]


def _number_as_text(value: Any) -> Any:
    """A sum may be a single number, and a tolerance written without quotes is one to YAML."""
    return repr(value) if isinstance(value, int | float) and not isinstance(value, bool) else value


Sum = Annotated[str, BeforeValidator(_number_as_text), Field(min_length=1, max_length=300)]


class Strict(BaseModel):
    """Unknown keys and numbers without end are refused, and nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class Customary(Strict):
    """How a value is shown in US customary units."""

    unit: str = Field(description="Unit in US customary, for example ft^2 or lb/day.")
    step: float | None = Field(None, ge=1e-6, le=MOST, description="The shown number is rounded to a multiple of this.")


class Given(Strict):
    """A number drawn from `from` to `to` in whole steps."""

    from_: float = Field(alias="from", ge=-MOST, le=MOST, description="Smallest value that may be drawn.")
    to: float = Field(ge=-MOST, le=MOST, description="Largest value that may be drawn.")
    step: float = Field(gt=0, description="Values are drawn in steps of this.")
    unit: str = Field("", description="Metric unit, for example m^2, g/day or degC. Leave out for a pure number.")
    us: Customary | None = Field(None, description="Unit and step on sheets in US customary units.")
    fixed: bool = Field(False, description="True for a number that students are given but that is the same for all.")
    own: Annotated[str, Field(pattern=r"^[a-z_]+(\.[a-z_]+)+$")] | None = Field(
        None, description="Value of the school's growing file that may stand here, for example beds.raft_area."
    )

    @model_validator(mode="after")
    def _in_order(self) -> "Given":
        if self.to < self.from_:
            raise ValueError(f"to ({self.to:g}) is below from ({self.from_:g}). Swap the two.")
        if (self.to - self.from_) / self.step > 1_000_000:
            raise ValueError("more than a million steps from `from` to `to`. Give a larger step.")
        return self


class Spread(Strict):
    """The mean of a set of readings, drawn in whole steps."""

    from_: float = Field(alias="from")
    to: float
    step: float = Field(gt=0)


class ReadingsGiven(Strict):
    """A set of readings drawn around a mean, each rounded to the instrument's resolution."""

    readings: int = Field(ge=2, le=12, description="How many readings.")
    mean: Spread = Field(description="Range from which the mean is drawn.")
    spread: float = Field(gt=0, description="Standard deviation of single readings.")
    step: float = Field(gt=0, description="Resolution of the instrument.")
    low: float = Field(0, description="No reading lies below this.")
    high: float = Field(description="No reading lies above this.")
    unit: str = Field("", description="Unit of the readings.")


SHAPES: Final = ("one number", "set of readings")


def _shape(data: Any) -> str:
    """A given with `readings` is a set of them; without, it is one number."""
    return SHAPES[isinstance(data, ReadingsGiven) or (isinstance(data, dict) and "readings" in data)]


AnyGiven = Annotated[
    Annotated[Given, Tag(SHAPES[0])] | Annotated[ReadingsGiven, Tag(SHAPES[1])], Discriminator(_shape)
]


class Marks(Strict):
    """Marks of a part: for the method, the result and the unit."""

    method: int = Field(1, ge=0, le=20)
    result: int = Field(1, ge=0, le=20)
    unit: int = Field(1, ge=0, le=20)

    @property
    def total(self) -> int:
        """All marks of the part."""
        return self.method + self.result + self.unit


class Option(Strict):
    """One answer to choose, or one item to put in order."""

    text: Line = Field(description="What the student reads; {{ name }} puts in a given, a word or an earlier answer.")
    right_if: Sum | None = Field(None, description="For a choice: the condition under which this is the right answer.")
    by: Sum | None = Field(None, description="For an order: the number by which the items are ordered.")
    say: Line | None = Field(None, description="For a choice: what to say to a student who takes this wrongly.")
    see: str | None = Field(None, description="Where the lesson explains it, for example feed#the-feed-ratio.")


class Pick(Strict):
    """One number out of a table that a relation makes."""

    row: int | str = Field(description="Row by its number from 0, or by the text in its first column.")
    column: str = Field(description="Name of the column.")


PartKind = Literal["number", "whole", "times", "choice", "order"]


class Part(Strict):
    """One question: the relation that answers it, its arguments, and what counts as right."""

    ask: Line = Field(description="The question, one sentence.")
    kind: PartKind = Field(
        "number",
        description="number: a number with a unit; whole: a count; times: a timetable of clock times; "
        "choice: one of several answers; order: items put in order.",
    )
    relation: str | None = Field(None, description="Name of the relation that answers it; see `waterleaf calc --list`.")
    with_: dict[str, Any] = Field(
        default_factory=dict,
        alias="with",
        description="Argument of the relation: a given, an earlier part, a number, or a small sum of these. "
        "Arguments with the same name as a given need not be listed.",
    )
    round: Literal["up", "down"] | None = Field(None, description="For a whole number: which way it is rounded.")
    pick: Pick | None = Field(None, description="Where the relation makes a table: which number of it is asked for.")
    options: list[Option] = Field(default_factory=list, max_length=6, description="For a choice or an order.")
    highest_first: bool = Field(True, description="For an order: whether the highest number comes first.")
    unit: str = Field("", description="Metric unit of the answer.")
    us: Customary | None = Field(None, description="Unit of the answer on sheets in US customary units.")
    figures: int | None = Field(None, ge=1, le=6, description="Significant figures of the printed key.")
    decimals: int | None = Field(None, ge=0, le=6, description="Decimal places of the printed key, instead of figures.")
    tolerance: Sum = Field(
        "0",
        description="How far an answer may lie off: a share such as 2 %, or an amount in the metric unit such as "
        "0.05. For an order: how far apart the items must lie.",
    )
    because: Line | None = Field(None, description="Why the tolerance is that wide.")
    between: tuple[float, float] | None = Field(
        None, description="A sensible answer lies between these, in the metric unit."
    )
    hint: Line | None = Field(None, description="A nudge that gives no number away.")
    reason: Text | None = Field(
        None, description="For the key: why, in a sentence; {{ name }} puts in givens and answers."
    )
    marks: Marks = Field(default_factory=lambda: Marks())

    @property
    def numeric(self) -> bool:
        """Whether the answer is a number or several."""
        return self.kind in ("number", "whole", "times")

    @model_validator(mode="after")
    def _complete(self) -> "Part":
        if self.numeric:
            self._complete_number()
        elif len(self.options) < (2 if self.kind == "choice" else 3):
            raise ValueError(f"options: a {self.kind} needs at least {2 if self.kind == 'choice' else 3}.")
        elif self.relation or self.pick or self.unit:
            raise ValueError(f"a {self.kind} has options instead of relation, pick and unit.")
        elif self.reason is None:
            raise ValueError(f"reason: say for the key why the {self.kind} is right.")
        else:
            field = "right_if" if self.kind == "choice" else "by"
            if any(getattr(option, field) is None for option in self.options):
                raise ValueError(f"options: each option of a {self.kind} needs {field}.")
        return self

    def _complete_number(self) -> None:
        if self.round and self.kind != "whole":
            raise ValueError("round: only the answer of kind: whole is rounded up or down.")
        if self.relation is None:
            raise ValueError("relation: name the relation that answers the question.")
        if self.options:
            raise ValueError(f"options: a {self.kind} has none; is kind: choice meant?")
        if self.kind != "whole" and (self.figures is None) == (self.decimals is None):
            raise ValueError("give either figures or decimals, not both and not neither.")
        if self.between is None:
            raise ValueError("between: give the smallest and the largest sensible answer.")
        if self.because is None:
            raise ValueError("because: say why the tolerance is that wide.")
        if self.between[0] > self.between[1]:
            raise ValueError("between: the first number is above the second. Swap the two.")


class Slip(Strict):
    """A wrong turn that students take, the number it leads to, and what to say about it."""

    of: str = Field(description="The part in which it happens.")
    turn: Line = Field(description="The wrong turn in a few words, for the instructor's key.")
    value: Sum | None = Field(None, description="The number it leads to: a sum of givens, parts and `answer`.")
    as_shown: bool = Field(
        False,
        description="True where the sum is worked with the numbers as they stand on the sheet, in its own units: "
        "for a wrong turn that takes numbers without thinking of units.",
    )
    only: Literal["metric", "us"] | None = Field(None, description="The one system of units in which this can happen.")
    relation: str | None = Field(None, description="Or the wrong relation that is taken ...")
    with_: dict[str, Any] = Field(default_factory=dict, alias="with", description="... or its wrong arguments.")
    say: Line = Field(description="What the student reads: name the wrong turn, do not give the answer away.")
    see: str = Field(description="Where the lesson explains it, for example feed#the-feed-ratio.")

    @model_validator(mode="after")
    def _one_way(self) -> "Slip":
        if self.value is not None and (self.relation or self.with_):
            raise ValueError("give either value, or relation and with, not both.")
        if self.value is None and not self.relation and not self.with_:
            raise ValueError("say how the wrong number comes about: value, or relation, or with.")
        if self.as_shown and self.value is None:
            raise ValueError("as_shown: only a value can be worked with the numbers as shown.")
        return self


class DataTable(Strict):
    """Readings set out in columns on the sheet."""

    caption: Line
    columns: dict[str, str] = Field(
        min_length=1, max_length=6, description="Heading of a column: name of the readings."
    )


class AnswerTable(Strict):
    """Several parts answered in the cells of one table."""

    caption: Line
    headings: list[Line] = Field(min_length=2, max_length=7, description="The first heads the names of the rows.")
    rows: dict[str, list[str | None]] = Field(
        min_length=1, max_length=8, description="Name of a row: the parts in its cells; null leaves a cell empty."
    )


class Origin(Strict):
    """Where the facts of the exercise come from."""

    key: str = Field(description="Key of the publication in the kit's sources.")
    locus: Line = Field(description="Place in the publication.")


class FamilyFile(Strict):
    """One family of exercises."""

    version: int = Field(ge=1, le=9999, description="Raise it whenever a change alters drawn values or keys.")
    title: Line
    goal: Line = Field(description="What a student can do afterwards; starts with a verb.")
    level: Literal[1, 2, 3] = Field(description="1 one step, 2 several steps, 3 open design or decision.")
    lesson: str = Field(description="Lesson and heading, for example feed#the-feed-ratio.")
    story: Text = Field(description="The situation. {{ name }} puts in a given or a word.")
    words: dict[Name, list[Line]] = Field(
        default_factory=dict, description="Texts to choose from: names, crops, places."
    )
    given: dict[Name, AnyGiven] = Field(min_length=1, max_length=12)
    only_if: list[Sum] = Field(
        default_factory=list, max_length=20, description="Draws that break one of these are thrown back."
    )
    table: DataTable | None = None
    answer_table: AnswerTable | None = None
    parts: dict[Name, Part] = Field(min_length=1, max_length=12)
    slips: list[Slip] = Field(min_length=2, max_length=12)
    caution: Text | None = Field(None, description="Safety note, printed before the questions.")
    source: Origin
