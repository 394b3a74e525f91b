"""The class report as plain data, for the printed and for the browser's version alike."""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, Final

from waterleaf.bank.family import Family
from waterleaf.marking import feedback
from waterleaf.marking.classmarks import ClassMarks
from waterleaf.marking.feedback import ClassFigures, CommonSlip
from waterleaf.marking.items import FEW, group_size
from waterleaf.sheets.feedback import lesson
from waterleaf.sheets.paper import Style, packet_head
from waterleaf.sheets.report_extras import papers_section, tasks_section

_MINUS: Final = "−"


def class_report(marked: ClassMarks, bank: Mapping[str, Family], style: Style) -> dict[str, Any]:
    """Everything that the report says, as texts and tables. No name of a student is in it."""
    figures = feedback.class_figures(marked)
    slips = feedback.commonest_slips(marked)
    return {
        **packet_head(style, "Class report"),
        "summary": _summary(marked, figures),
        "notes": _notes(figures),
        "items": _items(marked, figures, bank),
        "totals": list(figures.totals) if figures else [],
        "slips": [
            [s.label, bank[s.family].file.title, s.turn, f"{s.count} of {s.answered}", lesson(s.see)] for s in slips
        ],
        "topics": _topics(marked, bank),
        "draws": [
            [str(d.question), bank[d.family].file.title, d.given.replace("_", " "), _number(d.rho), f"{d.p:.2g}"]
            for d in feedback.uneven_draws(marked)
        ],
        "again": again_lines(slips, bank),
        "papers": papers_section(marked, bank),
        "tasks": tasks_section(marked),
    }


def again_lines(slips: Sequence[CommonSlip], bank: Mapping[str, Family]) -> list[str]:
    """The questions of the re-teaching sheet, each with what to watch for."""
    lines = []
    for key in feedback.families_again(slips):
        title = bank[key].file.title
        turns = "; ".join(dict.fromkeys(slip.turn for slip in slips if slip.family == key))
        lines.append(f"{title}{'' if title.endswith('?') else ':'} {turns}")
    return lines


def _summary(marked: ClassMarks, figures: ClassFigures | None) -> list[list[str]]:
    states = Counter(entry.state for entry in marked.students)
    rows = [["sheets given out", str(len(marked.students))]]
    rows += [[state, str(states[state])] for state in ("complete", "to be decided", "not handed in")]
    if figures is None:
        return rows
    return [
        *rows,
        ["marks in all", str(figures.full)],
        ["mean", f"{figures.mean:.1f}"],
        ["median", f"{figures.median:.1f}"],
        ["standard deviation", f"{figures.spread:.2f}"],
        ["reliability, Cronbach's alpha", _number(figures.alpha)],
        ["reliability, KR-20", _number(figures.kr20) if figures.kr20 is not None else "does not apply"],
        ["standard error of measurement", f"{figures.error:.2f} marks" if figures.error is not None else "n/a"],
    ]


def _notes(figures: ClassFigures | None) -> list[str]:
    if figures is None:
        return ["Fewer than two sheets are complete, so there are no figures of the test yet."]
    notes = [
        f"Figures are over the {figures.students} complete sheets; variances divide by n.",
        f"Discrimination compares the {_group(figures.students, 'highest')} with the "
        f"{_group(figures.students, 'lowest')} (27 %). Students who tie for the last places of a group share them "
        "evenly.",
        "Corrected is the correlation of a part with the total of all other parts. n/a: everyone had the same marks.",
    ]
    if figures.few:
        notes.insert(0, f"With fewer than {FEW} students, these figures change a good deal with every single student. "
                        "Do not drop a question on their account.")
    if figures.alpha is not None and figures.alpha < 0:
        notes.append("Alpha is below nought: the parts do not measure one thing. No standard error is given.")
    return notes


def _group(students: int, which: str) -> str:
    size = group_size(students)
    return f"{which} total" if size == 1 else f"{size} {which} totals"


def _items(marked: ClassMarks, figures: ClassFigures | None, bank: Mapping[str, Family]) -> list[dict[str, Any]]:
    if figures is None:
        return []
    first = marked.students[0].outcomes
    return [
        {
            "label": label, "title": bank[outcome.family].file.title, "n": figures.students,
            "difficulty": item.difficulty, "share": f"{100 * item.difficulty:.0f} %",
            "discrimination": item.discrimination,
            "index": _number(item.discrimination) + ("" if figures.few else f", {item.band}"),
            "item_total": _number(item.item_total), "corrected": _number(item.corrected),
            "without": _number(item.alpha_without),
        }
        for (label, item), outcome in zip(figures.items.items(), first, strict=True)
    ]


def _topics(marked: ClassMarks, bank: Mapping[str, Family]) -> list[list[str]]:
    return [
        [share.topic, f"{100 * share.share:.0f} %", "teach again" if share.again else "–"]
        for share in feedback.topic_shares(marked, bank)
    ]


def _number(value: float | None) -> str:
    return "n/a" if value is None else f"{value:.2f}".replace("-", _MINUS)
