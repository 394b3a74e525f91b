"""What goes on paper: exercises as the plain data that the templates print."""

import base64
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final, Literal

from waterleaf import __version__
from waterleaf.bank.family import System
from waterleaf.exercise import Exercise, PosedPart
from waterleaf.marking.checklink import CODE_LETTERS
from waterleaf.sheets.qr import qr_code
from waterleaf.shown import clock
from waterleaf.working import figures
from waterleaf.working.notation import Piece
from waterleaf.working.units import behind, label, money, with_unit

PaperSize = Literal["a4", "letter"]
_PAPERS: Final = {"a4": ("a4", "GB"), "letter": ("us-letter", "US")}
# Letters and digits that cannot be taken for one another in handwriting.
_CODE_ALPHABET: Final = str.maketrans("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567", CODE_LETTERS)


@dataclass(frozen=True, slots=True)
class Style:
    """How sheets look: school, title, paper, units, size of type and of the room to work."""

    school: str = "Ostrel Quay College"
    title: str = "Worksheet"
    paper: PaperSize = "a4"
    system: System = "metric"
    size: str = "11pt"
    room: str = "26mm"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One student's sheet: its exercises and, where known, whose it is."""

    exercises: tuple[Exercise, ...]
    name: str = ""
    checks: tuple[str, ...] = ()  # links of its self-check

    @property
    def seeds(self) -> str:
        """The seeds of all draws on the sheet: enough to make it again."""
        return ", ".join(exercise.draw.seed for exercise in self.exercises)

    @property
    def code(self) -> str:
        """A short code that is the same for the same draws and units, to match a sheet with its key."""
        system = self.exercises[0].system if self.exercises else ""
        return short_code(f"{self.seeds} {system}")


def short_code(text: str) -> str:
    """Eight letters and digits that stand for a text, in two groups of four."""
    digest = hashlib.blake2b(text.encode(), digest_size=5).digest()
    letters = base64.b32encode(digest).decode().translate(_CODE_ALPHABET)
    return f"{letters[:4]}-{letters[4:]}"


def worksheets(sheets: Iterable[Sheet], style: Style) -> dict[str, Any]:
    """Data of a packet of worksheets."""
    return {
        **packet_head(style, "Worksheet"),
        "sheets": [
            {
                "code": sheet.code,
                "name": sheet.name,
                "marks": sum(exercise.marks for exercise in sheet.exercises),
                "items": [_question(exercise) for exercise in sheet.exercises],
                "checks": _checks(sheet),
            }
            for sheet in sheets
        ],
    }


def _checks(sheet: Sheet) -> list[dict[str, Any]]:
    """The QR codes of a sheet, each with what it opens in words."""
    count = len(sheet.checks)
    return [
        {
            **qr_code(link),
            "alt": f"QR code that opens the self-check of sheet {sheet.code}"
            + (f", part {place} of {count}" if count > 1 else ""),
            "page": link.partition("#")[0],
            "part": f"Part {place} of {count}." if count > 1 else "",
        }
        for place, link in enumerate(sheet.checks, start=1)
    ]


def keys(sheets: Iterable[Sheet], style: Style) -> dict[str, Any]:
    """Data of a packet of keys, in the order of the sheets."""
    return {
        **packet_head(style, "Key"),
        "sheets": [
            {"code": sheet.code, "seed": sheet.seeds, "items": [_solution(exercise) for exercise in sheet.exercises]}
            for sheet in sheets
        ],
    }


def system_in_words(system: System) -> str:
    """A system of units as people call it."""
    return "metric" if system == "metric" else "US customary"


def counted(number: int, thing: str) -> str:
    """So many of a thing: "1 sheet", "2 sheets"."""
    return f"{number} {thing}{'' if number == 1 else 's'}"


def packet_head(style: Style, kind: str) -> dict[str, Any]:
    """What every document of a packet says at its head and foot."""
    paper, region = _PAPERS[style.paper]
    return {
        "title": style.title,
        "school": style.school,
        "kind": kind,
        "paper": paper,
        "region": region,
        "size": style.size,
        "room": style.room,
        "version": __version__,
        "system": system_in_words(style.system),
        "footer": f"Waterleaf {__version__}",
    }


def _question(exercise: Exercise) -> dict[str, Any]:
    return {
        "title": exercise.family.file.title,
        "story": exercise.story,
        "caution": exercise.caution,
        "table": readings_table(exercise),
        "parts": [
            {
                "name": part.name,
                "ask": part.ask,
                "kind": part.kind,
                "marks": part.marks.total,
                "unit": label(part.unit) if part.kind in ("number", "whole") else "",
                "options": [[option.letter, option.text] for option in part.options],
                "boxed": _in_answer_table(exercise, part.name),
            }
            for part in exercise.parts
        ],
        "answer_table": _answer_table(exercise),
    }


def _in_answer_table(exercise: Exercise, name: str) -> bool:
    return bool(exercise.answer_table and any(name in cells for cells in exercise.answer_table.rows.values()))


def _answer_table(exercise: Exercise) -> dict[str, Any] | None:
    """The empty table that the student fills in; each cell says by its letter which question it answers."""
    table = exercise.answer_table
    if table is None:
        return None
    open_cells = {
        part.name: {"letter": chr(97 + place), "unit": label(part.unit)} for place, part in enumerate(exercise.parts)
    }
    rows = [
        {"name": name, "cells": [open_cells[cell] if cell else None for cell in cells]}
        for name, cells in table.rows.items()
    ]
    return {"caption": table.caption, "headings": list(table.headings), "rows": rows}


def _solution(exercise: Exercise) -> dict[str, Any]:
    return {
        "title": exercise.family.file.title,
        "story": exercise.story,
        "table": readings_table(exercise),
        "parts": [_solved(exercise, part) for part in exercise.parts],
    }


def readings_table(exercise: Exercise) -> dict[str, Any] | None:
    """The readings of an exercise as a table; None where it has none."""
    table = exercise.table
    if table is None:
        return None
    return {
        "caption": table.caption,
        "headings": list(table.headings),
        "rows": [list(row) for row in table.rows],
    }


def _solved(exercise: Exercise, part: PosedPart) -> dict[str, Any]:
    return {
        "ask": part.ask,
        "answer": part.answer,
        "accepted": accepted(part),
        "reason": part.reason,
        "options": [[option.letter, option.text] for option in part.options],
        "given": [
            {"symbol": formula_data(piece), "value": value, "meaning": meaning} for piece, value, meaning in part.given
        ],
        "working": [{"piece": formula_data(line.piece), "unit": behind(line.unit)} for line in part.working],
        "slip_unit": label(part.unit) if part.kind in ("number", "whole") and part.unit != "degree" else "",
        "slips": [{"text": slip.text, "turn": slip.turn} for slip in part.slips],
        "marks": _mark_scheme(exercise, part),
    }


def accepted(part: PosedPart) -> str:
    """What counts as right, and why, in a sentence; nothing where only the key itself does."""
    if part.kind in ("choice", "order"):
        return ""
    if part.low == part.high:
        return f"accepted only so. {part.because}"
    low, high = band_texts(part)
    return f"accepted from {low} to {high}. {part.because}"


def _mark_scheme(exercise: Exercise, part: PosedPart) -> str:
    """Marks for method, result and unit, and what earns marks after an earlier slip."""
    marks = [
        f"{kind} {number}"
        for kind, number in (("method", part.marks.method), ("result", part.marks.result), ("unit", part.marks.unit))
        if number
    ]
    text = f"Marks: {', '.join(marks)}."
    letters = {p.name: f"({chr(97 + place)})" for place, p in enumerate(exercise.parts)}
    if part.follows:
        named = " and ".join(letters[name] for name in part.follows)
        text += f" What follows rightly from the student's own answer to {named} earns full marks."
    return text


def band_texts(part: PosedPart) -> tuple[str, str]:
    """Ends of the accepted band as printed, one figure finer than the key and with the unit on the upper one."""
    if part.kind == "times":
        return ", ".join(clock(low) for low in part.low), ", ".join(clock(high) for high in part.high)
    low, high = (figures.grouped(figures.plain(end, part.figures + 1)) for end in (part.low, part.high))
    # Money carries its sign in front of each number; any other unit stands once, at the end.
    return money(low) if part.unit.startswith("dollar") else low, with_unit(high, part.unit)


def formula_data(piece: Piece) -> dict[str, str]:
    """A formula for the templates, with its spoken words."""
    return {"typst": piece.typst, "spoken": piece.spoken}
