"""Compares the relations with the tables of outside check values in tests/published/."""

import ast
from pathlib import Path
from typing import Any

from waterleaf.calc.quantity import RELATIONS
from waterleaf.evidence import Row, read_rows
from waterleaf.working.units import convert

FOLDER = Path(__file__).parent / "published"


def rows() -> list[Row]:
    """All rows of all tables, in the order of the files."""
    return read_rows(FOLDER)


def amount(text: str) -> tuple[Any, str]:
    """A number or list of numbers, and its unit: "25 gallon/min" is (25.0, "gallon/min")."""
    text = text.strip()
    if text.startswith("["):
        body, _, unit = text.rpartition("]")
        return ast.literal_eval(body + "]"), unit.strip()
    number, _, unit = text.partition(" ")
    return float(number), unit.strip()


def brought(value: Any, unit: str, into: str) -> Any:
    """A value, or each value of a list, in another unit; no unit given means the relation's own."""
    if isinstance(value, list | tuple):
        return [brought(item, unit, into) for item in value]
    return convert(float(value), unit, into) if unit else float(value)


def arguments(row: Row) -> dict[str, Any]:
    """The arguments of a row in the units of its relation."""
    relation = RELATIONS[row.relation]
    found = {}
    for part in filter(str.strip, row.inputs.split(";")):
        name, _, text = part.partition("=")
        value, unit = amount(text)
        found[name.strip()] = brought(value, unit, relation.parameters[name.strip()].unit)
    return found


def difference(row: Row, functions: dict[str, Any] | None = None) -> tuple[float, float]:
    """Largest distance between computed and printed value, and the distance allowed, both in the source's unit."""
    relation = RELATIONS[row.relation]
    computed = (functions or {}).get(row.relation, relation.checked)(**arguments(row))
    expected, unit = amount(row.expected)
    wanted = expected if isinstance(expected, list) else [expected]
    found = list(computed) if isinstance(computed, list | tuple) else [computed]
    assert len(found) == len(wanted), f"{len(found)} values computed, {len(wanted)} printed"
    # The tolerance is half a unit in the last printed place; a hair more lets a value on the very edge pass.
    allowed = [
        abs(want) * float(row.tolerance.rstrip(" %")) / 100 if row.tolerance.endswith("%") else float(row.tolerance)
        for want in wanted
    ]
    gaps = [
        (abs((convert(value, relation.result.unit, unit) if unit else value) - want), limit)
        for value, want, limit in zip(found, wanted, allowed, strict=True)
    ]
    worst = max(gaps, key=lambda gap: gap[0] - gap[1])
    return worst[0], worst[1] * (1 + 1e-9) + 1e-12
