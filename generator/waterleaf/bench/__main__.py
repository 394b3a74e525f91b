"""Figures that an engineer can rerun: `python3 generator bench`.

Every time is a median of several fresh processes from start to end; ratios are taken within the same run.
"""

import argparse
import sys
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Final

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.bench.builds import bench_build
from waterleaf.bench.classes import MANY, bench_assign, bench_marking
from waterleaf.bench.figures import Row, Table
from waterleaf.bench.runs import Run, median, run
from waterleaf.bench.sheets import bench_engines, bench_memory, bench_sheets
from waterleaf.draw import draw
from waterleaf.faults import Faults
from waterleaf.home import find_home

_SIZES: Final = (1, 100, 1_000, 10_000)
_CLASSES: Final = (100, 1_000, 10_000, 100_000)
_LONG: Final = (1_000, 10_000, 100_000)
_DRAWS: Final = 100_000
_PROOFS: Final = 200
_TRIALS: Final = 10_000


@dataclass(frozen=True)
class Job:
    """One measurement: the name by which it is asked for, what it is, and how long it took on an idle laptop."""

    name: str
    what: str
    about: float
    rows: Callable[[], Iterator[Row]]


def jobs(home: Path, bank: Mapping[str, Family], times: int, most: int) -> list[Job]:
    """All measurements up to a size, quick ones first. Their durations are rough, so that nobody waits in the dark."""
    sizes = [size for size in _SIZES if size <= most]
    return [
        Job("start", "waterleaf --help", 0.2 * times, partial(_start, home, times)),
        Job("draws", f"{_DRAWS:,} draws", 9 * times, partial(_draws, bank["feed/daily_feed"], times)),
        *(
            Job("sheets", _sheets(size), (3 + 0.065 * size) * times, partial(bench_sheets, home, bank, size, times))
            for size in sizes
        ),
        Job("assign", "a class of 40", 15 * times, partial(bench_assign, home, times)),
        Job("build", "whole builds", 60 + 14 * times, partial(bench_build, home, times)),
        Job("trial", f"{_TRIALS:,} trials", 60 * times, partial(_trials, home, times)),
        Job("bank", f"{_PROOFS} draws a family", 20 * times, partial(_bank, home, len(bank), times)),
        *(
            Job(
                "mark", f"{size:,} students", _marking(size, times),
                partial(bench_marking, home, bank, size, times),
            )
            for size in _CLASSES if size <= most
        ),
        *(
            Job("memory", _sheets(size), 3 + 0.045 * size, partial(bench_memory, home, size))
            for size in _LONG if size <= most
        ),
        *(
            Job("engines", _sheets(size), (8 + 0.4 * size) * times, partial(bench_engines, home, bank, size, times))
            for size in sizes
        ),
    ]  # fmt: skip


def _marking(size: int, times: int) -> float:
    """Seconds: the class is given its sheets once, which takes longer than to mark them."""
    give_out, mark = (0.04, 0.02) if size <= MANY else (0.009, 0.006)
    return 3 * times + size * (give_out + mark * times)


def _sheets(size: int) -> str:
    return f"{size:,} sheet{'s' if size > 1 else ''}"


def _start(home: Path, times: int) -> Iterator[Row]:
    yield Row("waterleaf --help", 1, median([run("waterleaf", "--help", home=home) for _ in range(times)]), times)


def _draws(family: Family, times: int) -> Iterator[Row]:
    rounds = []
    for _ in range(times):
        start = time.perf_counter()
        for number in range(_DRAWS):
            draw(family, number)
        rounds.append(Run(time.perf_counter() - start, 0.0))
    cost = median(rounds)
    note = f"{_DRAWS / cost.seconds:,.0f} a second, in one process"
    yield Row(f"draws of {family.key}", _DRAWS, cost, times, note=note)


def _bank(home: Path, families: int, times: int) -> Iterator[Row]:
    words = ("waterleaf", "bank", "check", "--draws", str(_PROOFS))
    cost = median([run(*words, home=home) for _ in range(times)])
    note = f"{_PROOFS} draws a family, each in both units"
    yield Row("bank check, every family", families * _PROOFS, cost, times, note=note)


def _trials(home: Path, times: int) -> Iterator[Row]:
    cost = median([run("waterleaf.trial.simulate", str(_TRIALS), home=home) for _ in range(times)])
    yield Row("simulated trials, all tables", _TRIALS, cost, times, note="an item is a trial in every table")


def _duration(seconds: float) -> str:
    if seconds < 90:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 5400 else f"{seconds / 3600:.1f} h"


def _chosen(found: Sequence[Job], only: str) -> list[Job]:
    """The measurements that were asked for, in the order of the table; all where none was named."""
    names = [name.strip() for name in only.split(",") if name.strip()]
    known = list(dict.fromkeys(job.name for job in found))
    unknown = [name for name in names if name not in known]
    if unknown:
        raise SystemExit(f"--only {', '.join(unknown)}: not known. Choose from {', '.join(known)}.")
    return [job for job in found if not names or job.name in names]


def _reader() -> argparse.ArgumentParser:
    reader = argparse.ArgumentParser(
        prog="bench", description=(__doc__ or "").splitlines()[0],
        epilog="Other engines than Typst are skipped where they are not installed; they are the extra `bench`.",
    )
    reader.add_argument("--only", default="", metavar="NAME,...", help="measure these alone")
    reader.add_argument("--runs", type=int, default=5, help="runs that a median is taken of (5)")
    reader.add_argument("--most", type=int, default=1_000, help="leave out more sheets or students than this (1000)")
    reader.add_argument("--out", type=Path, help="write the table to this file too, row by row")
    return reader


def main() -> None:
    """Say what will be measured and how long it may take, then print the table row by row."""
    words = _reader().parse_args()
    home = find_home()
    todo = _chosen(jobs(home, load_bank(home / "question_bank"), max(1, words.runs), words.most), words.only)
    for job in todo:
        print(f"{job.name:<8} {job.what:<22} about {_duration(job.about)}", file=sys.stderr)
    print(f"in all about {_duration(sum(job.about for job in todo))}; a busy machine takes longer\n", file=sys.stderr)
    try:
        table = Table(words.out)
        for job in todo:
            for row in job.rows():
                table.add(row)
    except Faults as faults:
        raise SystemExit(str(faults)) from None


if __name__ == "__main__":
    main()
