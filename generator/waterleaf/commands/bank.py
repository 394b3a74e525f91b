"""`waterleaf bank`: the proof of the question bank as a table."""

import json
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

from waterleaf.commands import options
from waterleaf.faults import refuse
from waterleaf.home import find_home
from waterleaf.proof import Finding, check_family


def check_bank(
    draws: int, names: str, out: Path | None, as_json: bool, progress: Callable[[str, int], AbstractContextManager[Any]]
) -> tuple[str, bool]:
    """The table of findings as text or JSON, and whether every family is sound."""
    families = options.families(names, find_home() / "question_bank")
    findings: list[Finding] = []
    with progress("Checking families", len(families)) as advance:
        for family in families:
            findings.append(check_family(family, draws))
            advance(1)
    rows = [finding.row() for finding in findings]
    if out is not None:
        _write_csv(rows, out)
    sound = all(finding.sound for finding in findings)
    return (json.dumps(rows, ensure_ascii=False, indent=2) if as_json else _text(findings)), sound


def _write_csv(rows: list[dict[str, Any]], out: Path) -> None:
    import pandas as pd  # slow to load, and only this path needs it

    try:
        pd.DataFrame(rows).to_csv(out, index=False)
    except OSError as error:
        raise refuse(out.as_posix(), f"cannot be written ({error.strerror}). Choose another file with --out.") from None


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
    broken = sum(not finding.sound for finding in findings)
    lines += [
        "",
        "closest: distance of the nearest slip from the key, in half-widths of the accepted band",
        f"{len(findings)} families, {broken} with faults" if broken else f"{len(findings)} families, all sound",
    ]
    return "\n".join(lines)
