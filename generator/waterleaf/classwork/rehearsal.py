"""Invents answers for a class, so that marking can be seen and practised before the first real answer comes in.

The students of a rehearsal are of mixed skill: they get parts right, take known wrong turns, go on rightly from an
earlier wrong answer, forget a unit, leave something out. Nobody's real work is touched.
"""

import random
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from waterleaf.bank.family import Family, in_unit
from waterleaf.exercise import Exercise, PosedPart
from waterleaf.marking.issuebook import Issued, exercises_of
from waterleaf.marking.labels import label
from waterleaf.shown import key_text
from waterleaf.working.units import with_unit

# Shares of the invented class; no claim about real ones.
_HANDED_IN: Final = 0.93
_LEAST_SKILL, _MOST_SKILL = 0.4, 0.95
_TAKES_A_KNOWN_TURN: Final = 0.7
_LEAVES_IT_OUT: Final = 0.4  # of what is neither right nor a known turn
_WRITES_THE_UNIT: Final = 0.7
_SOMEHOW_WRONG: Final = 1.37


def invented_answers(
    issued: Issued, bank: Mapping[str, Family], seed: int
) -> Iterator[tuple[str, str, Mapping[str, str]]]:
    """Sheet code, student and answers by label for everybody who hands in; the same for the same seed."""
    for sheet in issued.sheets:
        chance = random.Random(f"rehearsal:{seed}:{sheet.code}").random
        skill = _LEAST_SKILL + (_MOST_SKILL - _LEAST_SKILL) * chance()
        if chance() > _HANDED_IN:
            continue
        answers: dict[str, str] = {}
        for place, exercise in enumerate(exercises_of(issued, sheet, bank)):
            for index, text in enumerate(_answers(exercise, skill, chance)):
                answers[label(place, index, len(exercise.parts))] = text
        yield sheet.code, sheet.student, answers


def _answers(exercise: Exercise, skill: float, chance: Any) -> Iterator[str]:
    """One answer a part; a part that follows from earlier ones is worked out from this student's own."""
    own: dict[str, Any] = dict(exercise.keys)
    for part in exercise.parts:
        spec = exercise.family.parts[part.name]
        if part.kind in ("choice", "order"):
            yield _letters(part, skill, chance)
            continue
        if chance() < skill:
            value = _from_own(exercise, part, own)
            own[part.name] = value
            yield _written(key_text(spec, in_unit(value, spec.file.unit, part.unit)), part, chance)
        elif part.slips and part.kind == "number" and chance() < _TAKES_A_KNOWN_TURN:
            slip = part.slips[int(chance() * len(part.slips))]
            own[part.name] = in_unit(slip.value, part.unit, spec.file.unit)
            yield _written(slip.text, part, chance)
        elif part.kind == "times" or chance() < _LEAVES_IT_OUT:
            yield ""
        else:
            yield f"{part.key * _SOMEHOW_WRONG:.4g}" if part.kind == "number" else str(round(part.key) + 1)


def _from_own(exercise: Exercise, part: PosedPart, own: Mapping[str, Any]) -> Any:
    """What follows from this student's earlier answers, or the key where they lead nowhere."""
    try:
        return exercise.family.parts[part.name].answer(own)
    except (ValueError, ArithmeticError, KeyError, TypeError, IndexError):
        return exercise.keys[part.name]


def _written(number: str, part: PosedPart, chance: Any) -> str:
    if not part.unit or part.kind == "times" or chance() > _WRITES_THE_UNIT:
        return number
    return with_unit(number, part.unit).replace("\N{NO-BREAK SPACE}", " ")


def _letters(part: PosedPart, skill: float, chance: Any) -> str:
    if chance() < skill:
        return part.key_text
    letters: Sequence[str] = [option.letter for option in part.options]
    if part.kind == "order":
        return ", ".join(reversed(part.key_text.split(", ")))
    return letters[int(chance() * len(letters))]
