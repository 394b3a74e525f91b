"""The proof of a family finds what would harm a student, and says nothing about a sound one."""

from typing import Any

from sound_family import changed, family_of
from waterleaf.proof import check_family

# What is left in a day after a part of the feed has been given, worked out from the first answer.
MEALS: dict[str, Any] = {
    "ask": "How much is that a meal, in three meals?",
    "relation": "daily_feed",
    "with": {"bed_area": "feed / 1000", "feed_ratio": 60},
    "unit": "g/day",
    "figures": 3,
    "tolerance": "0.5 %",
    "because": "The scale shows grams.",
    "between": [10, 400],
}


def test_a_sound_family_has_no_faults() -> None:
    """Thirty draws in two systems, and nothing to say."""
    finding = check_family(family_of(changed("title", "Feed")), 30)
    assert dict(finding.faults) == {}
    assert finding.draws == finding.distinct == 30
    assert finding.uneven == {}


def test_too_few_values_for_a_class_are_found() -> None:
    """Nine areas at one ratio do not serve thirty students."""
    data = changed("given.feed_ratio", {"from": 100, "to": 100, "step": 1, "unit": "g/m^2/day"})
    data["given"]["bed_area"] |= {"from": 6, "to": 10}
    assert any("only 9 different draws" in fault for fault in check_family(family_of(data), 30).faults)


def test_a_story_that_is_hard_to_read_is_found() -> None:
    """Long words in a long sentence."""
    story = "Notwithstanding administrative responsibilities, {{ bed_area }} necessitates {{ feed_ratio }}."
    assert any("reads at grade" in fault for fault in check_family(family_of(changed("story", story)), 5).faults)


def test_a_word_in_no_dictionary_is_found() -> None:
    """A misspelling names the word."""
    finding = check_family(family_of(changed("slips.0.say", "Multiply the amountt.")), 5)
    assert list(finding.faults) == ["the word 'amountt' is in no dictionary"]


def test_a_slip_that_would_be_marked_right_leaves_no_draw() -> None:
    """A wrong turn within the accepted band is thrown back every time."""
    finding = check_family(family_of(changed("slips.0.value", "answer * 1.01")), 5)
    assert any("would be too near the answer" in fault for fault in finding.faults)


def test_a_condition_that_nothing_meets_is_named() -> None:
    """The condition itself stands in the fault."""
    data = changed("title", "Feed") | {"only_if": ["bed_area > 1000"]}
    assert any("'bed_area > 1000' does not hold" in fault for fault in check_family(family_of(data), 5).faults)


def test_an_answer_lost_by_rounding_an_earlier_one_is_found() -> None:
    """A first answer to one figure is too coarse for a second that is accepted to half a per cent."""
    data = changed("parts.feed.figures", 1)
    data["parts"]["meals"] = MEALS
    faults = check_family(family_of(data), 30).faults
    assert any(fault == "metric: meals comes out differently from what is printed" for fault in faults)
    fine = changed("parts.feed.figures", 6)
    fine["parts"]["meals"] = MEALS
    assert dict(check_family(family_of(fine), 30).faults) == {}


def test_answers_with_more_figures_for_some_are_reported() -> None:
    """A key with fixed decimals has three figures on one sheet and four on another."""
    data = changed("parts.feed.figures", None)
    data["parts"]["feed"]["decimals"] = 0
    assert check_family(family_of(data), 30).uneven["metric feed: figures"] == (3, 4)


def test_a_choice_that_is_always_the_same_is_found() -> None:
    """An answer that a class can learn by heart is no question."""
    data = changed("title", "Feed")
    data["parts"]["sign"] = {
        "ask": "Is it enough?", "kind": "choice", "reason": "It is.", "marks": {"method": 0, "result": 1, "unit": 0},
        "options": [{"text": "Yes", "right_if": "feed > 1"}, {"text": "No", "right_if": "feed <= 1"}],
    }
    faults = check_family(family_of(data), 30).faults
    assert list(faults) == ["sign: the same answer is right on 100% of the sheets"]
