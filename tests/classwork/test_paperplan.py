"""Reading the plan of parallel papers."""

from pathlib import Path

import pytest

from papers_room import PLAN, plan_of
from waterleaf.faults import Faults

HEAD = "id: mid-term\ntitle: Mid-term test\nminutes: 45\n"


def faults_of(text: str, folder: Path) -> list[str]:
    """What is wrong with a plan, line by line."""
    with pytest.raises(Faults) as caught:
        plan_of(text, folder)
    return str(caught.value).splitlines()


def test_a_topic_offers_its_families_and_a_name_its_own(tmp_path: Path) -> None:
    """A topic with a level is filled from the bank; the other families of the kind are held ready."""
    _, slots = plan_of(PLAN, tmp_path)
    assert [slot.families[0].topic for slot in slots] == ["feed", "solids", "money"]
    assert slots[1].families[0].key == "solids/which_settler"
    assert {family.key for family in slots[2].families} == {"money/heads_to_pay", "money/what_an_hour_earns"}


def test_a_named_family_is_not_chosen_again_for_its_topic(tmp_path: Path) -> None:
    """A paper does not ask one family by name and by chance."""
    lines = "questions:\n  - family: money/heads_to_pay\n  - {topic: money, level: 1}\n"
    _, slots = plan_of(HEAD + lines, tmp_path)
    assert [slot.families[0].key for slot in slots] == ["money/heads_to_pay", "money/what_an_hour_earns"]


def test_another_seed_takes_another_family_of_the_topic(tmp_path: Path) -> None:
    """The choice among a topic's families goes by the seed."""
    lines = "questions:\n  - {topic: money, level: 1}\n"
    chosen = {plan_of(f"{HEAD}seed: {seed}\n{lines}", tmp_path)[1][0].families[0].key for seed in (1, 2)}
    assert len(chosen) == 2


@pytest.mark.parametrize(("line", "message"), [
    ("{family: feed/none}", "test-plan.yaml:5: family: 'feed/none' is not in the bank."),
    ("{topic: boats}", "test-plan.yaml:5: topic: 'boats' is not a topic of the bank. Topics are "),
    ("{topic: money, worth: 40}", "has worth 40. The bank has money/heads_to_pay level 1, worth 3"),
    ("{topic: solids, level: 2, steps: 99}", "no family of 'solids' has level 2, steps 99."),
    ("{family: feed/daily_feed, level: 2}", "choose among a topic's families. Leave them out here."),
    ("{family: feed/daily_feed, marks: {boat: {method: 1}}}", "feed/daily_feed has no part 'boat': feed, meal."),
    ("{family: feed/daily_feed, marks: {feed: {method: 0, result: 0, unit: 0}}}", "part 'feed' would be worth nothing"),
    ("{topic: feed, family: feed/daily_feed}", "give either family or topic, not both and not neither."),
    ("{topic: feed, colour: red}", "questions.0.colour: this field is not known here. Fields here are family, "),
])
def test_a_line_that_cannot_be_filled_is_told(line: str, message: str, tmp_path: Path) -> None:
    """Every fault says its line, its field and what the bank has."""
    found = faults_of(f"{HEAD}questions:\n  - {line}\n", tmp_path)
    assert len(found) == 1
    assert message in found[0]


def test_one_family_under_two_mark_schemes_is_refused(tmp_path: Path) -> None:
    """Asked twice, it is the same question and earns the same marks."""
    lines = "questions:\n  - family: feed/daily_feed\n  - {family: feed/daily_feed, marks: {meal: {method: 5}}}\n"
    assert "feed/daily_feed is asked before with other marks" in faults_of(HEAD + lines, tmp_path)[0]


@pytest.mark.parametrize(("field", "message"), [
    ("papers: 1", "papers: 1 is out of range. Give a number from 2 to 6."),
    ("date: 20 March", "date: '20 March' is not a date. Write it as 2026-03-20."),
    ("id: Mid Term", "at most 40 in all. Such as mid-term."),
    ("minutes: 0", "minutes: 0 is out of range. Give a number from 5 to 480."),
])
def test_a_field_out_of_bounds_is_refused(field: str, message: str, tmp_path: Path) -> None:
    """Numbers, dates and ids are held against what is accepted."""
    name = field.partition(":")[0]
    head = "\n".join(line for line in HEAD.splitlines() if not line.startswith(f"{name}:"))
    assert message in faults_of(f"{head}\n{field}\nquestions:\n  - topic: feed\n", tmp_path)[0]


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    """Two wrong lines, two messages."""
    assert len(faults_of(f"{HEAD}questions:\n  - topic: boats\n  - family: no/such\n", tmp_path)) == 2
