"""The worked lines of an answer, from changes of unit to the key, with the numbers that the sheet prints."""

import ast
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from waterleaf.bank.family import Family, PartSpec, in_unit
from waterleaf.calc.quantity import Quantity
from waterleaf.draw import Draw
from waterleaf.shown import CARRIED_FIGURES, Shown, figures_of, key_text
from waterleaf.working import figures
from waterleaf.working.notation import Piece, Printer, Term, Unprintable, equals, number, symbol
from waterleaf.working.steps import Working, printed, work
from waterleaf.working.units import behind, with_unit, written


@dataclass(frozen=True, slots=True)
class WorkingLine:
    """One printed line of working, with the unit of its result."""

    piece: Piece
    unit: str


# What is known (symbol, value, meaning), and the lines of working.
Worked = tuple[tuple[tuple[Piece, str, str], ...], tuple[WorkingLine, ...]]


def worked_lines(
    family: Family, part: PartSpec, draw: Draw, keys: Mapping[str, Any], shown: Mapping[str, Shown], unit: str
) -> Worked:
    """What is known (symbol, value, meaning), and the lines of working from changes of unit to the answer."""
    assert part.relation is not None
    if part.relation.procedure:
        return (), ()
    start = _start(family, part, draw, keys, shown)
    answer = keys[part.name]
    first = answer[0] if isinstance(answer, tuple) else answer
    wanted = figures_of(part, in_unit(first, part.file.unit, unit))
    # Two figures more than the answer needs: the student sees what was rounded, and to what.
    as_asked = unit == part.relation.result.unit and part.file.kind == "number"
    worked = work(
        part.relation.name, {name: _carried(value) for name, value in start.inputs.items()},
        figures_shown=min(CARRIED_FIGURES, wanted + 2) if as_asked else CARRIED_FIGURES,
        texts={name: text for name, text in start.texts.items() if text},
    )
    lines = [*start.lines, *(WorkingLine(step.line, step.quantity.unit) for step in worked.steps)]
    given = tuple(
        (symbol(term.quantity), _given_text(term, shown, part.plain_names.get(name)), term.quantity.name)
        for name, term in worked.given
        if name not in start.changed  # its change of unit shows it already
    )
    return given, (*lines, *_last_change(part, worked, first, unit))


@dataclass(slots=True)
class _Start:
    """What the working sets out from: arguments of the relation and their texts, as they are carried on, the lines that
    lead up to them, and the arguments which those lines show already."""

    inputs: dict[str, Any]
    texts: dict[str, Any] = field(default_factory=dict)
    lines: list[WorkingLine] = field(default_factory=list)
    changed: set[str] = field(default_factory=set)

    def rounded(self, argument: str) -> str:
        """Round an argument as it is carried on; its text."""
        text = figures.plain(float(self.inputs[argument]), CARRIED_FIGURES)
        self.inputs[argument], self.texts[argument] = float(text), text
        return text


def _start(
    family: Family, part: PartSpec, draw: Draw, keys: Mapping[str, Any], shown: Mapping[str, Shown]
) -> _Start:
    """Sums worked out, and values brought from the unit on the sheet to that of the relation."""
    assert part.relation is not None
    start, quantities = _Start(part.inputs(keys)), part.relation.parameters
    for argument, given in part.file.with_.items():
        if isinstance(given, str) and argument not in part.plain_names:
            shown_sum = _sum_line(quantities[argument], given, keys, start.rounded(argument))
            if shown_sum:
                start.lines += [*_sum_units(family, given, keys, shown), *shown_sum]
                start.changed.add(argument)
        elif isinstance(given, list) and all(isinstance(draw.texts.get(name), tuple) for name in given):
            start.texts[argument] = tuple(draw.texts[name] for name in given)  # groups of readings, as they are printed
        elif isinstance(given, list):
            start.lines += _list_lines(quantities[argument], given, shown, start, argument)
    for argument, name in part.plain_names.items():
        if name in shown and shown[name].unit == written(quantities[argument].unit):
            same = family.file.given[name].unit == quantities[argument].unit
            start.texts[argument] = draw.texts[name] if same else ""
        elif not isinstance(start.inputs[argument], list | tuple):
            text = start.rounded(argument)
            if name in shown:
                start.lines.append(_changed_unit(quantities[argument], shown[name], text))
                start.changed.add(argument)
    return start


def _last_change(part: PartSpec, worked: Working, answer: float, unit: str) -> list[WorkingLine]:
    """How the relation's result becomes the answer: rounded to a count, or brought to the unit asked for."""
    assert part.relation is not None
    relation_unit = part.relation.result.unit
    if part.file.round and worked.steps:
        return [WorkingLine(_conversion(number(worked.steps[-1].result), "", number(f"{answer:.0f}")), unit)]
    if unit != relation_unit and worked.steps:
        converted = number(key_text(part, in_unit(answer, part.file.unit, unit)))
        return [WorkingLine(_conversion(number(worked.steps[-1].result), relation_unit, converted), unit)]
    return []


def _sum_line(quantity: Quantity, text: str, keys: Mapping[str, Any], value: str) -> list[WorkingLine]:
    """A value that is a small sum of others, with its numbers; nothing where the sum has no printed form."""
    terms = {
        name: Term(Quantity(name, "", name), known, printed(_carried(known, CARRIED_FIGURES)))
        for name, known in keys.items()
        if isinstance(known, float | tuple)
    }
    tree = ast.parse(text, mode="eval").body
    try:
        sides = Printer(terms, {}, evaluate=lambda _node, _names: "").visit(tree)
    except Unprintable:
        return []
    result = number(value)
    if sides.plain == result.plain:
        return []
    return [WorkingLine(equals(symbol(quantity), sides, result), quantity.unit)]


def _sum_units(family: Family, text: str, keys: Mapping[str, Any], shown: Mapping[str, Shown]) -> list[WorkingLine]:
    """A line for each number of a sum that stands on the sheet in another unit than the sum is worked in."""
    lines = []
    for name in dict.fromkeys(node.id for node in ast.walk(ast.parse(text, mode="eval")) if isinstance(node, ast.Name)):
        unit = family.file.given[name].unit if name in family.file.given else ""
        if isinstance(keys.get(name), float) and name in shown and shown[name].unit != written(unit):
            known = number(printed(_carried(keys[name], CARRIED_FIGURES)))
            lines.append(WorkingLine(equals(_as_text(shown[name]), known), unit))
    return lines


def _list_lines(
    quantity: Quantity, names: list[str], shown: Mapping[str, Shown], start: _Start, argument: str
) -> list[WorkingLine]:
    """Values listed by name: rounded as they are carried on, with a line for each that changes its unit."""
    if any(isinstance(value, list | tuple) for value in start.inputs[argument]):
        return []
    texts = tuple(figures.plain(value, CARRIED_FIGURES) for value in start.inputs[argument])
    start.inputs[argument], start.texts[argument] = [float(text) for text in texts], texts
    single = Quantity(quantity.symbol, quantity.unit, quantity.name)
    return [
        _changed_unit(single.with_subscript(str(place)), shown[name], text)
        for place, (name, text) in enumerate(zip(names, texts, strict=True), start=1)
        if name in shown and shown[name].unit != written(quantity.unit)
    ]


def _carried(value: Any, kept: int = 10) -> Any:
    """A number, or each of several, without the noise of binary arithmetic."""
    if isinstance(value, tuple):
        return tuple(_carried(item, kept) for item in value)
    return float(figures.plain(value, kept)) if isinstance(value, float) else value


def _changed_unit(quantity: Quantity, shown: Shown, text: str) -> WorkingLine:
    return WorkingLine(equals(symbol(quantity), _as_text(shown), number(text)), quantity.unit)


def _as_text(shown: Shown) -> Piece:
    """A number with its unit as it stands in the story."""
    return Piece(f'"{shown.whole}"', f"<mtext>{shown.whole}</mtext>", shown.whole, shown.whole)


def _conversion(left: Piece, unit: str, right: Piece) -> Piece:
    mark = behind(unit)
    named = Piece(
        f'{left.typst} "{mark}"',
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
