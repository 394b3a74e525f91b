"""A look ahead as plain data for paper, and as one HTML page that needs nothing else."""

from pathlib import Path
from typing import Any

from jinja2 import Environment
from markupsafe import Markup

from waterleaf import __version__
from waterleaf.growing.ahead import NOT_MODELLED, Ahead, cautions, crossing_line, relations, table, title, totals
from waterleaf.growing.ahead_figures import alternative, draws, paper_figure, told
from waterleaf.growing.report import BEFORE_ACTING


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
        "headings": headings, "rows": rows, "totals": [list(row) for row in totals(ahead)],
        "left_out": NOT_MODELLED, "assumed": list(ahead.reckoning.notes),
        "relations": relations(ahead),
    }  # fmt: skip


def html(ahead: Ahead) -> str:
    """The look ahead as one HTML page."""
    data = page_data(ahead)
    for one in data["figures"]:  # made by the kit's own plotting
        named = one["svg"].replace("<svg ", f'<svg role="img" aria-label="{Markup.escape(one["alternative"])}" ', 1)
        one["svg"] = Markup(named)
    template = Path(__file__).with_name("ahead.html").read_text(encoding="utf-8")
    return Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True).from_string(template).render(
        **data, version=__version__
    )
