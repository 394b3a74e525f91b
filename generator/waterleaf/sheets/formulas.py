"""The formula sheet: the relations behind the questions of a paper, as the calc module has them."""

from collections.abc import Iterable, Sequence
from typing import Any, Final

from waterleaf.bank.family import Family, System
from waterleaf.calc.quantity import RELATIONS, Relation
from waterleaf.sheets.paper import Style, formula_data, packet_head
from waterleaf.working import figures
from waterleaf.working.notation import symbol
from waterleaf.working.steps import formula_lines
from waterleaf.working.units import convert, with_unit, written

_PROCEDURE: Final = "This relation is worked by a procedure with a table; the lesson shows its steps."
# Figures of a factor between two units.
_FACTOR: Final = 6


def formula_sheet(families: Iterable[Family], style: Style) -> dict[str, Any]:
    """Data of the sheet; each relation stands once, under its topic, in the order of the questions."""
    held = list(families)
    names = dict.fromkeys(
        part.relation.name for family in held for part in family.parts.values() if part.relation is not None
    )
    topics: dict[str, list[dict[str, Any]]] = {}
    for name in names:
        topics.setdefault(RELATIONS[name].topic, []).append(_entry(RELATIONS[name]))
    return {
        **packet_head(style, "Formula sheet"),
        "topics": [{"title": topic.capitalize(), "relations": entries} for topic, entries in topics.items()],
        "units": unit_changes(held, style.system),
    }


def _entry(relation: Relation) -> dict[str, Any]:
    quantities = [relation.result, *relation.parameters.values()]
    return {
        "title": relation.name.replace("_", " ").capitalize(),
        "lines": [] if relation.procedure else [formula_data(line) for line in formula_lines(relation.name)],
        "note": _PROCEDURE if relation.procedure else "",
        "symbols": [
            {"symbol": formula_data(symbol(q)), "meaning": q.name, "unit": written(q.unit) or "a number"}
            for q in quantities if q.symbol
        ],
    }


def unit_changes(families: Sequence[Family], system: System) -> list[list[str]]:
    """What one unit of the paper is in the unit of the relation, each change once; temperatures as a sum."""
    found: dict[tuple[str, str], None] = {}
    for family in families:
        for part in family.parts.values():
            if part.relation is None:
                continue
            for argument, name in part.plain_names.items():
                if name in family.file.given:
                    found[family.shown_unit(name, system), part.relation.parameters[argument].unit] = None
            if part.file.numeric and not part.file.pick:
                found[part.relation.result.unit, family.shown_unit(part.name, system)] = None
    return [_change(unit, into) for unit, into in found if unit and into and written(unit) != written(into)]


def _change(unit: str, into: str) -> list[str]:
    if "degF" in (unit, into) and "degC" in (unit, into):
        return ["°F", "°C = (°F − 32) / 1.8"]
    return [with_unit("1", unit), with_unit(figures.grouped(figures.plain(convert(1.0, unit, into), _FACTOR)), into)]
