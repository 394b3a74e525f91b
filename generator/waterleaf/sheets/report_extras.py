"""What the class report says of parallel papers and of practical tasks."""

from collections.abc import Mapping
from typing import Any, Final

from waterleaf.bank.family import Family
from waterleaf.marking.classmarks import ClassMarks
from waterleaf.marking.items import FEW
from waterleaf.marking.paperfigures import FEWEST_COPIES, PaperQuestion, paper_questions
from waterleaf.marking.taskmarks import TaskMarks

_OPEN: Final = "–"


def papers_section(marked: ClassMarks, bank: Mapping[str, Family]) -> dict[str, Any] | None:
    """How each question did on each paper; None where the class had no parallel papers."""
    questions = paper_questions(marked)
    if not questions:
        return None
    uneven = [question for question in questions if question.uneven]
    return {
        "headings": ["Question", "Title", *(f"Paper {name}" for name in questions[0].papers), "p"],
        "rows": [_question(question, bank) for question in questions],
        "notes": _notes(questions, uneven),
    }


def _question(question: PaperQuestion, bank: Mapping[str, Family]) -> list[str]:
    titles = dict.fromkeys(bank[key].file.title for key in question.families)
    shares = [
        _OPEN if share is None else f"{100 * share:.0f} %, {copies} {'copy' if copies == 1 else 'copies'}"
        for share, copies in zip(question.shares, question.copies, strict=True)
    ]
    p = "too few" if question.p is None else f"{question.p:.2g}{', uneven' if question.uneven else ''}"
    return [str(question.question), " / ".join(titles), *shares, p]


def _notes(questions: list[PaperQuestion], uneven: list[PaperQuestion]) -> list[str]:
    notes = ["Share of its marks that was earned on each paper, and by how many complete copies."]
    if questions[0].looks == 0:
        few = f"With fewer than {FEW} complete copies, or {FEWEST_COPIES} of each paper, no difference is tested."
        return [*notes, few]
    notes.append(
        "p compares the papers by ranks, each student's question beside the rest of their own paper. Papers were dealt "
        f"by seat, not by lot. A question is called uneven where p times {questions[0].looks} looks is below 0.05."
    )
    numbers = ", ".join(str(question.question) for question in uneven)
    notes.append(f"Look at question {numbers} before you compare marks across papers." if uneven
                 else "No question is called uneven. That does not show that the papers were equally hard.")
    return notes


def tasks_section(marked: ClassMarks) -> list[dict[str, Any]]:
    """Each practical task: how its criteria did, how many did it, and how often it was stopped."""
    return [_task(entry) for entry in marked.tasks]


def _task(entry: TaskMarks) -> dict[str, Any]:
    results = list(entry.results.values())
    rows = []
    for place, criterion in enumerate(entry.task.criteria):
        marks = [r.marks[place] for r in results if not r.stopped and r.marks[place] is not None]
        share = sum(mark for mark in marks if mark is not None) / (criterion.most * len(marks)) if marks else None
        earned = _OPEN if share is None else f"{100 * share:.0f} %"
        rows.append([criterion.name, str(criterion.most), earned, str(len(marks))])
    stopped = sum(result.stopped for result in results)
    if not results:
        return {"title": entry.task.title, "line": "Nobody's marks stand in the results table yet.", "rows": []}
    line = f"Students assessed: {len(results)}."
    if stopped:
        line += f" Stopped for safety and to be repeated: {stopped}."
    return {"title": entry.task.title, "line": line, "rows": rows}
