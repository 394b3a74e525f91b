"""The class report as one HTML file that asks for nothing from outside."""

from collections.abc import Sequence
from html import escape
from typing import Any, Final

from waterleaf.site.plots import FAINT, SERIES, figure, plot
from waterleaf.webpage import web_page

_ABREAST: Final = 12  # labels of parts that stand side by side below an axis
_NAMED: Final = 4  # parts that are named where many have one place
_STYLE: Final = """
:root { --wl-line: #b9cdd0; --wl-series-1: #1f6f78; --wl-series-2: #8a3b12; }
body { font: 1rem/1.5 Georgia, serif; color: #16323a; background: #fff; margin: 2rem auto; padding: 0 1rem; }
body { max-width: 62rem; }
h1, h2 { color: #1f6f78; line-height: 1.2; } table { border-collapse: collapse; margin: 1rem 0; }
th, td { border: 1px solid #b9cdd0; padding: .25rem .6rem; text-align: left; } thead th { background: #eaf3f3; }
figure { margin: 1.5rem 0; max-width: 40rem; } svg { max-width: 100%; height: auto; } .wide { overflow-x: auto; }
@media (prefers-color-scheme: dark) {
  :root { --wl-line: #40595e; --wl-series-1: #7cc4cc; --wl-series-2: #e59a6e; }
  body { color: #e3eeee; background: #10201f; } h1, h2 { color: #8fd0d6; } thead th { background: #1b3335; }
}
@media print { body { max-width: none; } figure, table { break-inside: avoid; } }
"""


def report_page(report: dict[str, Any]) -> str:
    """The page; every text in it is escaped, and it has no script."""
    title = f"{report['title']} – class report"
    body = [
        f"<h1>{escape(title)}</h1>", f"<p>For the instructor. {escape(report['school'])}</p>",
        _table(("The class", "Number"), report["summary"]), *(f"<p>{escape(note)}</p>" for note in report["notes"]),
    ]
    if report["items"]:
        body += ["<h2>How each part did</h2>", *_figures(report), _items(report["items"])]
    body += ["<h2>Commonest slips</h2>"]
    body.append(
        _table(("Part", "Question", "The student", "How often", "Lesson"), report["slips"])
        if report["slips"] else "<p>No known slip was made more than once.</p>"
    )
    body += ["<h2>Topics</h2>", _table(("Topic", "Marks earned", "Advice"), report["topics"])]
    body.append("<h2>Questions whose draws were not equally hard</h2>")
    body.append(
        _table(("Question", "Title", "Drawn number", "Rank correlation", "p"), report["draws"])
        if report["draws"] else "<p>No drawn number went with the marks, as far as this class can show.</p>"
    )
    body += _papers_and_tasks(report)
    if report["again"]:
        body += [
            "<h2>To teach again</h2>",
            "<p>The sheet in the folder teach-again has fresh numbers for these questions. Watch for these turns:</p>",
            f"<ul>{''.join(f'<li>{escape(line)}</li>' for line in report['again'])}</ul>",
        ]
    body.append(f"<p><small>{escape(report['footer'])}</small></p>")
    return web_page(title, _STYLE, "\n".join(body))


def _papers_and_tasks(report: dict[str, Any]) -> list[str]:
    """How parallel papers compared, and how practical tasks did."""
    body = []
    if report["papers"]:
        papers = report["papers"]
        body += ["<h2>How the parallel papers compared</h2>", _table(papers["headings"], papers["rows"])]
        body += [f"<p>{escape(note)}</p>" for note in papers["notes"]]
    for task in report["tasks"]:
        body += [f"<h2>{escape(task['title'])}</h2>", f"<p>{escape(task['line'])}</p>"]
        if task["rows"]:
            body.append(_table(("Criterion", "Marks", "Earned", "n"), task["rows"]))
    return body


def _table(headings: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    head = "".join(f"<th scope=\"col\">{escape(heading)}</th>" if heading else "<td></td>" for heading in headings)
    lines = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in row)}</tr>" for row in rows)
    return f'<div class="wide"><table><thead><tr>{head}</tr></thead><tbody>{lines}</tbody></table></div>'


def _items(items: Sequence[dict[str, Any]]) -> str:
    headings = (
        "Part", "Question", "Marks earned", "n", "Discrimination", "With total", "Corrected", "Alpha without the part"
    )
    return _table(headings, [
        [i["label"], i["title"], i["share"], str(i["n"]), i["index"], i["item_total"], i["corrected"], i["without"]]
        for i in items
    ])


def _figures(report: dict[str, Any]) -> list[str]:
    items, totals = report["items"], report["totals"]
    labels = [item["label"] for item in items]

    def bars(axes: Any) -> None:
        axes.bar(labels, [100 * item["difficulty"] for item in items], color=SERIES[0])
        axes.set_ylim(0, 100)
        if len(labels) > _ABREAST:
            axes.tick_params(axis="x", rotation=90)

    def heap(axes: Any) -> None:
        axes.hist(totals, bins=min(12, max(3, len(set(totals)))), color=SERIES[0], edgecolor=FAINT)
        for axis in (axes.xaxis, axes.yaxis):
            axis.get_major_locator().set_params(integer=True)
        if len(set(totals)) == 1:
            axes.set_xlim(totals[0] - 2, totals[0] + 2)

    def cloud(axes: Any) -> None:
        axes.set_xlim(-4, 104)
        together: dict[tuple[float, float], list[str]] = {}
        for item in items:
            together.setdefault((100 * item["difficulty"], item["discrimination"]), []).append(item["label"])
        for place, named in together.items():
            axes.plot(*place, "o", color=SERIES[1])
            more = f" and {len(named) - _NAMED} more" if len(named) > _NAMED + 1 else ""
            text = ", ".join(named[:_NAMED] if more else named) + more
            right = place[0] > 50  # names grow towards the middle
            axes.annotate(
                text, place, xytext=(-4 if right else 4, 4), textcoords="offset points", ha="right" if right else "left"
            )

    hardest = min(items, key=lambda item: float(item["difficulty"]))
    weakest = min(items, key=lambda item: float(item["discrimination"]))
    return [
        figure(
            "totals", plot(heap, "total marks", "students"),
            f"Heights of bars show how many of {len(totals)} students had each total, from {min(totals):g} to "
            f"{max(totals):g}.", "How the totals are spread.",
        ),
        figure(
            "difficulty", plot(bars, "part", "marks earned, %"),
            f"A bar for each part. Lowest is {hardest['label']} with {hardest['share']}.",
            "Share of its marks that the class earned in each part.",
        ),
        figure(
            "discrimination", plot(cloud, "marks earned, %", "discrimination"),
            f"A point for each part. Lowest is {weakest['label']} at {weakest['discrimination']:.2f}.",
            "How well each part told strong from weak students, beside how hard it was.",
        ),
    ]
