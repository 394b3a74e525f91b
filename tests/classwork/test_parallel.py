"""Parallel papers match, question by question, whatever the seed."""

from dataclasses import replace

import pytest

from papers_room import BANK, KEYS, PLAN, SECRET, papers_of, plan_of
from waterleaf.classwork.likeness import (
    FIGURES_APART,
    LARGEST_RATIO,
    copyable,
    drawn_numbers,
    figures_carried,
    ratio,
    shape_of,
    too_easy,
    unlike,
)
from waterleaf.classwork.matching import HEADINGS, as_text, matches
from waterleaf.classwork.paperplan import PaperPlan, Slot
from waterleaf.classwork.parallel import parallel_papers
from waterleaf.draw import draw
from waterleaf.exercise import Exercise, pose
from waterleaf.faults import Faults

ASKED = ["feed/daily_feed", "money/heads_to_pay", "sugar/cool_juice"]


def at(family: str, **values: float) -> Exercise:
    """The first draw of a family that has these numbers, posed."""
    for number in range(4000):
        found = draw(BANK[family], number)
        if all(found.values[name] == value for name, value in values.items()):
            return pose(found)
    raise AssertionError(f"no draw of {family} has {values}")


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("system", ["metric", "us"])
def test_papers_match_in_all_that_makes_a_question(seed: int, system: str) -> None:
    """Same family, marks, steps, changes of unit and figures; numbers within bounds of each other."""
    first, *others = papers_of(ASKED, seed, 3, system)
    for other in others:
        assert other.questions == first.questions
        for one, two in zip(first.exercises, other.exercises, strict=True):
            assert shape_of(one) == shape_of(two)
            for name, text in drawn_numbers(one).items():
                assert abs(figures_carried(text) - figures_carried(drawn_numbers(two)[name])) <= FIGURES_APART
            assert all(ratio(a, b) <= LARGEST_RATIO for a, b in zip(one.parts, two.parts, strict=True))


@pytest.mark.parametrize("seed", range(12))
def test_no_answer_of_one_paper_is_right_on_another(seed: int) -> None:
    """Where the family has numbers enough, copying from a neighbour earns nothing."""
    papers = papers_of(ASKED, seed, 4)
    for index, one in enumerate(papers):
        for other in papers[index + 1 :]:
            assert not [copyable(a, b) for a, b in zip(one.exercises, other.exercises, strict=True) if copyable(a, b)]


def test_the_same_plan_gives_the_same_papers() -> None:
    """Nothing but seed and secret decides."""
    assert [paper.recorded for paper in papers_of(ASKED, 5)] == [paper.recorded for paper in papers_of(ASKED, 5)]
    assert papers_of(ASKED, 5)[0].recorded != papers_of(ASKED, 6)[0].recorded


def test_a_family_asked_twice_has_other_numbers_each_time() -> None:
    """On one paper and across papers, no draw stands twice."""
    papers = papers_of(["feed/daily_feed"] * 3, 2, 3)
    draws = [exercise.draw.fingerprint for paper in papers for exercise in paper.exercises]
    assert len(set(draws)) == 9


def test_a_varied_question_asks_another_family_of_the_same_work(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Marks, steps and changes of unit stay; the table says what differs."""
    plan, slots = plan_of(PLAN, tmp_path_factory.mktemp("plan"))
    papers = parallel_papers(plan, slots, SECRET, "metric")
    families = [paper.exercises[2].family.key for paper in papers]
    assert set(families) == {"money/heads_to_pay", "money/what_an_hour_earns"}
    assert len({tuple(shape.work for shape in shape_of(paper.exercises[2])) for paper in papers}) == 1
    differences = matches(papers)[2].differences
    assert any(f"the family is {families[1]}" in difference for difference in differences)
    assert any("decimal" in difference for difference in differences)


def test_a_factor_of_ten_is_drawn_again() -> None:
    """It takes the sum away from one paper."""
    assert too_easy(at("feed/daily_feed", bed_area=10.0)).startswith("bed_area would be 10")
    assert not too_easy(at("feed/daily_feed", bed_area=23.5, feed_ratio=74.0))


def test_a_round_number_does_not_stand_beside_a_long_one() -> None:
    """20 on one paper and 23.5 on the other is not the same work."""
    reason = unlike(at("feed/daily_feed", bed_area=20.0), at("feed/daily_feed", bed_area=23.5))
    assert reason.startswith("bed_area has more figures on one paper")


def test_an_answer_many_times_as_large_is_not_alike() -> None:
    """Sizes stay within a factor."""
    small, large = at("feed/daily_feed", bed_area=6.5), at("feed/daily_feed", bed_area=58.5)
    assert "times as large" in unlike(small, large)


def test_other_work_is_not_alike() -> None:
    """A part more, or a mark more, is another question."""
    assert "differ" in unlike(at("feed/daily_feed"), at("money/heads_to_pay"))


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_kind_of_question_can_be_made_parallel(key: str, system: str) -> None:
    """Numbers, timetables and choices alike."""
    papers = papers_of([key], 3, 2, system)
    assert not unlike(papers[0].exercises[0], papers[1].exercises[0])


def test_too_few_draws_are_told_with_the_line_of_the_plan() -> None:
    """The fault says where, which family, and what to do."""
    data = BANK["feed/daily_feed"].file.model_dump(by_alias=True)
    for given in data["given"].values():
        given["to"] = given["from"]
    narrow = type(BANK["feed/daily_feed"].file).model_validate(data)
    family = replace(BANK["feed/daily_feed"], file=narrow)
    plan = PaperPlan(id="t", title="T", minutes=30, questions=[{"family": family.key}])
    with pytest.raises(Faults, match=r"^plan:7: feed/daily_feed: no 2 draws were found that are alike"):
        parallel_papers(plan, [Slot((family,), {}, False, "plan:7")], SECRET, "metric")


def test_the_table_says_all_that_was_matched() -> None:
    """A row has a cell under each heading, and the terminal says that nothing differs."""
    papers = papers_of(ASKED, 4)
    found = matches(papers)
    assert all(len(match.row) == len(HEADINGS) for match in found)
    assert found[0].row[:7] == [1, "feed", 2, "feed/daily_feed", "3+3 = 6", "1+1 = 2", 0]
    assert "no difference" in as_text(found, papers)[-1]


def test_answers_that_cannot_be_told_apart_are_named() -> None:
    """Five papers and four letters: where a letter stands on two papers, the table says so."""
    papers = papers_of(["solids/which_settler"], 1, 5)
    letters = [paper.exercises[0].parts[-1].key_text for paper in papers]
    assert len(set(letters)) < 5
    assert any("has answers that overlap on" in difference for difference in matches(papers)[0].differences)
