"""The findings sheet on paper: a page that shows where everything stands, then what to do, with the working."""

from collections.abc import Sequence
from typing import Any

from waterleaf.growing.check import assumptions
from waterleaf.growing.finding import Finding
from waterleaf.growing.report import BEFORE_ACTING, WORDS, relation_line, summary
from waterleaf.growing.system import System
from waterleaf.sheets.paper import Style, formula_data, packet_head
from waterleaf.working.units import written


def findings_sheet(system: System, findings: Sequence[Finding], style: Style) -> dict[str, Any]:
    """Data of the sheet."""
    return {
        **packet_head(style, "Findings"),
        "title": f"Findings: {system.file.name}",
        "note": system.file.note or "",
        "summary": summary(findings),
        "care": BEFORE_ACTING,
        "findings": [
            {
                "standing": WORDS[one.standing], "title": one.title, "shown": one.shown, "band": one.band,
                "source": one.band_source, "say": one.say, "caution": one.caution,
                "workings": [
                    {
                        "lines": [
                            {"piece": formula_data(step.line), "unit": written(step.quantity.unit)}
                            for step in working.steps
                        ],
                        "relation": relation_line(working),
                    }
                    for working in one.workings
                ],
                "headings": list(one.table.headings) if one.table else [],
                "rows": [list(row) for row in one.table.rows] if one.table else [],
            }
            for one in findings
        ],
        "assumed": list(assumptions(list(findings))),
    }
