"""The tables of outside check values in tests/published/: what holds each relation, and how that is known.

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

import csv
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Final

COLUMNS: Final = ["id", "relation", "inputs", "expected", "tolerance", "evidence", "status", "source", "locus"]
EVIDENCE: Final = ("published", "computed", "from memory", "common practice")


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


def read_rows(folder: Path) -> list[Row]:
    """All rows of all tables in a folder, in the order of the files; none where there is no folder.

    Raises ValueError where a table has other columns.
    """
    found: list[Row] = []
    for path in sorted(folder.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as handle:
            reader = csv.DictReader(line for line in handle if not line.startswith("#"))
            if reader.fieldnames != COLUMNS:
                raise ValueError(f"{path.name}: columns are {reader.fieldnames}, not {COLUMNS}")
            found += [Row(path.stem, **line) for line in reader]
    return found


def held_by(rows: list[Row]) -> dict[str, Counter[str]]:
    """For each relation, how many rows of each kind of evidence hold it; misprints do not count."""
    found: dict[str, Counter[str]] = {}
    for row in rows:
        if row.status == "holds":
            found.setdefault(row.relation, Counter())[row.evidence] += 1
    return found
