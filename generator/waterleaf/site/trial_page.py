"""The worked demo trial as a page of the site: the report of an invented trial, with figures in the page's colours."""

import re
from html import escape
from pathlib import Path
from typing import Final

from waterleaf.site.plots import figure
from waterleaf.trial.analysis import analyse
from waterleaf.trial.answers import panel_of, take_in_answers
from waterleaf.trial.document import Block
from waterleaf.trial.figures import FAINT, INK, WARM, WATER
from waterleaf.trial.frozen import differences, fingerprint, thaw
from waterleaf.trial.intake import take_in
from waterleaf.trial.layout import lay_out
from waterleaf.trial.origin import Origin
from waterleaf.trial.plan import load_plan
from waterleaf.trial.report import blocks_of
from waterleaf.trial.tasting import analyse_answers
from waterleaf.trial.tasting_report import tasting_blocks

STEM: Final = "trial-lettuce"
_PAGE_COLOURS: Final = {
    INK: "currentColor", FAINT: "var(--wl-line)", WATER: "var(--wl-series-1)", WARM: "var(--wl-series-2)",
    "#ffffff": "none",
}  # fmt: skip
_INTRO: Final = """# A worked trial

!!! warning "Nothing on this page was ever measured"
    Ostrel Quay College and its lettuce are invented, and so is every reading and every answer below. The page shows
    what a report looks like and how far it goes. Cut, taste and work near water by the cautions of the
    [project page](project.md).

Read it with the questions of the [trial project](project.md) at hand. What was the unit? What was fixed beforehand?
What differs from the plan, and is it told? Would you have said more than the lists allow?

"""


def demo_page(demo: Path) -> str:
    """The reports on readings and on tasting of the demo trial, as Markdown with tables and figures in HTML."""
    plan_file = demo / f"{STEM}.yaml"
    now, frozen = load_plan(plan_file), thaw(plan_file)
    plan, units = (frozen.plan, frozen.layout) if frozen else (now, lay_out(now))
    changes, mark = tuple(differences(frozen, now)), fingerprint(plan, units)
    data, tasted = demo / f"{STEM}-rehearsal.csv", demo / f"{STEM}-rehearsal-answers.csv"
    origin = Origin(changes, mark, frozen.date if frozen else "", data.name)
    intake = take_in(plan, units, data)
    readings = blocks_of(analyse(plan, units, intake.readings, margin_stands=origin.margin_stands), intake, origin)
    answers = take_in_answers(plan, units, tasted)
    tasting = analyse_answers(plan, panel_of(plan, plan.name), answers, margin_stands=origin.margin_stands)
    panel = tasting_blocks(tasting, answers, Origin(changes, mark, origin.frozen_on, tasted.name))
    return "\n\n".join(
        [_INTRO + "## The readings", *map(_markdown, readings), "## The tasting", *map(_markdown, panel), ""]
    )


def _markdown(block: Block) -> str:
    """One block of a report; words stand in HTML, so that nothing in them is taken for markup."""
    kind = block["kind"]
    if kind == "heading":
        return f"### {block['text']}"
    if kind == "break":
        return ""
    if kind == "side":
        return "\n\n".join(_figure(part) for part in block["parts"])
    if kind == "figure":
        return _figure(block)
    if kind == "table":
        return _table(block)
    if kind in ("list", "box"):
        listed = "".join(f"<li>{escape(line)}</li>" for line in block["items"])
        title = f"<p><strong>{escape(block['title'])}</strong></p>" if kind == "box" else ""
        return f'<div class="{"wl-worked" if kind == "box" else "wl-list"}">{title}<ul>{listed}</ul></div>'
    return f"<p>{escape(block['text'])}</p>"


def _figure(block: Block) -> str:
    svg = re.sub(r"<metadata>.*?</metadata>", "", block["svg"], flags=re.DOTALL)
    svg = re.sub(r' height="[\d.]+pt"', "", svg, count=1)  # its width stays: it is drawn for a phone, not to be stretched
    for own, page in _PAGE_COLOURS.items():
        svg = svg.replace(own, page)
    name = re.search(r'id="([a-z_]+)-', svg)
    return figure(f"trial-{name[1] if name else 'plot'}", svg, block["alt"], block["caption"])


def _table(block: Block) -> str:
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in block["headings"])
    rows = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in row)}</tr>" for row in block["rows"])
    caption = f"<caption>{escape(block['caption'])}</caption>" if block["caption"] else ""
    label = block["caption"] or ", ".join(block["headings"])
    return (
        f'<div class="wl-wide" tabindex="0" role="region" aria-label="{escape(label)}"><table class="wl-readings">{caption}<thead><tr>{head}</tr></thead>'
        f"<tbody>{rows}</tbody></table></div>"
    )
