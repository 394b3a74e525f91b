"""Practical tasks on paper: one page with cautions, steps, criteria and sign-off, and the instructor's copy."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from waterleaf.marking.practical import Practical
from waterleaf.sheets.paper import Style, packet_head
from waterleaf.working.units import label


@dataclass(frozen=True, slots=True)
class DayLine:
    """Numbers of the day: a sentence, what is asked with its unit, the answers, and what to mind about them."""

    text: str
    asks: tuple[tuple[str, str], ...]
    answers: tuple[str, ...]
    mind: str


@dataclass(frozen=True, slots=True)
class Page:
    """One student's page; without id and name it is a blank one."""

    code: str
    student: str
    name: str
    day: DayLine | None


def task_pages(task: Practical, pages: Sequence[Page], style: Style) -> dict[str, Any]:
    """Data of the pages, each on one side of paper."""
    return {
        **packet_head(style, "Practical" if task.kind == "practical" else "Report"), "title": task.title,
        "minutes": task.minutes or 0, "full": task.full, "report": task.kind == "report",
        "ready": list(task.ready), "stop": list(task.stop), "sources": list(task.sources),
        "steps": [{"do": step.do, "care": step.care or "", "note": step.note or ""} for step in task.steps],
        "levels": max(len(criterion.levels) for criterion in task.criteria),
        "criteria": _criteria(task),
        "pages": [
            {
                "code": page.code, "name": page.name,
                "day": {
                    "text": page.day.text, "mind": page.day.mind,
                    "asks": [[ask, label(unit)] for ask, unit in page.day.asks],
                } if page.day else None,
            }
            for page in pages
        ],
    }


def _criteria(task: Practical) -> list[dict[str, Any]]:
    return [
        {"name": criterion.name, "most": criterion.most,
         "levels": [[str(level.marks), level.text] for level in criterion.levels]}
        for criterion in task.criteria
    ]


def instructor_pages(task: Practical, pages: Sequence[Page], origin: str, style: Style) -> dict[str, Any]:
    """Data of the instructor's copy: numbers and keys of every page, and how marks are given and entered."""
    first = next((page.day for page in pages if page.day), None)
    same = first is not None and all(page.day == first for page in pages)
    shown = [page for page in pages if page.day and (not same or page is pages[0])]
    return {
        **packet_head(style, "Instructor's copy"), "title": task.title, "full": task.full, "stop": list(task.stop),
        "criteria": _criteria(task), "levels": max(len(criterion.levels) for criterion in task.criteria),
        "sources": list(task.sources), "origin": origin, "mind": first.mind if first else "",
        "report": task.kind == "report",
        "asks": [ask for ask, _ in first.asks] if first else [],
        "rows": [
            ["everybody" if same else page.name or "blank", "" if same else page.student, "" if same else page.code,
             page.day.text, *page.day.answers]
            for page in shown if page.day
        ],
    }
