"""A draw posed as an exercise in one system of units: story, questions, keys, working and slips, ready to print.

A student has only the printed numbers. So everything here starts from them: values shown in US customary units are
rounded as printed, turned back, and the keys computed from that.
"""

import ast
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from waterleaf.bank.family import Family, PartSpec, System, in_unit
from waterleaf.bank.models import AnswerTable, Given, Marks
from waterleaf.bank.story import fill
from waterleaf.calc.quantity import Quantity
from waterleaf.draw import Draw, as_printed
from waterleaf.working import figures
from waterleaf.working.notation import Piece, Printer, Term, Unprintable, equals, number, symbol
from waterleaf.working.steps import printed, work
from waterleaf.working.units import with_unit, written

# Figures carried through a change of units: enough that the rounding never shows in a key.
_CARRIED = 6


@dataclass(frozen=True, slots=True)
class Shown:
    """A value as it stands in a story; `{{ name }}` prints it with its unit."""

    number: str
    unit: str
    whole: str
    clock: str = ""

    def __str__(self) -> str:
        """Number and unit."""
        return self.whole


@dataclass(frozen=True, slots=True)
class WorkingLine:
    """One printed line of working, with the unit of its result."""

    piece: Piece
    unit: str


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
    given: tuple[tuple[Piece, str, str], ...]
    working: tuple[WorkingLine, ...]
    slips: tuple[PosedSlip, ...]
    options: tuple[PosedOption, ...]
    reason: str
    follows: tuple[str, ...]

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
        caution=" ".join((family.file.caution or "").split()),
        parts=tuple(_posed(family, part, draw, keys, shown, system, names) for part in family.parts.values()),
        keys=keys,
        shown=shown,
        answer_table=family.file.answer_table,
    )


def clock(hours: float) -> str:
    """A time of day from hours after midnight; after midnight it says how many days later."""
    minutes = round(hours * 60)
    day, minutes = divmod(minutes, 24 * 60)
    later = "" if not day else " next day" if day == 1 else f" {day} days later"
    return f"{minutes // 60:02d}:{minutes % 60:02d}{later}"


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
    family: Family,
    part: PartSpec,
    draw: Draw,
    keys: Mapping[str, Any],
    shown: Mapping[str, Shown],
    system: System,
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
    given, working = _working(family, part, draw, keys, shown, unit)
    return PosedPart(
        **common,
        unit=unit,
        key=key,
        key_text=key_text(part, key),
        low=lows if series else lows[0],
        high=highs if series else highs[0],
        share=part.tolerance.share,
        figures=_figures(part, key[0] if series else key),
        given=given,
        working=working,
        slips=_slips(family, part, keys, unit, system),
        options=(),
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
        given=(),
        working=(),
        slips=(),
        options=options,
    )


def _figures(part: PartSpec, value: float) -> int:
    """Significant figures of a key: as the file says, or as many as its decimals make."""
    if part.file.figures is not None:
        return part.file.figures
    before_point = math.floor(math.log10(abs(value))) + 1 if value else 1
    return max(1, before_point + (part.file.decimals or 0))


def key_text(part: PartSpec, key: Any) -> str:
    """A key, or a wrong number beside it, as it is printed."""
    if part.file.kind == "times":
        return ", ".join(clock(hours) for hours in key)
    if part.file.kind == "whole":
        return f"{key:.0f}"
    if part.file.decimals is not None:
        return figures.decimals(key, part.file.decimals)
    return figures.significant(key, part.file.figures or _CARRIED)


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


def _working(
    family: Family, part: PartSpec, draw: Draw, keys: Mapping[str, Any], shown: Mapping[str, Shown], unit: str
) -> tuple[tuple[tuple[Piece, str, str], ...], tuple[WorkingLine, ...]]:
    """What is known (symbol, value, meaning), and the lines of working from changes of unit to the answer."""
    assert part.relation is not None
    if part.relation.procedure:
        return (), ()
    inputs = part.inputs(keys)
    texts: dict[str, Any] = {}
    lines: list[WorkingLine] = []
    changed: set[str] = set()
    for argument, given in part.file.with_.items():
        if isinstance(given, str) and argument not in part.plain_names:
            lines += _sum_line(part.relation.parameters[argument], given, keys, inputs[argument])
        elif isinstance(given, list):
            if all(name in draw.texts and isinstance(draw.texts[name], tuple) for name in given):
                texts[argument] = tuple(draw.texts[name] for name in given)  # groups of readings, as they are printed
            else:
                lines += _list_lines(part.relation.parameters[argument], given, shown, inputs, texts, argument)
    for argument, name in part.plain_names.items():
        quantity = part.relation.parameters[argument]
        same_unit = name in shown and shown[name].unit == written(quantity.unit)
        if same_unit:
            texts[argument] = draw.texts[name] if family.file.given[name].unit == quantity.unit else ""
        elif not isinstance(inputs[argument], list | tuple):
            text = figures.plain(inputs[argument], _CARRIED)
            inputs[argument], texts[argument] = float(text), text
            if name in shown:
                lines.append(_changed_unit(quantity, shown[name], text))
                changed.add(argument)
    inputs = {name: _carried(value) for name, value in inputs.items()}
    answer = keys[part.name]
    first = answer[0] if isinstance(answer, tuple) else answer
    final_unit = part.relation.result.unit
    wanted = _figures(part, in_unit(first, part.file.unit, unit))
    # Two figures more than the answer needs: the student sees what was rounded, and to what.
    shown_figures = min(_CARRIED, wanted + 2) if unit == final_unit and part.file.kind == "number" else _CARRIED
    worked = work(part.relation.name, inputs, figures_shown=shown_figures, texts={k: t for k, t in texts.items() if t})
    lines += [WorkingLine(step.line, step.quantity.unit) for step in worked.steps]
    if part.file.round and worked.steps:
        whole = number(f"{first:.0f}")
        lines.append(WorkingLine(_conversion(number(worked.steps[-1].result), "", whole), unit))
    elif unit != final_unit and worked.steps:
        converted = number(key_text(part, in_unit(first, part.file.unit, unit)))
        lines.append(WorkingLine(_conversion(number(worked.steps[-1].result), final_unit, converted), unit))
    given = tuple(
        (symbol(term.quantity), _given_text(term, shown, part.plain_names.get(name)), term.quantity.name)
        for name, term in worked.given
        if name not in changed  # its change of unit shows it already
    )
    return given, tuple(lines)


def _sum_line(quantity: Quantity, text: str, keys: Mapping[str, Any], value: Any) -> list[WorkingLine]:
    """A value that is a small sum of others, with its numbers; nothing where the sum has no printed form."""
    terms = {
        name: Term(Quantity(name, "", name), known, printed(_carried(known, _CARRIED)))
        for name, known in keys.items()
        if isinstance(known, float | tuple)
    }
    tree = ast.parse(text, mode="eval").body
    try:
        sides = Printer(terms, {}, evaluate=lambda _node, _names: "").visit(tree)
    except Unprintable:
        return []
    result = number(figures.plain(float(value), _CARRIED))
    if sides.plain == result.plain:
        return []
    return [WorkingLine(equals(symbol(quantity), sides, result), quantity.unit)]


def _list_lines(
    quantity: Quantity, names: list[str], shown: Mapping[str, Shown], inputs: dict[str, Any], texts: dict[str, Any],
    argument: str,
) -> list[WorkingLine]:
    """Values listed by name: rounded as they are carried on, with a line for each that changes its unit."""
    if any(isinstance(value, list | tuple) for value in inputs[argument]):
        return []
    texts[argument] = tuple(figures.plain(value, _CARRIED) for value in inputs[argument])
    inputs[argument] = [float(text) for text in texts[argument]]
    single = Quantity(quantity.symbol, quantity.unit, quantity.name)
    return [
        _changed_unit(single.with_subscript(str(place)), shown[name], text)
        for place, (name, text) in enumerate(zip(names, texts[argument], strict=True), start=1)
        if name in shown and shown[name].unit != written(quantity.unit)
    ]


def _carried(value: Any, kept: int = 10) -> Any:
    """A number, or each of several, without the noise of binary arithmetic."""
    if isinstance(value, tuple):
        return tuple(_carried(item, kept) for item in value)
    return float(figures.plain(value, kept)) if isinstance(value, float) else value


def _changed_unit(quantity: Quantity, shown: Shown, text: str) -> WorkingLine:
    left = Piece(f'"{shown.whole}"', f"<mtext>{shown.whole}</mtext>", shown.whole, shown.whole)
    return WorkingLine(equals(symbol(quantity), left, number(text)), quantity.unit)


def _conversion(left: Piece, unit: str, right: Piece) -> Piece:
    mark = written(unit)
    named = Piece(
        f'{left.typst} space "{mark}"',
        f"{left.mathml}<mspace width='0.3em'/><mtext>{mark}</mtext>",
        f"{left.plain} {mark}",
        f"{left.spoken} {mark}",
    )
    return equals(named, right)


def _given_text(term: Any, shown: Mapping[str, Shown], name: str | None) -> str:
    if name is not None and name in shown:
        return shown[name].whole
    if isinstance(term.text, tuple):
        groups = term.text if isinstance(term.text[0], tuple) else (term.text,)
        return with_unit("; ".join(", ".join(group) for group in groups), term.quantity.unit)
    return with_unit(figures.grouped(term.text), term.quantity.unit)
