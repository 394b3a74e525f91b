"""`waterleaf bank`: the proof of the question bank as a table."""

import json
from collections.abc import Callable
from contextlib import AbstractContextManager
from functools import partial
from pathlib import Path
from typing import Any, Final

from waterleaf.bank.lessons import places_that_are_not_there
from waterleaf.commands import options
from waterleaf.home import find_home
from waterleaf.proof import Finding, check_family
from waterleaf.sharing import shared
from waterleaf.writing import written_whole

# Below this many draws in all, the start of other processes costs more than they save.
_WORTH_SHARING: Final = 2000


def check_bank(
    draws: int, names: str, out: Path | None, as_json: bool,
    progress: Callable[[str, int], AbstractContextManager[Any]], workers: str | None = None,
) -> tuple[str, bool]:
    """The table of findings as text or JSON, and whether every family is sound."""
    home = find_home()
    families = options.families(names, home / "question_bank")
    worth = len(families) > 1 and draws * len(families) >= _WORTH_SHARING
    findings: list[Finding] = []
    with (
        progress("Checking families", len(families)) as advance,
        shared(workers, "processes" if worth else "here") as hands,
    ):
        for finding in hands.in_order(partial(check_family, draws=draws), families):
            findings.append(finding)
            advance(1)
    for family, finding in zip(families, findings, strict=True):
        finding.faults.update(places_that_are_not_there(family, home / "course"))
    rows = [finding.row() for finding in findings]
    if out is not None:
        _write_csv(rows, out)
    sound = all(finding.sound for finding in findings)
    return (json.dumps(rows, ensure_ascii=False, indent=2) if as_json else _text(findings)), sound


def _write_csv(rows: list[dict[str, Any]], out: Path) -> None:
    import pandas as pd  # slow to load, and only this path needs it

    written_whole(out, pd.DataFrame(rows).to_csv(index=False, lineterminator="\n"))


def _text(findings: list[Finding]) -> str:
    lines = [
        f"{'family':<28} {'level':>5} {'draws':>6} {'thrown':>6} {'closest':>8} {'words':>6} {'grade':>6}  answers"
    ]
    for finding in findings:
        row = finding.row()
        lines.append(
            f"{row['family']:<28} {row['level']:>5} {row['draws']:>6} {row['thrown back']:>6} {row['closest slip']:>8} "
            f"{row['words']:>6} {row['reading grade']:>6}  {row['answers']}"
        )
        lines += [f"    fault: {text} ({count}x)" for text, count in finding.faults.items()]
        lines += [f"    uneven: {what} from {low} to {high}" for what, (low, high) in finding.uneven.items()]
    held = "1 family" if len(findings) == 1 else f"{len(findings)} families"
    broken = sum(not finding.sound for finding in findings)
    lines += [
        "",
        "thrown: draws thrown back before one was fit",
        "closest: distance of the nearest slip from the key, in half-widths of the accepted band",
        "uneven: what is longer on some sheets than on others; a count that may have two digits or three is no harm",
        f"{held}, {broken} with faults" if broken else f"{held}, all sound",
    ]
    return "\n".join(lines)
