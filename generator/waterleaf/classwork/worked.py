"""Worked answers of issued sheets as pages, to be given out when the work is closed.

While work is open its keys are nowhere but with the instructor. So what opens them is a second hand-out: one page for
each sheet, found by the code on the paper. There is no lock to be broken, because there is nothing there before.
"""

from collections.abc import Mapping
from html import escape
from pathlib import Path
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.exercise import Exercise
from waterleaf.marking.issuebook import Issued, IssuedSheet, exercises_of
from waterleaf.marking.labels import labelled
from waterleaf.sheets.paper import accepted
from waterleaf.site.maths import working_html
from waterleaf.webpage import web_page

_STYLE: Final = """
body { font: 1rem/1.5 Georgia, serif; color: #16323a; background: #fff; margin: 0 auto; padding: 1rem; }
body { max-width: 44rem; }
h1, h2, h3 { color: #1f6f78; line-height: 1.25; } h2 { border-top: 1px solid #b9cdd0; padding-top: 1rem; }
table { border-collapse: collapse; margin: .8rem 0; } caption { text-align: left; font-style: italic; }
th, td { border: 1px solid #b9cdd0; padding: .25rem .6rem; text-align: left; } .wide, .wl-formula { overflow-x: auto; }
.wl-formula { margin: .4rem 0; } .wl-unit { white-space: nowrap; }
.wl-meaning, .note { color: #44545a; font-size: .9em; } a { color: #17505a; }
.wl-answer { border-left: 3px solid #0b5d3b; padding-left: .8rem; } .options { list-style: none; padding-left: 1rem; }
.codes { columns: 9rem; list-style: none; padding: 0; } .codes a { display: block; padding: .35rem 0; }
@media (prefers-color-scheme: dark) {
  body { color: #e3eeee; background: #10201f; } h1, h2, h3 { color: #8fd0d6; } a { color: #8fd3de; }
  .wl-meaning, .note { color: #c3cfd2; }
}
"""


def write_worked_pages(issued: Issued, bank: Mapping[str, Family], school: str, place: Path) -> None:
    """A page for every sheet, named by its code, and a list of the codes; no name of a student is in them."""
    for entry in issued.sheets:
        page = worked_page(issued, entry, exercises_of(issued, entry, bank), school)
        (place / f"{entry.code}.html").write_text(page, encoding="utf-8")
    codes = "".join(f'<li><a href="{code}.html">{code}</a></li>' for code in sorted(issued.by_code))
    body = (
        f"<h1>{escape(issued.title)}: worked answers</h1>\n<p class=\"note\">{escape(school)}</p>\n"
        f"<p>Find the code of your sheet. It stands at the head of the paper.</p>\n<ul class=\"codes\">{codes}</ul>"
    )
    (place / "index.html").write_text(web_page(f"{issued.title}: worked answers", _STYLE, body), encoding="utf-8")


def worked_page(issued: Issued, entry: IssuedSheet, exercises: tuple[Exercise, ...], school: str) -> str:
    """All questions of a sheet with their working, the answer and what else is accepted."""
    body = [
        f"<h1>Worked answers – {entry.code}</h1>",
        f'<p class="note">{escape(issued.title)}. {escape(school)}. <a href="index.html">All sheets</a></p>',
    ]
    for number, exercise in enumerate(exercises, start=1):
        body += [f"<h2>{number} {escape(exercise.family.file.title)}</h2>", f"<p>{escape(exercise.story)}</p>"]
        body.append(_readings(exercise))
        if exercise.caution:
            body.append(f"<p><strong>Take care.</strong> {escape(exercise.caution)}</p>")
        for item in labelled(exercises):
            if item.exercise is exercise:
                part = item.part
                options = "".join(f"<li>{option.letter} {escape(option.text)}</li>" for option in part.options)
                also = accepted(part)
                body += [
                    f"<h3>{item.label} {escape(part.ask)}</h3>",
                    f'<ul class="options">{options}</ul>' if options else "", working_html(part),
                    f'<p class="note">{escape(also[0].upper() + also[1:])}</p>' if also else "",
                ]
    return web_page(f"Worked answers – {entry.code}", _STYLE, "\n".join(filter(None, body)))


def _readings(exercise: Exercise) -> str:
    table = exercise.table
    if table is None:
        return ""
    heads = "".join(f'<th scope="col">{escape(heading)}</th>' for heading in table.headings)
    rows = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in row)}</tr>" for row in table.rows)
    return (
        f'<div class="wide"><table><caption>{escape(table.caption)}</caption><thead><tr>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table></div>"
    )
