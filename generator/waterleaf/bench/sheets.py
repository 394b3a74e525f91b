"""What worksheets with keys cost, against Typst alone and against other engines on the same sheets."""

import itertools
import json
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.bench.engines import ENGINES, missing
from waterleaf.bench.figures import Row
from waterleaf.bench.runs import Run, in_turn, run
from waterleaf.home import load_settings
from waterleaf.printing import make_sheets
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import Style

# Four exercises on two sheets of paper, each with far more different draws than the longest run takes.
FOUR: Final = (
    "sugar/mean_and_spread", "feed/feed_conversion", "energy/lamps_in_december", "returns/what_a_kilo_brings",
)
_NAMES: Final = {"weasyprint": "WeasyPrint", "reportlab": "ReportLab", "chromium": "Chromium"}


@dataclass(frozen=True)
class _Room:
    """A run of so many sheets: the command of the kit, and the finished data for whatever else prints them."""

    words: tuple[str, ...]
    data: Path


def bench_sheets(home: Path, bank: Mapping[str, Family], count: int, times: int) -> Iterator[Row]:
    """The kit against Typst alone, which is given the finished data and draws, computes and lays out nothing."""
    with _laid_out(home, [bank[key] for key in FOUR], count) as room:
        costs = in_turn(
            {
                "kit": partial(run, *room.words, home=home),
                "typst": partial(run, "waterleaf.bench.alone", str(press.TEMPLATES), str(room.data), home=home),
            },
            times,
        )
    yield Row(_what(count), count, costs["kit"], times, "Typst alone", costs["typst"], "the same PDFs")


def bench_engines(home: Path, bank: Mapping[str, Family], count: int, times: int) -> Iterator[Row]:
    """The kit, which also draws and computes, against engines that are given the finished text to lay out simply."""
    absent = {name: missing(name) for name in ENGINES}
    for name, reason in absent.items():
        if reason:
            yield Row(_what(count), count, Run(0.0, 0.0), 0, _NAMES[name], None, f"skipped: {reason}")
    there = [name for name, reason in absent.items() if not reason]
    if not there:
        return
    with _laid_out(home, [bank[key] for key in FOUR], count) as room:
        commands: dict[str, Callable[[], Run]] = {"kit": partial(run, *room.words, home=home)}
        for name in there:
            commands[name] = partial(run, "waterleaf.bench.engines", name, str(room.data), home=home)
        costs = in_turn(commands, times)
    for name in there:
        pages = json.loads(costs[name].said.splitlines()[-1])["pages"]
        note = f"{pages:,} pages; formulas as plain text"
        # A browser is many processes, whose memory is shared; no number of it would be comparable.
        cost = Run(costs[name].seconds, 0.0) if name == "chromium" else costs[name]
        yield Row(_what(count), count, costs["kit"], times, _NAMES[name], cost, note)


def bench_memory(home: Path, count: int) -> Iterator[Row]:
    """The most memory that a run holds; one run says it, since it hardly varies."""
    with tempfile.TemporaryDirectory(prefix="waterleaf-bench-") as folder:
        cost = run(*_words(count, folder), home=home)
    yield Row(f"memory of {_what(count)}", count, cost, 1, note="flat where peak MB stays")


def _what(count: int) -> str:
    return f"{count:,} worksheet{'s' if count > 1 else ''} with keys"


def _words(count: int, folder: str) -> tuple[str, ...]:
    return (
        "waterleaf", "sheets", "--count", str(count), "--families", ",".join(FOUR), "--seed", "1", "--out",
        f"{folder}/out",
    )  # fmt: skip


@contextmanager
def _laid_out(home: Path, families: Sequence[Family], count: int) -> Iterator[_Room]:
    """The data of every packet, in the order in which the kit prints them; a line is a template and its text."""
    style = Style(load_settings(home).school)
    with tempfile.TemporaryDirectory(prefix="waterleaf-bench-") as folder:
        room = _Room(_words(count, folder), Path(folder, "pages.jsonl"))
        sheets = make_sheets(families, 1, count, style)
        with room.data.open("w", encoding="utf-8") as handle:
            while packet := list(itertools.islice(sheets, press.SHEETS_AT_ONCE)):
                for kind, lay_out in (("key", paper.keys), ("worksheet", paper.worksheets)):
                    handle.write(json.dumps([kind, json.dumps(lay_out(packet, style))]) + "\n")
        yield room
