"""What the instructor decided: read from decisions.csv, which the kit never writes."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from waterleaf.faults import Fault, Faults
from waterleaf.marking.issuebook import Issued
from waterleaf.marking.responses import ALL, plain_code
from waterleaf.marking.tableout import unguarded
from waterleaf.marking.tabular import read_table

NAME: Final = "decisions.csv"
ACCEPT: Final = "accept"
# Stands in every row of a list that the kit makes, since rows are sorted and copied; typed by hand it may be missing.
FORM: Final = "decisions-1"


@dataclass(frozen=True, slots=True)
class Decision:
    """Marks that replace the kit's own for a part; `accept` takes a doubtful row as it stands."""

    marks: float | Literal["accept"]
    note: str


Decisions = Mapping[tuple[str, str], Decision]


def read_decisions(folder: Path, issued: Issued, labels: Mapping[str, int]) -> dict[tuple[str, str], Decision]:
    """Decisions by sheet and part; none where there is no file. `labels` holds the full marks of each part.

    Raises Faults with every line that names no issued sheet or part, or gives marks that the part has not.
    """
    path = folder / NAME
    if not path.exists():
        return {}
    found: dict[tuple[str, str], Decision] = {}
    faults: list[Fault] = []
    codes = issued.by_code
    for row in read_table(path, ("sheet", "part", "marks")).rows:
        code, part = plain_code(row.cells.get("sheet", "")), row.cells.get("part", "").casefold()
        text, note = row.cells.get("marks", ""), unguarded(row.cells.get("note", ""))
        if not text:
            continue
        form = row.cells.get("form", "")
        if form not in ("", FORM):
            faults.append(Fault(row.where, "form", f"{form!r} is not known here, only {FORM!r}. Use the newer kit."))
            continue
        fault = _fault(code, part, text, codes, labels)
        if fault:
            faults.append(Fault(row.where, *fault))
        elif (code, part) in found:
            faults.append(Fault(row.where, "part", f"{code} {part} is decided twice. Keep one line."))
        else:
            found[code, part] = Decision("accept" if part == ALL else _number(text), note)
    if faults:
        raise Faults(faults)
    return found


def _fault(
    code: str, part: str, text: str, codes: Mapping[str, object], labels: Mapping[str, int]
) -> tuple[str, str] | None:
    if code not in codes:
        return "sheet", f"no sheet of this assignment has the code {code!r}."
    if part == ALL:
        return None if text.casefold() == ACCEPT else ("marks", f"for the part {ALL!r}, write {ACCEPT!r}.")
    if part not in labels:
        return "part", f"{part!r} is not a part: {', '.join(labels)}."
    number = _number(text)
    if not 0 <= number <= labels[part]:
        return "marks", f"{text!r} is not a number from 0 to {labels[part]}."
    return None


def _number(text: str) -> float:
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        return math.nan
    return number


def filled_in(path: Path) -> Sequence[str]:
    """Lines of a short list into which someone typed marks, so that it is not lost when the list is made afresh."""
    if not path.exists():
        return []
    return [row.where for row in read_table(path, ("sheet", "part", "marks")).rows if row.cells.get("marks")]
