"""Every family of the bank can be marked: its own keys are right, and later parts follow from wrong earlier ones."""

from pathlib import Path
from typing import Any

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family, System, in_unit
from waterleaf.draw import draw
from waterleaf.exercise import Exercise, PosedPart, pose
from waterleaf.marking.labels import labelled
from waterleaf.marking.partmarks import Reader, posed_again
from waterleaf.marking.sheetmarks import Outcome, mark_sheet

BANK = load_bank(Path(__file__).parents[2] / "question_bank")
EVERY = [pytest.param(family, system, id=f"{key}-{system}") for key, family in BANK.items()
         for system in ("metric", "us")]
CHAINED = [case for case in EVERY if any(part.follows for part in pose(draw(case.values[0], 1)).parts)]


def marked(exercise: Exercise, answers: dict[str, str], *, ask_unit: bool = False) -> dict[str, Outcome]:
    """Outcomes by the names of the parts; answers come by name, too."""
    by_label = {item.label: answers[item.part.name] for item in labelled([exercise])}
    return {outcome.part: outcome for outcome in mark_sheet([exercise], by_label, Reader(ask_unit=ask_unit))}


@pytest.mark.parametrize(("family", "system"), EVERY)
def test_printed_keys_earn_full_marks(family: Family, system: System) -> None:
    """Three draws each, bare beside a printed unit, and as the key prints them where the unit is asked for."""
    for number in range(3):
        exercise = pose(draw(family, number), system)
        bare = marked(exercise, {part.name: part.key_text for part in exercise.parts})
        full = marked(
            exercise, {p.name: p.key_text if p.options else p.answer for p in exercise.parts}, ask_unit=True
        )
        for outcomes in (bare, full):
            kinds = {outcome.part: outcome.kind for outcome in outcomes.values()}
            assert kinds == dict.fromkeys(family.parts, "right"), exercise.draw.seed
        assert sum(outcome.marks or 0 for outcome in bare.values()) == exercise.marks


@pytest.mark.parametrize(("family", "system"), EVERY)
def test_printed_slips_are_recognised(family: Family, system: System) -> None:
    """The wrong number on the key, typed by a student, brings the sentence that belongs to it."""
    exercise = pose(draw(family, 1), system)
    key = {part.name: part.key_text for part in exercise.parts}
    for part in exercise.parts:
        for slip in part.slips:
            outcome = marked(exercise, key | {part.name: slip.text})[part.name]
            assert outcome.kind == "slip", (part.name, slip.text, outcome)


@pytest.mark.parametrize(("family", "system"), CHAINED)
def test_later_parts_follow_from_wrong_earlier_ones(family: Family, system: System) -> None:
    """Each part that others rest on is answered a quarter too high, and all later ones rightly from there."""
    exercise = pose(draw(family, 1), system)
    for wrong in exercise.parts:
        resting = [part for part in exercise.parts if wrong.name in part.follows]
        if not resting or wrong.kind not in ("number", "whole"):
            continue
        own, answers = own_way(exercise, wrong)
        outcomes = marked(exercise, answers)
        for part in resting:
            if part.name in own:
                found = outcomes[part.name]
                assert found.kind == "right", (exercise.draw.seed, wrong.name, part.name, answers, found)


def own_way(exercise: Exercise, wrong: PosedPart) -> tuple[set[str], dict[str, str]]:
    """Answers of a student who goes astray in one part and is careful otherwise, and the parts they could answer."""
    family = exercise.family
    known: dict[str, Any] = {name: value for name, value in exercise.keys.items() if name not in family.parts}
    answers: dict[str, str] = {}
    could: set[str] = set()
    for part in exercise.parts:
        spec = family.parts[part.name]
        if part.name == wrong.name:
            shown = float(f"{wrong.key * 1.25:.4g}") if part.kind == "number" else round(wrong.key * 1.25) + 1
            answers[part.name] = f"{shown:.15g}"
            known[part.name] = in_unit(float(shown), part.unit, spec.file.unit)
            continue
        try:
            known[part.name] = spec.answer(known)
            answers[part.name] = posed_again(exercise, part, known[part.name], known).key_text
            could.add(part.name)
        except (ValueError, ArithmeticError):  # nothing follows from such a value
            known[part.name] = exercise.keys[part.name]
            answers[part.name] = part.key_text
    return could, answers
