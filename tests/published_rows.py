"""Reads the tables of outside check values in tests/published/.

A row names a relation, its arguments with the units of the source, and the value that the source prints:

    id        short label of the row
    relation  name in the calc module
    inputs    name=number unit; name=[number, number] unit; ...
    expected  number unit (or a list)
    tolerance number in the unit of `expected`, or a percentage such as "0.5 %"
    evidence  published | from memory | computed | common practice
    status    holds | misprint      a misprint must fail: the printed value does not follow
    source    key in waterleaf.calc.sources.SOURCES
    locus     where it stands, and how it was read
"""

import ast
import csv
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from waterleaf.calc.quantity import RELATIONS
from waterleaf.working.units import convert

FOLDER = Path(__file__).parent / "published"
COLUMNS = ["id", "relation", "inputs", "expected", "tolerance", "evidence", "status", "source", "locus"]


@dataclass(frozen=True)
class Row:
    """One outside check value."""

    file: str
    id: str
    relation: str
    inputs: str
    expected: str
    tolerance: str
    evidence: str
    status: str
    source: str
    locus: str


def rows() -> list[Row]:
    """All rows of all tables, in the order of the files."""
    found: list[Row] = []
    for path in sorted(FOLDER.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as handle:
            lines = [line for line in handle if not line.startswith("#")]
        reader = csv.DictReader(lines)
        assert reader.fieldnames == COLUMNS, f"{path.name}: columns are {reader.fieldnames}, not {COLUMNS}"
        found += [Row(path.stem, **line) for line in reader]
    return found


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
