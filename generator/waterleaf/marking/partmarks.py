"""Judges the answer to one part as marking needs it: the verdict, what of the unit is missing, and what is in doubt."""

import re
from dataclasses import dataclass, replace
from typing import Any, Final

from waterleaf.bank.family import PartSpec, in_unit
from waterleaf.exercise import Exercise, PosedPart, PosedSlip
from waterleaf.marking.choices import judge_letters, read_letters
from waterleaf.marking.expectations import expectations, letters_expected
from waterleaf.marking.expected import Expected, converted, inside, known_unit
from waterleaf.marking.judge import Verdict, judge
from waterleaf.marking.reading import Decimal, read_answer, read_clock
from waterleaf.marking.scheme import RIGHT
from waterleaf.marking.units import read_unit
from waterleaf.shown import clock, key_text
from waterleaf.working import figures

_LETTERS: Final = "ABCDEF"
_DAY: Final = 24.0
_SPACED_TIMES: Final = re.compile(r"\s*\d{1,2}[:.]\d{2}(\s+\d{1,2}[:.]\d{2})+\s*")


@dataclass(frozen=True, slots=True)
class Reader:
    """How answers of this assignment are read."""

    decimal: Decimal = "point"
    ask_unit: bool = False


@dataclass(frozen=True, slots=True)
class Judged:
    """What was made of one answer."""

    kind: str
    message: str
    echo: str = ""
    slip: PosedSlip | None = None
    unit_missing: bool = False
    doubt: str = ""


def judge_part(part: PosedPart, text: str, reader: Reader) -> Judged:
    """The verdict on what was written for a part; what a machine should not decide comes back as a doubt."""
    if not text.strip():
        return Judged("blank", "No answer was given.")
    if part.options:
        return _settled(part, judge_letters(text, letters_expected(part)))
    if part.kind == "times":
        return _judge_times(part, text)
    wanted = expectations(part)[0]
    expected = wanted if reader.ask_unit else replace(wanted, unit_needed=False)
    found = _judge_number(part, text, expected, reader.decimal)
    if found.kind not in RIGHT and re.search(r"\d[.,]\d", text):
        # 1,200 may be a thousand or one and a fifth. Where the other way to read it is right, a person must look.
        other: Decimal = "comma" if reader.decimal == "point" else "point"
        if judge(text, expected, other).kind in RIGHT:
            return Judged("doubtful", found.message, found.echo, doubt="right if its comma or point is read otherwise")
    return found


def _judge_number(part: PosedPart, text: str, expected: Expected, decimal: Decimal) -> Judged:
    verdict = judge(text, expected, decimal)
    reading = read_answer(text, decimal)
    bare = not reading.unit_text.strip() and expected.unit_needed
    value = reading.value
    if verdict.kind == "other_dimension" and value is not None and inside(value, expected.low, expected.high):
        # The unit measures something else, but the number would be right in the unit of the question.
        return Judged("wrong_unit", verdict.message, verdict.echo, unit_missing=True)
    return _settled(part, verdict, unit_missing=bare)


def _settled(part: PosedPart, verdict: Verdict, unit_missing: bool = False) -> Judged:
    if verdict.kind in ("unreadable", "unknown_unit"):
        return Judged("doubtful", verdict.message, verdict.echo, doubt=verdict.message)
    slip = next((slip for slip in part.slips if slip.say == verdict.message), None) if verdict.kind == "slip" else None
    if verdict.kind == "slip" and slip is None:
        option = next((option for option in part.options if option.say == verdict.message), None)
        if option is not None:
            slip = PosedSlip(f"took {option.letter}", option.say, option.see, option.letter, option.letter)
    return Judged(verdict.kind, verdict.message, verdict.echo, slip, unit_missing)


def split_times(text: str) -> list[str]:
    """The times of a timetable: between commas or semicolons, or between spaces where each is written as 6:30."""
    if _SPACED_TIMES.fullmatch(text):
        return text.split()
    return [piece.strip() for piece in re.split(r"[,;\n]| and ", text) if piece.strip()]


def _judge_times(part: PosedPart, text: str) -> Judged:
    """A timetable is right as a whole; it is a slip where each of its times is right or the same wrong turn's."""
    pieces = split_times(text)
    wanted = expectations(part)
    if len(pieces) != len(wanted):
        if any(read_clock(piece).fault for piece in pieces):
            return Judged("doubtful", "", doubt="this cannot be read as a timetable")
        return Judged("wrong", f"The timetable has {len(wanted)} times.")
    verdicts = [judge(piece, expected) for piece, expected in zip(pieces, wanted, strict=True)]
    echo = ", ".join(verdict.echo.removeprefix("read as ") for verdict in verdicts)
    unread = next((verdict for verdict in verdicts if verdict.kind == "unreadable"), None)
    if unread:
        return Judged("doubtful", unread.message, echo, doubt=unread.message)
    if all(verdict.kind == "right" for verdict in verdicts):
        return Judged("right", verdicts[0].message, f"read as {echo}")
    wrong = [verdict for verdict in verdicts if verdict.kind != "right"]
    if len({verdict.message for verdict in wrong}) == 1 and wrong[0].kind == "slip":
        return replace(_settled(part, wrong[0]), echo=f"read as {echo}")
    return Judged("wrong", "Not every time is right. Go back over your steps one by one.", f"read as {echo}")


def own_value(exercise: Exercise, part: PosedPart, text: str, judged: Judged, reader: Reader) -> Any | None:
    """The student's answer as the family's relations take it: in the part's metric unit, or as places of options."""
    spec = exercise.family.parts[part.name]
    if judged.kind in ("blank", "doubtful"):
        return None
    if part.options:
        shuffle = exercise.draw.shuffles[part.name]
        letters = read_letters(text)
        if any(_LETTERS.index(letter) >= len(shuffle) for letter in letters):
            return None
        places = tuple(shuffle[_LETTERS.index(letter)] for letter in letters)
        return places[0] if part.kind == "choice" else places
    if part.kind == "times":
        return _own_times(part, text)
    found = _own_number(part, text, judged, reader)
    return None if found is None else in_unit(found, part.unit, spec.file.unit)


def _own_times(part: PosedPart, text: str) -> tuple[float, ...] | None:
    found: list[float] = []
    for piece in split_times(text):
        value = read_clock(piece).value
        if value is None:
            return None
        while found and value < found[-1]:
            value += _DAY
        found.append(value)
    return tuple(found) if len(found) == len(part.key) else None


def _own_number(part: PosedPart, text: str, judged: Judged, reader: Reader) -> float | None:
    reading = read_answer(text, reader.decimal)
    unit = read_unit(reading.unit_text)
    if reading.value is None or unit.fault:
        return None
    wanted = known_unit(part.unit)
    # With a wrong unit behind a right number, the student goes on with the number.
    if not unit.shown or judged.kind in ("wrong_unit", "other_dimension"):
        return reading.value
    if unit.dims != wanted.dims:
        return None
    return converted(reading.value, unit, wanted.factor, wanted.offset)


def posed_again(exercise: Exercise, part: PosedPart, key: Any, known: dict[str, Any]) -> PosedPart:
    """The part with another key, worked out from a student's own earlier answers."""
    spec = exercise.family.parts[part.name]
    if part.options:
        shuffle = exercise.draw.shuffles[part.name]
        letters = {place: _LETTERS[position] for position, place in enumerate(shuffle)}
        text = letters[key] if part.kind == "choice" else ", ".join(letters[place] for place in key)
        return replace(part, key=text, key_text=text, low=text, high=text)
    shown = in_unit(key, spec.file.unit, part.unit)
    bands = [spec.tolerance.around(value) for value in (key if isinstance(key, tuple) else (key,))]
    lows = tuple(in_unit(low, spec.file.unit, part.unit) for low, _ in bands)
    highs = tuple(in_unit(high, spec.file.unit, part.unit) for _, high in bands)
    single = not isinstance(key, tuple)
    return replace(
        part, key=shown, key_text=_key_text(spec, shown), low=lows[0] if single else lows,
        high=highs[0] if single else highs, slips=_slips_again(exercise, part, spec, {**known, part.name: key}),
    )


def _key_text(spec: PartSpec, shown: Any) -> str:
    return ", ".join(clock(hours) for hours in shown) if spec.file.kind == "times" else key_text(spec, shown)


def _slips_again(
    exercise: Exercise, part: PosedPart, spec: PartSpec, known: dict[str, Any]
) -> tuple[PosedSlip, ...]:
    """The wrong turns of the part, from the student's own earlier answers."""
    family, known, found = exercise.family, dict(known), []
    for name, later in family.parts.items():  # a wrong turn may lead through a part that is asked later
        if name not in known:
            try:
                known[name] = later.answer(known)
            except (ValueError, ArithmeticError):
                known[name] = exercise.keys[name]
    for slip in family.slips:
        if slip.file.of != part.name:
            continue
        wrong = family.slip_value(slip, known, exercise.system)
        if wrong is None or isinstance(wrong, tuple | list) != (part.kind == "times"):
            continue
        value = in_unit(wrong, spec.file.unit, part.unit)
        text = figures.grouped(_key_text(spec, value))
        found.append(PosedSlip(slip.file.turn, slip.file.say, slip.file.see, value, text))
    return tuple(found)
