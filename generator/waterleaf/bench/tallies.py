"""What became of spoilt answers and files, as a table on the terminal and as a file of figures.

`tests/figures/hostile.csv` is written by `python -m waterleaf.bench.hostile --figures tests/figures/hostile.csv`: for
every reader the whole run, and a slice of it that the suite makes again and holds against the file.
"""

import csv
import io
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from waterleaf.writing import written_whole

HEADINGS: Final = (
    "reader", "slice cases", "slice read", "slice refused", "cases", "read", "refused", "findings", "worst s",
    "worst MB",
)
_HEAD: Final = """\
# Spoilt answers and files at everything that reads them, seed {seed}. Made by
# python -m waterleaf.bench.hostile --figures tests/figures/hostile.csv
# The suite makes the slice again and compares its three columns; the others are as that run saw them. Seconds are those
# of the processor for the slowest case, MB what the case that took most added to the process.
"""


@dataclass(slots=True)
class Tally:
    """What became of the cases of one reader."""

    name: str
    cases: int = 0
    taken: int = 0
    refused: int = 0
    seconds: float = 0.0
    megabytes: float = 0.0
    findings: Counter[str] = field(default_factory=Counter)
    examples: dict[str, int] = field(default_factory=dict)

    def found(self, what: str, number: int) -> None:
        """Note a finding and the number of its first case."""
        self.findings[what] += 1
        self.examples.setdefault(what, number)


def table(tallies: Sequence[Tally]) -> str:
    """The tallies as lines, and every finding with the number of its first case."""
    lines = [f"{'reader':<16}{'cases':>9}{'taken':>9}{'refused':>9}{'findings':>10}{'worst s':>9}{'worst MB':>10}"]
    for one in tallies:
        found = sum(one.findings.values())
        lines.append(
            f"{one.name:<16}{one.cases:>9}{one.taken:>9}{one.refused:>9}{found:>10}"
            f"{one.seconds:>9.2f}{one.megabytes:>10.0f}"
        )
        lines += [f"    {count}x {what} (first: {one.examples[what]})" for what, count in one.findings.most_common()]
    return "\n".join(lines)


def write_figures(path: Path, seed: int, slices: Sequence[Tally], tallies: Sequence[Tally]) -> None:
    """Keep the tallies in a file, each beside its slice."""
    held = io.StringIO()
    writer = csv.writer(held, lineterminator="\n")
    writer.writerow(HEADINGS)
    for part, whole in zip(slices, tallies, strict=True):
        writer.writerow((
            whole.name, part.cases, part.taken, part.refused, whole.cases, whole.taken, whole.refused,
            sum(whole.findings.values()), f"{whole.seconds:.2f}", f"{whole.megabytes:.0f}",
        ))
    written_whole(path, _HEAD.format(seed=seed) + held.getvalue())


def read_figures(path: Path) -> dict[str, dict[str, str]]:
    """The rows of the file, by reader."""
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return {row["reader"]: row for row in csv.DictReader(lines)}
