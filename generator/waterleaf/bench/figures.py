"""The table of figures: rows are shown, and written to a file, as they come."""

import os
import platform
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf import __version__
from waterleaf.bench.runs import Run
from waterleaf.writing import written_whole

_HEADS: Final = (
    "what", "items", "median s", "an item", "against", "its median s", "ratio", "peak MB", "its peak MB", "runs", "note"
)
_WIDTHS: Final = (42, 9, 9, 11, 13, 12, 6, 8, 11, 4, 4)
_LEFT: Final = ("what", "against", "note")


@dataclass(frozen=True, slots=True)
class Row:
    """What was measured: its cost, for how many items, against what else in the same run."""

    what: str
    items: int
    cost: Run
    runs: int
    against: str = ""
    other: Run | None = None
    note: str = ""

    def cells(self) -> tuple[str, ...]:
        """The row as texts, in the order of the heads."""
        cost, other = self.cost, self.other
        # A row may only say why nothing was measured.
        own = (_seconds(cost.seconds), each(cost.seconds / self.items)) if self.runs else ("", "")
        beside = (_seconds(other.seconds), f"{cost.seconds / other.seconds:.2f}") if other else ("", "")
        memory_used = (_megabytes(cost), _megabytes(other) if other else "")
        return (self.what, f"{self.items:,}", *own, self.against, *beside, *memory_used, str(self.runs), self.note)


class Table:
    """Markdown on the terminal and, where a file is named, in that file: whole after every row."""

    def __init__(self, out: Path | None) -> None:
        """Start with the line about the machine and the heads."""
        self._out = out
        rules = ("---" if head in _LEFT else "--:" for head in _HEADS)
        self._lines = [machine(), "", _line(_HEADS), _line(tuple(rules))]
        print("\n".join(self._lines), flush=True)

    def add(self, row: Row) -> None:
        """Show a row and keep it."""
        self._lines.append(_line(row.cells()))
        print(self._lines[-1], flush=True)
        if self._out is not None:
            written_whole(self._out, "\n".join(self._lines) + "\n")


def machine() -> str:
    """The line that every table of figures starts with."""
    return (
        f"Waterleaf {__version__}, Python {platform.python_version()}, {platform.system()} {platform.machine()}, "
        f"{processor()}, {os.cpu_count()} cores, {memory()}"
    )


def processor() -> str:
    """The name of the processor, as far as the system tells it."""
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        lines = []
    names = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
    return names[0] if names else platform.processor() or "unknown processor"


def memory() -> str:
    """How much memory there is."""
    try:
        return f"{os.sysconf('SC_PAGE_SIZE') * os.sysconf('SC_PHYS_PAGES') / 2**30:.0f} GiB"
    except (AttributeError, OSError, ValueError):  # a system that does not tell
        return "unknown memory"


def each(seconds: float) -> str:
    """A time for one item, in the unit that suits it."""
    for factor, unit in ((1.0, "s"), (1e3, "ms")):
        if seconds * factor >= 0.9995:  # what would be printed as a thousand of the next unit
            return f"{seconds * factor:.3g} {unit}"
    return f"{seconds * 1e6:.3g} µs"


def _seconds(seconds: float) -> str:
    return f"{seconds:.3f}" if seconds < 10 else f"{seconds:.1f}"


def _megabytes(run: Run) -> str:
    return f"{run.megabytes:.0f}" if run.megabytes else ""


def _line(cells: tuple[str, ...]) -> str:
    padded = (
        cell.ljust(width) if head in _LEFT else cell.rjust(width)
        for head, cell, width in zip(_HEADS, cells, _WIDTHS, strict=True)
    )
    return f"| {' | '.join(padded)} |"
