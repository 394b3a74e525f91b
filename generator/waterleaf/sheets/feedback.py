"""Feedback for one student: the questions with their numbers, what they answered, and the working that leads there."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from waterleaf.exercise import Exercise, PosedPart
from waterleaf.marking.sheetmarks import Outcome
from waterleaf.marking.taskmarks import TaskMarks
from waterleaf.sheets.paper import Style, formula_data, packet_head, readings_table
from waterleaf.working import figures
from waterleaf.working.units import behind, with_unit


@dataclass(frozen=True, slots=True)
class Feedback:
    """A marked sheet, ready to be printed for its student."""

    code: str
    name: str
    exercises: Sequence[Exercise]
    outcomes: Sequence[Outcome]
    tasks: Sequence[dict[str, Any]] = ()  # see `task_tables`


def feedback(sheets: Sequence[Feedback], style: Style) -> dict[str, Any]:
    """Data of a packet of feedback; every sheet starts on the front of a leaf."""
    return {**packet_head(style, "Feedback"), "duplex": True, "sheets": [_sheet(sheet) for sheet in sheets]}


def _sheet(sheet: Feedback) -> dict[str, Any]:
    outcomes = list(sheet.outcomes)
    items = []
    for exercise in sheet.exercises:
        own, outcomes = outcomes[: len(exercise.parts)], outcomes[len(exercise.parts) :]
        items.append({
            "title": exercise.family.file.title, "story": exercise.story, "table": readings_table(exercise),
            "parts": [_part(part, outcome) for part, outcome in zip(exercise.parts, own, strict=True)],
        })
    undecided = sum(outcome.marks is None for outcome in sheet.outcomes)
    return {
        "code": sheet.code, "name": sheet.name, "items": items, "undecided": undecided,
        "total": marks_text(sum(outcome.marks or 0 for outcome in sheet.outcomes)),
        "full": sum(outcome.of for outcome in sheet.outcomes),
        "rows": [[o.label, o.answer or "–", o.words, earned_text(o)] for o in sheet.outcomes],
        "tasks": list(sheet.tasks),
    }


def task_tables(tasks: Sequence[TaskMarks], student: str) -> list[dict[str, Any]]:
    """What a student got for practical tasks and reports: each criterion, what its mark stands for, and the total."""
    found = []
    for entry in tasks:
        result = entry.results.get(student)
        if result is None:
            continue
        total = entry.total(student)
        rows = [
            [c.name, "" if mark is None else c.level_for(mark).text,
             f"{'?' if mark is None else marks_text(mark)} / {c.most}"]
            for c, mark in zip(entry.task.criteria, result.marks, strict=True)
        ]
        found.append({
            "title": entry.task.title, "date": result.date, "rows": rows, "stopped": result.stopped,
            "total": "open" if total is None else marks_text(total), "full": str(entry.task.full),
            "remark": result.remark,
        })
    return found


def _part(part: PosedPart, outcome: Outcome) -> dict[str, Any]:
    return {
        "label": outcome.label, "ask": part.ask,
        "options": [[option.letter, option.text] for option in part.options],
        "own": outcome.answer or "no answer", "echo": _echo(outcome),
        "verdict": outcome.words[:1].upper() + outcome.words[1:], "says": _says(outcome), "marks": earned_text(outcome),
        "own_key": _own_key(part, outcome), "answer": part.answer, "reason": part.reason,
        "given": [
            {"symbol": formula_data(piece), "value": value, "meaning": meaning} for piece, value, meaning in part.given
        ],
        "working": [{"piece": formula_data(line.piece), "unit": behind(line.unit)} for line in part.working],
    }


def _echo(outcome: Outcome) -> str:
    """How an answer was read, where that is not letter for letter what was written."""
    read = " ".join(outcome.echo.removeprefix("read as ").split())
    return "" if read == " ".join(outcome.answer.split()) else outcome.echo


def lesson(see: str) -> str:
    """The place of a lesson in words: topic, then heading."""
    return see.replace("#", ", ").replace("-", " ")


def _says(outcome: Outcome) -> str:
    """What to tell the student; where a person decided, the judge's sentence might contradict them."""
    if outcome.note:
        return ""
    if outcome.marks is None:
        return "Your instructor will look at this answer."
    see = f" See the lesson on {lesson(outcome.see)}." if "#" in outcome.see else ""
    said = "" if outcome.message == "Right." else outcome.message  # the verdict beside it says that already
    return f"{said}{see}".strip()


def _own_key(part: PosedPart, outcome: Outcome) -> str:
    """What the part comes to from the student's own earlier answers."""
    if not outcome.follows or outcome.note:
        return ""
    text = outcome.own_key
    if part.kind in ("number", "whole"):
        text = with_unit(figures.grouped(text), part.unit)
    return f"From your own {' and '.join(outcome.follows)}, this part comes to {text}."


def marks_text(marks: float) -> str:
    """Marks without a needless decimal."""
    return f"{marks:g}"


def earned_text(outcome: Outcome) -> str:
    """Marks of a part out of its full marks; a question mark while they are open."""
    return f"{'?' if outcome.marks is None else marks_text(outcome.marks)} / {outcome.of}"
