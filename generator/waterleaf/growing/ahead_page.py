"""A look ahead as plain data for paper, and as one HTML page that needs nothing else."""

from typing import Any, Final

from markupsafe import Markup

from waterleaf.growing.ahead import (
    NOT_MODELLED,
    Ahead,
    cautions,
    crossing_line,
    relations,
    table,
    table_note,
    title,
    totals,
)
from waterleaf.growing.ahead_figures import alternative, draws, paper_figure, told
from waterleaf.growing.page import page
from waterleaf.growing.report import BEFORE_ACTING

_STYLE: Final = """
.numbers th, .numbers td { white-space: nowrap; }
figure { margin: 0; } figure svg { width: 100%; height: auto; }
figcaption { font-size: .9rem; }
.figures { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 22rem), 1fr)); gap: .6rem; }
"""


def page_data(ahead: Ahead) -> dict[str, Any]:
    """Everything that the page says, as texts and tables."""
    headings, rows = table(ahead)
    return {
        "title": title(ahead), "note": ahead.system.file.note or "", "care": BEFORE_ACTING,
        "cautions": cautions(ahead), "events": [event.told for event in ahead.events],
        "crossed": [
            {"line": crossing_line(one), "act": one.limit.act, "caution": one.limit.caution,
             "source": one.limit.source}
            for one in ahead.crossed
        ],
        "figures": [
            {"svg": paper_figure(ahead, key), "alternative": alternative(ahead, key), "caption": told(ahead, key)}
            for key in draws(ahead)
        ],
        "table_note": table_note(ahead), "headings": headings, "rows": rows,
        "totals": [list(row) for row in totals(ahead)],
        "left_out": NOT_MODELLED, "assumed": list(ahead.reckoning.notes),
        "relations": relations(ahead),
    }  # fmt: skip


def html(ahead: Ahead) -> str:
    """The look ahead as one HTML page."""
    data = page_data(ahead)
    for one in data["figures"]:  # made by the kit's own plotting
        named = one["svg"].replace("<svg ", f'<svg role="img" aria-label="{Markup.escape(one["alternative"])}" ', 1)
        one["svg"] = Markup(named)
    return page("ahead", style=_STYLE, **data)
