"""Figures that an engineer can rerun: `python3 generator bench`.

Every time is a median of several fresh processes from start to end; ratios are taken within the same run.
"""

import json
import os
import platform
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from waterleaf import __version__
from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.bench.classes import bench_assign, bench_marking
from waterleaf.bench.runs import median, run
from waterleaf.draw import draw
from waterleaf.home import find_home, load_settings
from waterleaf.printing import make_sheets
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import Style

# Four questions on two sheets of paper, each with thousands of different draws.
FOUR: Final = ("feed/daily_feed", "solids/flush_day", "sugar/mean_and_spread", "feed/feed_conversion")


def machine() -> str:
    """The line that every table of figures starts with."""
    return (
        f"Waterleaf {__version__}, Python {platform.python_version()}, {platform.system()} {platform.machine()}, "
        f"{os.cpu_count()} cores"
    )


def bench_sheets(home: Path, families: Sequence[Family], count: int, times: int) -> str:
    """`count` four-question worksheets with keys, against Typst alone on the same pages, each in fresh processes.

    Typst alone is given the finished data; it draws, computes and lays out nothing.
    """
    style = Style(load_settings(home).school)
    with tempfile.TemporaryDirectory() as folder:
        words = ("sheets", "--count", str(count), "--families", ",".join(FOUR), "--seed", "1", "--out", f"{folder}/out")
        data = Path(folder, "pages.jsonl")
        sheets = list(make_sheets(families, 1, count, style))
        with data.open("w", encoding="utf-8") as handle:
            for start in range(0, count, press.SHEETS_AT_ONCE):
                packet = sheets[start : start + press.SHEETS_AT_ONCE]
                for kind, lay_out in (("worksheet", paper.worksheets), ("key", paper.keys)):
                    handle.write(json.dumps([kind, json.dumps(lay_out(packet, style))]) + "\n")
        alone = (press.TEMPLATES, data)
        # Turn about, so that what else the machine does falls on both.
        pairs = [
            (run("waterleaf", *words, home=home), run("waterleaf.bench.alone", *map(str, alone), home=home))
            for _ in range(times)
        ]
    whole, typst = (median(runs) for runs in zip(*pairs, strict=True))
    return (
        f"{count:>7} worksheets with keys   {whole.seconds:8.2f} s   Typst alone {typst.seconds:8.2f} s   "
        f"ratio {whole.seconds / typst.seconds:4.2f}   peak {whole.megabytes:6.0f} MB, Typst alone "
        f"{typst.megabytes:6.0f} MB"
    )


def bench_draws(family: Family, count: int) -> str:
    """Draws of one family a second."""
    start = time.perf_counter()
    for number in range(count):
        draw(family, number)
    seconds = time.perf_counter() - start
    return f"{count:>7} draws of {family.key}   {seconds:8.2f} s   {count / seconds:8.0f} a second"


def bench_build(home: Path, times: int) -> str:
    """The whole build, warm, and the pages of the site a second."""
    with tempfile.TemporaryDirectory() as folder:
        whole = median([run("waterleaf", "build", "--out", folder, home=home) for _ in range(times)])
        pages = sum(1 for _ in Path(folder, "site").rglob("*.html"))
    return (
        f"whole build, warm, {pages} pages   {whole.seconds:8.2f} s   {pages / whole.seconds:6.1f} pages a second   "
        f"peak {whole.megabytes:6.0f} MB"
    )


def bench_start(home: Path, times: int) -> str:
    """Start of the command line."""
    return f"waterleaf --help   {median([run('waterleaf', '--help', home=home) for _ in range(times)]).seconds:8.3f} s"


def main() -> None:
    """Print the table."""
    home = find_home()
    bank = load_bank(home / "question_bank")
    families = [bank[key] for key in FOUR]
    print(machine())
    for count, times in ((1, 5), (100, 5), (1000, 3)):
        print(bench_sheets(home, families, count, times), flush=True)
    print(bench_draws(bank["feed/daily_feed"], 100_000), flush=True)
    print(bench_start(home, 5), flush=True)
    print(bench_build(home, 3), flush=True)
    print(bench_assign(home), flush=True)
    for students in (100, 1000, 5000, 10_000):
        print(bench_marking(home, bank, students), flush=True)


if __name__ == "__main__":
    main()
