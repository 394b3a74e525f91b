"""The answer grid: all keys of a class at a glance, sheets down, parts across, for marking by eye."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from waterleaf.exercise import PosedPart
from waterleaf.sheets.paper import Style, packet_head
from waterleaf.working import figures
from waterleaf.working.units import written

# Width and height between the margins of a page on its side, in points.
_ROOM: Final = {"a4": (785.0, 470.0), "letter": (735.0, 487.0)}
_LARGEST, _SMALLEST = 9.0, 5.5
# Where one page cannot hold the class, this size is used on as many as it takes.
_ON_SEVERAL: Final = 7.5
# Width of an average character and height of a row, in sizes of type, with the cell's own margins.
_CHARACTER, _ROW, _INSET = 0.5, 1.45, 5.0
# Longest line in a cell, in characters: timetables on one line where there is room, else broken into several.
_UNBROKEN, _BROKEN = 60, 16


@dataclass(frozen=True, slots=True)
class Key:
    """What the grid shows of a part."""

    kind: str
    unit: str
    key_text: str


@dataclass(frozen=True, slots=True)
class SheetKeys:
    """The keys of one sheet under their labels."""

    code: str
    labels: tuple[str, ...]
    parts: tuple[PosedPart | Key, ...]


def answer_grid(sheets: Sequence[SheetKeys], style: Style) -> dict[str, Any]:
    """Data of the grid: one page where the class fits on it in readable type, else as few as it takes."""
    columns = [_column(sheets, place) for place in range(len(sheets[0].labels))]
    codes = [sheet.code for sheet in sheets]
    size, widest = _LARGEST, _UNBROKEN
    while size > _SMALLEST and not _fits(columns, len(sheets), size, widest, style):
        size, widest = (size, _BROKEN) if widest == _UNBROKEN else (round(size - 0.25, 2), _UNBROKEN)
    if not _fits(columns, len(sheets), size, widest, style):
        size = _ON_SEVERAL
    pages = [
        {
            "headings": [[label, unit] for label, unit, _ in run],
            "rows": [[code, *(cells[place] for _, _, cells in run)] for place, code in rows],
        }
        for rows in _runs(list(enumerate(codes)), _rows_on_page(columns, size, widest, style))
        for run in _column_runs(columns, size, widest, style)
    ]
    return {**packet_head(style, "Answers"), "grid_size": f"{size}pt", "pages": pages}


_Column = tuple[str, str, list[str]]


def _column(sheets: Sequence[SheetKeys], place: int) -> _Column:
    first = sheets[0].parts[place]
    unit = written(first.unit) if first.kind in ("number", "whole") else ""
    return sheets[0].labels[place], unit, [_text(sheet.parts[place]) for sheet in sheets]


def _text(part: PosedPart | Key) -> str:
    return part.key_text if part.kind in ("times", "order", "choice") else figures.grouped(part.key_text)


def _width(column: _Column, size: float, widest: int) -> float:
    longest = min(widest, max(len(column[0]), len(column[1]), *(len(text) for text in column[2])))
    return longest * size * _CHARACTER + _INSET


def _row_height(columns: Sequence[_Column], size: float, widest: int) -> float:
    lines = max(-(-len(text) // widest) for column in columns for text in column[2])
    return size * (_ROW + 1.2 * (lines - 1))


def _fits(columns: Sequence[_Column], rows: int, size: float, widest: int, style: Style) -> bool:
    across = _ROOM[style.paper][0]
    needed = 9 * size * _CHARACTER + _INSET + sum(_width(column, size, widest) for column in columns)
    return needed <= across and rows <= _rows_on_page(columns, size, widest, style)


def _rows_on_page(columns: Sequence[_Column], size: float, widest: int, style: Style) -> int:
    """Rows that fit below the heading, which has two lines."""
    return max(1, int(_ROOM[style.paper][1] / _row_height(columns, size, widest)) - 2)


def _runs(items: list[Any], length: int) -> list[list[Any]]:
    return [items[start : start + length] for start in range(0, len(items), length)]


def _column_runs(columns: Sequence[_Column], size: float, widest: int, style: Style) -> list[list[_Column]]:
    room = _ROOM[style.paper][0] - 9 * size * _CHARACTER - _INSET
    runs: list[list[_Column]] = [[]]
    used = 0.0
    for column in columns:
        width = _width(column, size, widest)
        if runs[-1] and used + width > room:
            runs.append([])
            used = 0.0
        runs[-1].append(column)
        used += width
    return runs
