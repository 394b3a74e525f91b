"""Tests of a panel agree with published results, and nobody is quoted beyond them."""

from pathlib import Path
from typing import Any

import pytest
from trial_plans import plan, write_plan

from waterleaf.commands.trial import plan_trial, rehearse_trial, reveal_truth, taste_trial
from waterleaf.trial.plan import Panel
from waterleaf.trial.tasting import Choice, Tasting, choose, like, rank
from waterleaf.trial.tasting_statement import make_tasting_statement, may_say

STOOLS = {  # Devore 2000, ergoStool: effort of nine people on four stools
    "T1": [12, 10, 7, 7, 8, 9, 8, 7, 9], "T2": [15, 14, 14, 11, 11, 11, 12, 11, 13],
    "T3": [12, 13, 13, 10, 8, 11, 12, 8, 10], "T4": [10, 12, 9, 9, 7, 10, 11, 7, 8],
}  # fmt: skip
TWO = ("soil", "raft")


def panel(**changes: Any) -> Panel:
    """A panel with some fields changed."""
    return Panel(**{"tests": ("triangle",), "assessors": 24, "products": TWO, **changes})


def session(part: Choice, **changes: Any) -> Tasting:
    """A session of one test."""
    made = plan(panel={"tests": [part.test], "assessors": 24, "products": list(TWO), **changes})
    assert made.panel is not None
    return Tasting(made, made.panel, (part,))


def answers(right: int, people: int) -> list[bool]:
    """So many right answers."""
    return [number < right for number in range(people)]


@pytest.mark.parametrize(
    ("test", "right", "people", "p", "share", "needed"),
    [("triangle", 14, 24, 0.01034067, 37.5, 13), ("triangle", 13, 24, 0.02844113, 31.25, 13),
     ("triangle", 15, 36, 0.18723005, 12.5, 18), ("duo_trio", 26, 40, 0.04034523, 30.0, 26),
     ("duo_trio", 21, 32, 0.05509208, 31.25, 22), ("preference", 15, 20, 0.04138947, 75.0, 15),
     ("preference", 14, 20, 0.11532, 70.0, 15)],
)  # fmt: skip
def test_choices_agree_with_published_rows(
    test: Any, right: int, people: int, p: float, share: float, needed: int
) -> None:
    """Rows D1, D2, D4, D6, D7, TS42 and TS43: exact p, share, and the smallest number that counts."""
    found = choose(test, TWO, answers(right, people), 5.0, None)
    assert found.p == pytest.approx(p, abs=6e-6)
    assert found.share is not None and found.share[0] == pytest.approx(share)
    assert (found.needed, found.found) == (needed, right >= needed)


def test_the_interval_of_discriminators_is_the_exact_one() -> None:
    """D1: limits of the right answers 0.366431 and 0.778903, less the lucky guesses."""
    found = choose("triangle", TWO, answers(14, 24), 5.0, None).share
    assert found is not None
    assert found[1:] == pytest.approx((100 * (1.5 * 0.366431 - 0.5), 100 * (1.5 * 0.778903 - 0.5)), abs=2e-4)


def test_similarity_is_tested_only_where_it_was_planned() -> None:
    """Sixty people and 30 %: 25 right show it, 26 do not (row TX11); without a plan nothing is called similar."""
    shown, missed = (choose("triangle", TWO, answers(right, 60), 5.0, 30.0) for right in (25, 26))
    assert shown.similar is not None and (shown.similar.most, shown.similar.shown) == (25, True)
    assert missed.similar is not None and not missed.similar.shown
    unplanned = choose("triangle", TWO, answers(10, 60), 5.0, None)
    assert unplanned.similar is None
    assert not any("similar" in line for line in may_say(unplanned, session(unplanned)))


def test_a_test_of_difference_never_says_better_nor_the_same() -> None:
    """Whatever came out, the sentence is about telling apart."""
    for right in (0, 8, 12, 13, 24):
        part = choose("triangle", TWO, answers(right, 24), 5.0, None)
        statement = make_tasting_statement(session(part))
        said = " ".join(statement.may)
        assert ("told soil and raft apart" in said) == (right >= 13)
        assert ("not proof that they are the same" in said) == (right < 13)
        assert not any(word in said for word in ("better, ", "tastes", "sweeter", "no difference", "similar"))
        assert any("tastes better" in line for line in statement.may_not)


def test_two_answers_are_not_a_panel() -> None:
    """Too few to test, said so."""
    part = choose("triangle", TWO, answers(2, 2), 5.0, None)
    assert part.p is None
    assert may_say(part, session(part)) == ["Triangle test: too few usable answers to test anything."]


def test_rankings_agree_with_zar() -> None:
    """Row TU04: rank sums 19, 8, 8, 15 of five; W 0.712; least differences 8.00152 and 10.48803."""
    rows = [[3.0, 2, 1, 4], [4, 2, 1, 3], [4, 1, 2, 3], [4, 2, 1, 3], [4, 1, 3, 2]]
    found = rank("abcd", rows, 5.0)
    assert found.sums == (19, 8, 8, 15)
    assert "10.68" in found.text
    assert found.agreement == pytest.approx(0.712, abs=1e-9)
    assert (found.single, found.among_all) == pytest.approx((8.00152, 10.48803), abs=1e-4)
    assert [pair.found for pair in found.pairs] == [True, True, False, False, False, False]


def test_marks_with_people_as_blocks_agree_with_the_stools() -> None:
    """Row TU03: F 22.35564054, p 3.9346e-07; Friedman with ties beside it; who marked one thing drops out."""
    made = panel(tests=("liking",), products=tuple(STOOLS))
    given = [(person, {name: marks[person] for name, marks in STOOLS.items()}) for person in range(9)]
    found = like(made, [*given, (9, {"T1": 5})], 5.0)
    assert found.fit is not None and found.people == 9
    assert found.fit.table[0].f_ratio == pytest.approx(22.35564054, rel=1e-8)
    assert found.p == pytest.approx(3.9346e-07, rel=1e-4)
    assert found.fit.table[-2].freedom == 24
    assert found.agree and "22.69" in found.rank_text


def test_everybody_giving_the_same_mark_is_not_a_result() -> None:
    """Nothing varies, nothing is tested."""
    made = panel(tests=("liking",))
    assert like(made, [(person, {"soil": 6, "raft": 6}) for person in range(8)], 5.0).p is None


@pytest.mark.parametrize("products", [["soil", "raft"], ["soil", "hydroponic", "raft"]])
def test_a_panel_goes_the_whole_way(products: list[str], tmp_path: Path) -> None:
    """Plan, rehearsal, report as page and PDF, truth; no answer file holds a product, no page says more than it may."""
    tests = ["triangle", "duo_trio", "preference"] * (len(products) == 2) + ["ranking", "liking"]
    asked = {"tests": tests, "assessors": 12, "products": products}
    path = write_plan(tmp_path / "p.yaml", panel=asked)
    assert "the chance to find it is" in plan_trial(path, freeze_it=True, show_layout=False)
    rehearse_trial(path, 3, None)
    data = tmp_path / "p-rehearsal-answers.csv"
    assert not any(product in data.read_text(encoding="utf-8-sig") for product in products)
    said, clean = taste_trial(path, data, tmp_path / "r.html", tmp_path / "r.pdf")
    page = (tmp_path / "r.html").read_text(encoding="utf-8")
    assert clean and said.startswith("May be said:")
    assert "every answer below is invented" in page
    assert page.count("<figure>") == (4 if len(products) == 2 else 1)
    assert (tmp_path / "r.pdf").read_bytes()[:4] == b"%PDF"
    assert "truly tell the products apart" in reveal_truth(path, None)
    write_plan(path, panel={**asked, "share_to_find": 60})
    _, clean = taste_trial(path, data, tmp_path / "r.html", None)
    page = (tmp_path / "r.html").read_text(encoding="utf-8")
    assert not clean and "panel.share_to_find was 40.0 when frozen and is 60.0 now." in page
