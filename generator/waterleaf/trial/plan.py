"""The plan of a trial, as a person writes it: one YAML file, checked field by field before anything is planted."""

from pathlib import Path
from typing import Annotated, Any, Final, Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from waterleaf.bank.marked_yaml import Marked, read
from waterleaf.bank.models import Strict
from waterleaf.bank.validation import validated
from waterleaf.faults import Fault, Faults
from waterleaf.working.units import registry

Design = Literal["random", "blocked", "latin", "paired"]
Test = Literal["anova", "welch", "mixed", "ranks"]
Adjust = Literal["tukey", "holm"]
Aim = Literal["difference", "equivalence"]
Kind = Literal["sugar", "mass", "count", "score"]
PanelTest = Literal["triangle", "duo_trio", "preference", "ranking", "liking"]

Line = Annotated[str, Field(min_length=1, max_length=300)]
Word = Annotated[str, Field(min_length=1, max_length=40)]

MOST_UNITS: Final = 400
_DIMENSION: Final[dict[Kind, str]] = {"mass": "g", "count": "", "score": ""}
_PAIR_TESTS: Final = ("triangle", "duo_trio", "preference")
DIFFERENCE_TESTS: Final = ("triangle", "duo_trio")


class _Planned(Strict):
    """A part of a plan, in which true and false stand where they are asked for and nowhere else."""

    @field_validator("*", mode="before")
    @classmethod
    def _yes_is_no_number(cls, value: Any, info: ValidationInfo) -> Any:
        """Read true as 1 and a slip in a count would stand as a unit."""
        if isinstance(value, bool) and cls.model_fields[info.field_name or ""].annotation is not bool:
            raise ValueError(f"{str(value).lower()} does not belong here. Write what the note in a new plan says.")
        return value


class Response(_Planned):
    """What is measured, and with what."""

    kind: Kind
    name: Word
    unit: Annotated[str, Field(max_length=20)] = ""
    low: float = 0.0
    high: float
    step: Annotated[float, Field(gt=0)]
    compensates: bool = True
    plausible: tuple[float, float] | None = None

    @model_validator(mode="after")
    def _sound(self) -> "Response":
        if self.high <= self.low:
            raise ValueError(f"high ({self.high:g}) is not above low ({self.low:g}). Swap the two.")
        if self.kind == "sugar" and self.unit != "degBx":
            raise ValueError(f"a sugar reading is in degBx, not in {self.unit or 'no unit'}. Write unit: degBx.")
        if self.kind != "sugar" and not self.compensates:
            raise ValueError("only a refractometer needs compensates: false. Remove the field.")
        if self.kind != "sugar" and not _measures(self.unit, _DIMENSION[self.kind]):
            wanted = "a unit of mass such as g" if self.kind == "mass" else "no unit"
            raise ValueError(f"{self.unit!r} does not go with kind: {self.kind}. Give {wanted}.")
        if self.plausible and not self.low <= self.plausible[0] < self.plausible[1] <= self.high:
            raise ValueError(f"plausible must rise and lie between low ({self.low:g}) and high ({self.high:g}).")
        return self


def _measures(unit: str, like: str) -> bool:
    try:
        return bool(registry().Unit(unit).dimensionality == registry().Unit(like).dimensionality)
    except Exception:  # pint raises several kinds for a unit it cannot read
        return False


class Spread(_Planned):
    """How much units, and plants within a unit, are expected to differ, and how anybody knows."""

    between_units: Annotated[float, Field(ge=0)]
    within_unit: Annotated[float, Field(ge=0)]
    source: Line

    @model_validator(mode="after")
    def _some(self) -> "Spread":
        if self.between_units + self.within_unit <= 0:
            raise ValueError("plants always differ a little. Give at least one standard deviation above 0.")
        return self


class Panel(_Planned):
    """Tests by tasting that go with the trial."""

    tests: Annotated[tuple[PanelTest, ...], Field(min_length=1, max_length=5)]
    assessors: Annotated[int, Field(ge=2, le=300)]
    products: Annotated[tuple[Word, ...], Field(min_length=2, max_length=8)]
    allergens: tuple[Line, ...] = ("none known",)
    share_to_find: Annotated[float, Field(ge=10, le=95)] = 40.0
    similar_within: Annotated[float, Field(ge=10, le=95)] | None = None
    mark_to_find: Annotated[float, Field(gt=0, le=8)] = 1.0
    mark_spread: Annotated[float, Field(gt=0, le=8)] = 1.5


class Plan(_Planned):
    """Everything that is decided before anything is planted."""

    name: Annotated[
        str,
        Field(
            pattern=r"^[a-z0-9][a-z0-9-]{0,48}$",
            description="Use small letters, digits and hyphens, a letter or digit first, at most 49 in all.",
        ),
    ]
    question: Line
    crop: Word
    variety: Line
    methods: Annotated[tuple[Word, ...], Field(min_length=2, max_length=8)]
    response: Response
    unit: Literal["bed", "tank", "pot", "plot", "tray", "channel"]
    units_each: Annotated[int, Field(ge=1, le=50)]
    shared_supply: bool = False
    readings: Annotated[int, Field(ge=1, le=200)]
    design: Design
    blocks: tuple[Word, ...] = ()
    test: Test = "anova"
    adjust: Adjust = "tukey"
    aim: Aim = "difference"
    smallest_difference: Annotated[float, Field(gt=0)]
    spread: Spread
    significance: Annotated[float, Field(ge=1, le=20)] = 5.0
    power: Annotated[float, Field(ge=50, le=99)] = 80.0
    seed: Annotated[int, Field(ge=0, le=999_999)]
    codes_known_to: Annotated[tuple[Word, ...], Field(min_length=1, max_length=5)] = ("instructor",)
    panel: Panel | None = None

    @property
    def replicated(self) -> bool:
        """Whether chance between units can be seen at all: at least two units a method, each with its own supply."""
        return self.units_each > 1 and not self.shared_supply

    @property
    def independent_units(self) -> int:
        """Units in the whole trial that count as independent."""
        return len(self.methods) * (1 if self.shared_supply else self.units_each)

    @property
    def needs_temperature(self) -> bool:
        """Whether each reading has to come with the temperature of the prism."""
        return self.response.kind == "sugar" and not self.response.compensates


def load_plan(path: Path, shown_as: str = "") -> Plan:
    """The plan in a file. Raises Faults with everything that is wrong in it, line by line."""
    return check_plan(read(path, shown_as or path.name))


def check_plan(marked: Marked) -> Plan:
    """The plan in data that came with line numbers. Raises Faults."""
    plan = validated(marked, Plan, "`waterleaf trial start` lays down a plan with a note at every field.")
    faults = [Fault(marked.where((field,)), field, message) for field, message in _across_fields(plan)]
    if faults:
        raise Faults(faults)
    return plan


def _across_fields(plan: Plan) -> list[tuple[str, str]]:
    """What no single field shows: each as a field and a message."""
    count, each = len(plan.methods), plan.units_each
    found: list[tuple[str, str]] = []
    if len({method.casefold() for method in plan.methods}) < count:
        found.append(("methods", "a method stands twice. Give each its own name."))
    if plan.design == "paired" and count != 2:
        found.append(("design", f"paired takes two methods, not {count}. Write design: blocked."))
    if plan.design == "latin" and count < 3:
        found.append(("design", "a Latin square of two has no room for error. Write design: paired."))
    if plan.design == "latin" and each != count:
        found.append(("units_each", f"a Latin square of {count} methods has {count} units of each, not {each}."))
    if plan.blocks and plan.design not in ("blocked", "paired"):
        found.append(("blocks", f"design: {plan.design} has no blocks. Remove the field, or write design: blocked."))
    elif plan.blocks and len(plan.blocks) != each:
        found.append(
            ("blocks", f"{len(plan.blocks)} names for {each} blocks: one block holds one unit of each method.")
        )
    if len({block.casefold() for block in plan.blocks}) < len(plan.blocks):
        found.append(("blocks", "a block stands twice. Give each its own name."))
    if plan.test == "welch" and plan.design != "random":
        found.append(("test", f"welch has no blocks, and design: {plan.design} has. Write test: anova."))
    if plan.test == "welch" and plan.adjust == "tukey" and count > 2:
        found.append(("adjust", "tukey takes one spread for all, welch does not. Write adjust: holm."))
    found += _test_faults(plan)
    if count * each > MOST_UNITS:
        found.append(("units_each", f"{count * each} units are more than the {MOST_UNITS} that one trial may have."))
    if plan.smallest_difference < plan.response.step:
        found.append(
            ("smallest_difference", f"below {plan.response.step:g}, the instrument's step. It could not be seen.")
        )
    return found + (_panel_faults(plan, plan.panel) if plan.panel else [])


def _test_faults(plan: Plan) -> list[tuple[str, str]]:
    """What the mixed model and the rank tests cannot be asked."""
    found = []
    if plan.test == "mixed" and plan.readings == 1:
        found.append(("test", "mixed takes several readings of each unit, and readings: 1. Write test: anova."))
    if plan.test == "ranks" and plan.design == "latin":
        found.append(("test", "ranks cannot allow for rows and columns together. Write test: anova."))
    if plan.test == "ranks" and plan.aim == "equivalence":
        found.append(("test", "ranks cannot show that methods are alike within a margin. Write test: anova."))
    if plan.test == "ranks" and plan.adjust == "tukey" and len(plan.methods) > 2:
        found.append(("adjust", "tukey takes means, ranks does not. Write adjust: holm."))
    return found


def _panel_faults(plan: Plan, panel: Panel) -> list[tuple[str, str]]:
    found = []
    unknown = [product for product in panel.products if product not in plan.methods]
    if unknown:
        found.append(("panel", f"{', '.join(unknown)}: not among the methods ({', '.join(plan.methods)})."))
    if len(set(panel.products)) < len(panel.products):
        found.append(("panel", "a product stands twice."))
    pairs = [test for test in panel.tests if test in _PAIR_TESTS]
    if pairs and len(panel.products) != 2:
        found.append(("panel", f"{', '.join(pairs)} takes two products, not {len(panel.products)}."))
    if panel.similar_within is not None and not set(panel.tests) & set(DIFFERENCE_TESTS):
        found.append(("panel", "similar_within goes with a triangle or a duo_trio test only. Remove the field."))
    if len(set(panel.tests)) < len(panel.tests):
        found.append(("panel", "a test stands twice."))
    return found
