"""A draw posed as an exercise in one system of units: story, questions, keys, working and slips, ready to print.

A student has only the printed numbers. So everything here starts from them: values shown in US customary units are
rounded as printed, turned back, and the keys computed from that.
"""

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from waterleaf.bank.family import Family, PartSpec, System, in_unit
from waterleaf.bank.models import AnswerTable, Given, Marks
from waterleaf.bank.story import fill
from waterleaf.draw import Draw, as_printed
from waterleaf.shown import Shown, clock, figures_of, key_text
from waterleaf.solution import Worked, WorkingLine, worked_lines
from waterleaf.working import figures
from waterleaf.working.notation import Piece
from waterleaf.working.units import with_unit, written


@dataclass(frozen=True, slots=True)
class PosedSlip:
    """A wrong turn with the number that it leads to on this sheet."""

    turn: str
    say: str
    see: str
    value: Any
    text: str


@dataclass(frozen=True, slots=True)
class PosedOption:
    """An answer to choose, or an item to order, under its letter."""

    letter: str
    text: str
    say: str
    see: str


@dataclass(frozen=True, slots=True)
class PosedPart:
    """A question with its key, the accepted band and the working, in the units of the sheet."""

    name: str
    ask: str
    kind: str
    unit: str
    key: Any
    key_text: str
    low: Any
    high: Any
    share: float
    figures: int
    because: str
    hint: str
    marks: Marks
    slips: tuple[PosedSlip, ...]
    options: tuple[PosedOption, ...]
    reason: str
    follows: tuple[str, ...]
    # Most of the work of posing goes into the worked lines, and worksheets and marking never look at them.
    worked: Callable[[], Worked] = field(compare=False, repr=False)

    @property
    def given(self) -> tuple[tuple[Piece, str, str], ...]:
        """What is known: symbol, value and meaning."""
        return self.worked()[0]

    @property
    def working(self) -> tuple[WorkingLine, ...]:
        """The lines from there to the key; none for a choice."""
        return self.worked()[1]

    @property
    def answer(self) -> str:
        """The key with its unit, as it is printed; for a choice its letter and text."""
        if self.kind == "choice":
            return f"{self.key_text}: {next(o.text for o in self.options if o.letter == self.key_text)}"
        return (
            self.key_text if self.kind in ("times", "order") else with_unit(figures.grouped(self.key_text), self.unit)
        )


@dataclass(frozen=True, slots=True)
class PosedTable:
    """Readings in columns."""

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Exercise:
    """An exercise as one student gets it."""

    family: Family
    draw: Draw
    system: System
    story: str
    table: PosedTable | None
    caution: str
    parts: tuple[PosedPart, ...]
    keys: Mapping[str, Any]
    shown: Mapping[str, Shown]
    answer_table: AnswerTable | None

    @property
    def marks(self) -> int:
        """Marks for the whole exercise."""
        return sum(part.marks.total for part in self.parts)


def pose(draw: Draw, system: System = "metric") -> Exercise:
    """The draw as an exercise in metric or US customary units."""
    family = draw.family
    values, shown = _printed_givens(draw, system)
    keys = family.keys(values)
    names: dict[str, Any] = {**shown, **draw.words}
    for part in family.parts.values():  # a reason or an option may name the answers before it, and its own
        names[part.name] = _shown_answer(part, keys[part.name], system)
    return Exercise(
        family=family,
        draw=draw,
        system=system,
        story=fill(family.file.story, names),
        table=_table(draw),
        caution=family.caution,
        parts=tuple(_posed(family, part, draw, keys, shown, system, names) for part in family.parts.values()),
        keys=keys,
        shown=shown,
        answer_table=family.file.answer_table,
    )


def _printed_givens(draw: Draw, system: System) -> tuple[dict[str, Any], dict[str, Shown]]:
    values, customary = as_printed(draw.family, draw.values, system)
    shown: dict[str, Shown] = {}
    for name, given in draw.family.file.given.items():
        text, unit = draw.texts[name], given.unit
        if name in customary and isinstance(given, Given) and given.us:
            text, unit = customary[name], given.us.unit
        numbers = ", ".join(text) if isinstance(text, tuple) else figures.grouped(text)
        shown[name] = Shown(
            numbers, written(unit), with_unit(numbers, unit), clock(values[name]) if unit == "hour" else ""
        )
    return values, shown


def _table(draw: Draw) -> PosedTable | None:
    table = draw.family.file.table
    if table is None:
        return None
    columns = [draw.texts[name] for name in table.columns.values()]
    longest = max(len(column) for column in columns)
    rows = tuple(tuple(column[i] if i < len(column) else "" for column in columns) for i in range(longest))
    return PosedTable(table.caption, tuple(table.columns), rows)


def _answer_unit(part: PartSpec, system: System) -> str:
    return part.file.us.unit if part.file.us and system == "us" else part.file.unit


def _shown_answer(part: PartSpec, key: Any, system: System) -> Any:
    """An answer as it stands in a reason."""
    if not part.file.numeric:
        return ""
    unit = _answer_unit(part, system)
    text = key_text(part, in_unit(key, part.file.unit, unit))
    if part.file.kind == "times":
        return Shown(text, "", text)
    return Shown(figures.grouped(text), written(unit), with_unit(figures.grouped(text), unit))


def _posed(
    family: Family, part: PartSpec, draw: Draw, keys: Mapping[str, Any], shown: Mapping[str, Shown], system: System,
    names: Mapping[str, Any],
) -> PosedPart:
    file, metric = part.file, keys[part.name]
    common: dict[str, Any] = {
        "name": part.name,
        "ask": fill(file.ask, names),
        "kind": file.kind,
        "because": file.because or "",
        "hint": file.hint or "",
        "marks": file.marks,
        "reason": fill(file.reason, names) if file.reason else "",
        "follows": tuple(name for name in family.parts if name in part.uses),
    }
    if not file.numeric:
        return _posed_choice(part, draw, metric, names, common)
    unit = _answer_unit(part, system)
    key = in_unit(metric, file.unit, unit)
    bands = [part.tolerance.around(value) for value in (metric if isinstance(metric, tuple) else (metric,))]
    lows = tuple(in_unit(low, file.unit, unit) for low, _ in bands)
    highs = tuple(in_unit(high, file.unit, unit) for _, high in bands)
    series = isinstance(key, tuple)
    return PosedPart(
        **common,
        unit=unit,
        key=key,
        key_text=key_text(part, key),
        low=lows if series else lows[0],
        high=highs if series else highs[0],
        share=part.tolerance.share,
        figures=figures_of(part, key[0] if series else key),
        slips=_slips(family, part, keys, unit, system),
        options=(),
        worked=functools.cache(functools.partial(worked_lines, family, part, draw, keys, shown, unit)),
    )


def _posed_choice(
    part: PartSpec, draw: Draw, key: Any, names: Mapping[str, Any], common: Mapping[str, Any]
) -> PosedPart:
    """A choice or an order with its options shuffled and lettered."""
    shuffle = draw.shuffles[part.name]
    letters = {place: "ABCDEF"[position] for position, place in enumerate(shuffle)}
    options = tuple(
        PosedOption(letters[place], fill(option.text, names), option.say or "", option.see or "")
        for place in shuffle
        for option in (part.file.options[place],)
    )
    text = letters[key] if part.file.kind == "choice" else ", ".join(letters[place] for place in key)
    return PosedPart(
        **common,
        unit="",
        key=text,
        key_text=text,
        low=text,
        high=text,
        share=0.0,
        figures=0,
        slips=(),
        options=options,
        worked=lambda: ((), ()),
    )


def _slips(family: Family, part: PartSpec, keys: Mapping[str, Any], unit: str, system: System) -> tuple[PosedSlip, ...]:
    found = []
    for slip in family.slips:
        if slip.file.of != part.name:
            continue
        wrong = family.slip_value(slip, keys, system)
        if wrong is None:
            continue
        value = in_unit(wrong, part.file.unit, unit)
        text = key_text(part, value if part.file.kind != "times" or isinstance(value, tuple) else (value,))
        shown = text if part.file.kind == "times" else figures.grouped(text)
        found.append(PosedSlip(slip.file.turn, slip.file.say, slip.file.see, value, shown))
    return tuple(found)
