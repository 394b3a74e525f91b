"""The findings sheet as text for a terminal, as data for a program, and as one page of HTML."""

import json
from collections.abc import Sequence
from typing import Any, Final

from markupsafe import Markup

from waterleaf import __version__
from waterleaf.growing.check import assumptions
from waterleaf.growing.facts import reference
from waterleaf.growing.finding import Finding
from waterleaf.growing.page import page
from waterleaf.growing.system import System
from waterleaf.working.steps import Working
from waterleaf.working.units import written

WORDS: Final = {"mend": "mend", "look": "look", "missing": "not known", "fine": "fine"}
_STYLE: Final = """
h2 { margin: 0 0 .3rem; }
article { border-left: .3rem solid var(--water); padding: .3rem 0 .3rem .9rem; margin: 1rem 0; }
article.mend { border-color: #a01b1b; } article.look { border-color: #8a5a00; }
article.missing { border-style: dashed; border-width: 0 0 0 .3rem; }
.wide p { white-space: nowrap; }
.standing { font-weight: 700; text-transform: uppercase; font-size: .85rem; letter-spacing: .04em; }
"""
BEFORE_ACTING: Final = (
    "A sum is no licence. Electrical, gas and structural work, fish health, discharge and food rules belong to "
    "licensed people and to your authorities and school; ask them before you change anything."
)


def summary(findings: Sequence[Finding]) -> str:
    """How many findings stand how."""
    counts = {word: sum(one.standing == key for one in findings) for key, word in WORDS.items()}
    return ", ".join(f"{count} {word}" for word, count in counts.items() if count)


def relation_line(working: Working) -> str:
    """The relation and its sources."""
    sources = "; ".join(reference(citation) for citation in working.relation.sources)
    return f"{working.relation.name}: {sources}"


def text(system: System, findings: Sequence[Finding]) -> str:
    """The sheet for a terminal."""
    lines = [f"{system.file.name}: {summary(findings)}", *([system.file.note] if system.file.note else [])]
    lines += ["", BEFORE_ACTING]
    for one in findings:
        lines += ["", f"{WORDS[one.standing].upper():<10}{one.title}{': ' + one.shown if one.shown else ''}"]
        if one.caution:
            lines.append(f"          Take care. {one.caution}")
        lines.append(f"          {one.say}")
        if one.band:
            lines.append(f"          accepted: {one.band}. {one.band_source}")
        if one.workings:
            last = one.workings[-1]
            lines += [f"          {step.line.plain} {written(step.quantity.unit)}".rstrip() for step in last.steps]
            lines.append(f"          {relation_line(last)}")
        if one.table:
            lines += ["          " + "  ".join(f"{cell:<26}" for cell in row).rstrip()
                      for row in (one.table.headings, *one.table.rows)]
    assumed = assumptions(list(findings))
    lines += ["", "Assumed, since the file gives no value of its own (put yours under `measured`, or in its section):"]
    lines += [f"  {note}" for note in assumed] or ["  nothing"]
    return "\n".join(lines)


def data(system: System, findings: Sequence[Finding]) -> str:
    """The sheet as JSON."""
    return json.dumps(
        {
            "name": system.file.name, "version": __version__, "summary": summary(findings),
            "findings": [_one(one) for one in findings], "assumed": list(assumptions(list(findings))),
        },
        ensure_ascii=False, indent=2,
    )


def _one(one: Finding) -> dict[str, Any]:
    return {
        "key": one.key, "title": one.title, "standing": one.standing, "value": one.value, "unit": one.unit,
        "shown": one.shown, "accepted": one.band, "band_source": one.band_source, "say": one.say,
        "caution": one.caution, "missing": list(one.missing), "assumed": list(one.assumed),
        "table": [list(one.table.headings), *map(list, one.table.rows)] if one.table else None,
        "workings": [
            {
                "relation": working.relation.name,
                "given": {name: {"value": term.value, "unit": term.quantity.unit} for name, term in working.given},
                "steps": [f"{step.line.plain} {written(step.quantity.unit)}".rstrip() for step in working.steps],
                "sources": [reference(citation) for citation in working.relation.sources],
            }
            for working in one.workings
        ],
    }


def html(system: System, findings: Sequence[Finding]) -> str:
    """The sheet as one HTML page that needs nothing else."""
    return page(
        "findings", f"Findings: {system.file.name}", _STYLE, system=system.file, findings=findings, words=WORDS,
        summary=summary(findings), care=BEFORE_ACTING, assumed=assumptions(list(findings)), relation_line=relation_line,
        # The formula was made by the kit's own printer.
        maths=lambda step: Markup(f"<math displaystyle='true'>{step.line.mathml}</math>"), unit=written,
    )
