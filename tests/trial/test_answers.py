"""Answers of a panel are held against the serving plan: all is named, nothing lost, the file stays as it is."""

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from trial_plans import plan

from waterleaf.faults import Faults
from waterleaf.trial.answers import Answers, take_in_answers
from waterleaf.trial.frozen import fingerprint, short
from waterleaf.trial.layout import lay_out
from waterleaf.trial.panel import ANSWER_HEADINGS, serve, write_answers
from waterleaf.trial.tasting_rehearse import invent_answers, no_difference

PANEL: dict[str, Any] = {
    "tests": ["triangle", "duo_trio", "preference", "ranking", "liking"], "assessors": 12, "products": ["soil", "raft"]
}  # fmt: skip
PLAN = plan(panel=PANEL)
UNITS = lay_out(PLAN)
MARK = short(fingerprint(PLAN, UNITS))
assert PLAN.panel is not None
CUPS = serve(PLAN, PLAN.panel)
FILLED = invent_answers(PLAN, PLAN.panel, CUPS, no_difference(PLAN.panel), 1)
ROWS = list[dict[str, str]]
RANKING, LIKING = 36, 60


def taken(tmp_path: Path, spoil: Callable[[ROWS], object]) -> Answers:
    """What comes of a filled table after somebody has spoilt it; the file is not touched."""
    path = write_answers(tmp_path, "a", MARK, CUPS, FILLED)[0]
    with path.open(encoding="utf-8-sig", newline="") as handle:
        rows = list(csv.DictReader(handle))
    assert rows[RANKING]["test"] == "ranking" and rows[LIKING]["test"] == "liking"
    spoil(rows)
    with path.open("w", encoding="utf-8", newline="") as handle:
        writer = csv.DictWriter(handle, ANSWER_HEADINGS)
        writer.writeheader()
        writer.writerows(rows)
    before = path.read_bytes()
    found = take_in_answers(PLAN, UNITS, path)
    assert path.read_bytes() == before
    return found


def test_a_clean_table_gives_every_answer(tmp_path: Path) -> None:
    """Twelve answers in every test, from CSV and spreadsheet alike; right is the odd cup, or the one like R."""
    answers = taken(tmp_path, lambda rows: None)
    assert answers.findings == ()
    assert {test: len(given) for test, given in {**answers.chosen, **answers.numbers}.items()} == dict.fromkeys(
        PANEL["tests"], 12
    )
    assert take_in_answers(PLAN, UNITS, tmp_path / "a.xlsx").numbers == answers.numbers
    for one in CUPS:
        if one.test == "triangle":
            product, right = answers.chosen["triangle"][one.assessor]
            assert right == (one.products.count(product) == 1)
        if one.test == "duo_trio":
            product, right = answers.chosen["duo_trio"][one.assessor]
            assert right == (product == one.reference)


@pytest.mark.parametrize(
    ("row", "cells", "message"),
    [
        (0, {"assessor": "13"}, "no assessor 13: the serving plan has 1 to 12"),
        (0, {"assessor": "Ann"}, "never a name"),
        (0, {"test": "tetrad"}, "no test tetrad"),
        (0, {"trial": "deadbeef"}, "mark of the trial"),
        (0, {"answer": "no difference"}, "has to guess"),
        (0, {"answer": "99"}, "is no cup of assessor 1"),
        (0, {"answer": str(CUPS[1].codes[0])}, "belongs to assessor 2, triangle test"),
        (0, {"cups": " ".join(map(str, CUPS[1].codes))}, "are not what assessor 1 was served"),
        (RANKING, {"answer": "first"}, "whole number from 1 to 2"),
        (RANKING, {"answer": "3"}, "whole number from 1 to 2"),
        (LIKING, {"answer": "10"}, "whole number from 1 to 9"),
        (LIKING, {"answer": "6.5"}, "whole number from 1 to 9"),
        (LIKING, {"answer": "nice"}, "the words of the answer sheet"),
    ],
)
def test_each_kind_of_bad_answer_is_held(row: int, cells: dict[str, str], message: str, tmp_path: Path) -> None:
    """Held back with its line; all others stay."""
    answers = taken(tmp_path, lambda rows: rows[row].update(cells))
    held = [finding for finding in answers.findings if finding.kind == "held"]
    assert any(message in finding.message and finding.where == f"a.csv:{row + 2}" for finding in held)
    assert sum(map(len, answers.chosen.values())) == (35 if row == 0 else 36)


def test_ties_in_a_ranking_are_not_allowed(tmp_path: Path) -> None:
    """Two first places: the ranking of that person is held, with both lines."""
    answers = taken(tmp_path, lambda rows: [rows[RANKING + n].update(answer="1") for n in (0, 1)])
    assert len(answers.numbers["ranking"]) == 11
    assert any("ties are not allowed" in finding.message for finding in answers.findings)


def test_missing_and_doubled_answers_are_told(tmp_path: Path) -> None:
    """A blank is missing; the same row twice counts once; two different answers count not at all."""
    blank = taken(tmp_path, lambda rows: rows[0].update(answer=""))
    assert [finding.message for finding in blank.findings] == ["Triangle test: no usable answer of 1 assessor (1)."]
    twice = taken(tmp_path, lambda rows: rows.append(dict(rows[0])))
    assert len(twice.chosen["triangle"]) == 12 and twice.count("flagged") == 1
    other = next(
        str(code) for code in CUPS[0].codes if str(code) != FILLED[1, "triangle", " ".join(map(str, CUPS[0].codes))]
    )
    both = taken(tmp_path, lambda rows: rows.append({**rows[0], "answer": other}))
    assert len(both.chosen["triangle"]) == 11 and both.count("held") == 1


def test_marks_may_stand_in_the_words_of_the_sheet(tmp_path: Path) -> None:
    """Like very much is 8."""
    answers = taken(tmp_path, lambda rows: rows[LIKING].update(answer="Like very much"))
    assert 8 in answers.numbers["liking"][1].values()


def test_a_table_of_another_trial_or_of_readings_is_refused(tmp_path: Path) -> None:
    """Another mark, other columns, or a plan without a panel."""
    path = write_answers(tmp_path, "b", "deadbeef", CUPS, FILLED)[0]
    with pytest.raises(Faults, match="belongs to another trial"):
        take_in_answers(PLAN, UNITS, path)
    path.write_text("trial,code,reading,value\nx,y,1,2\n", encoding="utf-8")
    with pytest.raises(Faults, match="no heading with the columns trial, assessor"):
        take_in_answers(PLAN, UNITS, path)
    with pytest.raises(Faults, match="has no panel"):
        take_in_answers(plan(), UNITS, path)
