"""Figures that an engineer can rerun: `python3 generator bench`.

Every time is a median of several runs in this process or of fresh ones; ratios are taken within the same run.
"""

import os
import platform
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from waterleaf import __version__
from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.draw import draw
from waterleaf.home import find_home, load_settings
from waterleaf.printing import make_sheets, print_packet
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import Style

FOUR = ("feed/daily_feed", "solids/flush_day", "sugar/cool_juice", "feed/feed_conversion")


def timed(action: Callable[[], object]) -> float:
    """Seconds that an action takes."""
    start = time.perf_counter()
    action()
    return time.perf_counter() - start


def peak_megabytes() -> float:
    """Most memory that this process has held so far."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def machine() -> str:
    """The line that every table of figures starts with."""
    return (
        f"Waterleaf {__version__}, Python {platform.python_version()}, {platform.system()} {platform.machine()}, "
        f"{os.cpu_count()} cores"
    )


def bench_sheets(families: Sequence[Family], count: int) -> str:
    """`count` four-question worksheets with keys, against a bare Typst compile of the same pages."""
    style = Style()
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)

        def whole() -> None:
            print_packet(make_sheets(families, 1, count, style), style, place, place, "bench")

        total = timed(whole)
        peak = peak_megabytes()
    sheets = make_sheets(families, 1, count, style)
    documents = {
        kind: [lay_out(run, style) for run in paper.in_batches(sheets, press.SHEETS_AT_ONCE)]
        for kind, lay_out in (("worksheet", paper.worksheets), ("key", paper.keys))
    }
    bare = timed(lambda: [len(pdf) for kind, runs in documents.items() for pdf in press.packets(kind, runs)])
    return (
        f"{count:>7} worksheets with keys   {total:8.2f} s   bare Typst {bare:8.2f} s   ratio {total / bare:4.2f}   "
        f"peak {peak:6.0f} MB"
    )


def bench_draws(family: Family, count: int) -> str:
    """Draws of one family a second."""
    seconds = timed(lambda: [draw(family, number) for number in range(count)])
    return f"{count:>7} draws of {family.key}   {seconds:8.2f} s   {count / seconds:8.0f} a second"


def bench_build(home: Path, runs: int) -> str:
    """The whole build in fresh processes, warm, and the pages of the site a second."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "waterleaf", "build", "--out", folder]
        times = [timed(lambda: subprocess.run(command, check=True, capture_output=True, cwd=home)) for _ in range(runs)]
        pages = sum(1 for _ in Path(folder, "site").rglob("*.html"))
    median = statistics.median(times)
    return f"whole build, warm, {pages} pages   {median:8.2f} s   {pages / median:6.1f} pages a second"


def bench_start(home: Path, runs: int) -> str:
    """Start of the command line: `waterleaf --help` in a fresh process."""
    command = [sys.executable, "-m", "waterleaf", "--help"]
    times = [timed(lambda: subprocess.run(command, check=True, capture_output=True, cwd=home)) for _ in range(runs)]
    return f"waterleaf --help   {statistics.median(times):8.3f} s"


def main() -> None:
    """Print the table."""
    home = find_home()
    load_settings(home)
    bank = load_bank(home / "question_bank")
    families = [bank[key] for key in FOUR]
    print(machine())
    for count in (1, 100, 1000):
        print(bench_sheets(families, count), flush=True)
    print(bench_draws(bank["feed/daily_feed"], 100_000), flush=True)
    print(bench_start(home, 5), flush=True)
    print(bench_build(home, 3), flush=True)


if __name__ == "__main__":
    main()
