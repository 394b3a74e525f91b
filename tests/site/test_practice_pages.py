"""Practice on the pages: hint before working, what is kept, the record, and storage that is refused or spoilt."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from on_a_page import NAME, answer, drawn, kept, middle

pytestmark = pytest.mark.browser
PAGE, KEY = "feed/daily_feed.html", "feed/daily_feed"
REFUSED = "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });"
FULL = "Storage.prototype.setItem = function () { throw new DOMException('full', 'QuotaExceededError'); };"


def right(page: Any, question: int = 0, index: int = 0) -> str:
    """Type the right answer to a question of the daily feed."""
    unit = ("g/day", "g/meal")[question]
    expected = drawn(page, KEY, index=index)["parts"][question]["expected"][0]
    return answer(page, f"{middle(expected):.1f} {unit}", question)


def go(page: Any, site: Path, path: str) -> None:
    """Open another page of the site in the same browser window."""
    page.goto((site / path).as_uri())


def test_the_hint_is_offered_before_the_working(opened: Any) -> None:
    """Untried, the first press brings the offer, and the focus goes there; the hint then leads on to the working."""
    page = opened(PAGE)
    section = page.locator(".wl-question").first
    section.get_by_role("button", name="Show the working").press("Enter")
    expect(section.locator(".wl-offer")).to_be_focused()
    section.get_by_role("button", name="Show the hint first").press("Enter")
    expect(section.locator(".wl-hint")).to_be_focused()
    section.get_by_role("button", name="Show the working").press("Enter")
    expect(section.locator(".wl-working")).to_be_focused()


def test_the_way_straight_to_the_working_is_one_press(opened: Any) -> None:
    """Whoever wants the working at once gets it from the offer."""
    page = opened(PAGE)
    section = page.locator(".wl-question").first
    section.get_by_role("button", name="Show the working").click()
    section.get_by_role("button", name="Go straight to the working").press("Enter")
    expect(section.locator(".wl-working")).to_be_focused()


def test_after_an_attempt_the_working_comes_at_once(opened: Any) -> None:
    """A wrong answer earns the working without another question."""
    page = opened(PAGE)
    answer(page, "3 g/day")
    page.get_by_role("button", name="Show the working").first.click()
    expect(page.locator(".wl-working")).to_be_focused()


def test_right_answers_are_kept_and_told_in_one_line(opened: Any) -> None:
    """Both questions right at once: two of two, and back in three days."""
    page = opened(PAGE, day="2026-03-02")
    expect(page.locator(".wl-kept")).to_contain_text("Nothing is sent anywhere")
    right(page, 0)
    right(page, 1)
    expect(page.locator(".wl-kept")).to_contain_text("2 questions answered, 2 right first time")
    expect(page.locator(".wl-kept")).to_contain_text("in 3 days")
    record = kept(page)["families"][KEY]
    assert (record["ends"], record["rung"], record["verdicts"]) == (1, 3, ["right", "right"])


def test_an_answer_without_its_unit_or_without_sense_costs_nothing(opened: Any) -> None:
    """After both, the right answer still counts as right first time."""
    page = opened(PAGE)
    answer(page, "a lot")
    assert kept(page) is None
    answer(page, f"{middle(drawn(page, KEY)['parts'][0]['expected'][0]):.1f}")
    right(page)
    assert (kept(page)["families"][KEY]["asked"], kept(page)["families"][KEY]["first"]) == (1, 1)


def test_help_before_the_answer_is_a_miss(opened: Any) -> None:
    """With a hint, the answer is right but not right first time, and the exercise comes back soon."""
    page = opened(PAGE)
    page.get_by_role("button", name="Give me a hint").first.click()
    right(page)
    record = kept(page)["families"][KEY]
    assert (record["asked"], record["first"], record["rung"], record["ends"]) == (1, 0, 0, 1)


def test_a_right_answer_counts_once(opened: Any) -> None:
    """Pressing Enter again, or looking at the working afterwards, changes nothing."""
    page = opened(PAGE)
    for _ in range(3):
        right(page)
    page.get_by_role("button", name="Show the working").first.click()
    record = kept(page)["families"][KEY]
    assert (record["checks"], record["asked"], record["ends"]) == (1, 1, 0)


def test_a_wrong_turn_is_kept_in_words(opened: Any, site: Path) -> None:
    """What the judge said of it stands on the overview."""
    page = opened(PAGE)
    slip = sum(drawn(page, KEY)["parts"][0]["expected"][0]["slips"][2]) / 2
    answer(page, f"{slip:.0f} g/day")
    go(page, site, "practice/record.html")
    expect(page.locator("#wl-overview")).to_contain_text("1 time: ")
    expect(page.locator("#wl-overview")).to_contain_text("looks like the feed for a week")


def test_the_next_visit_brings_other_numbers(opened: Any) -> None:
    """A set that was decided is not shown again at once; an untouched one is."""
    page = opened(PAGE)
    page.reload()
    expect(page.locator(".wl-practice")).to_contain_text("Set 1 of 50")
    answer(page, "3 g/day")
    page.reload()
    expect(page.locator(".wl-practice")).to_contain_text("Set 2 of 50")


def test_all_fifty_sets_come_round(opened: Any) -> None:
    """The step from one file of sets to the other, and from the last set to the first, goes unnoticed."""
    page = opened(PAGE)
    for number, following in ((25, 26), (50, 1)):
        page.evaluate(
            "([key, shown]) => { Waterleaf.memory.change((s, day) => Waterleaf.progress.passed(s, key, shown, day)); }",
            [KEY, number - 2],
        )
        page.reload()
        expect(page.locator(".wl-practice")).to_contain_text(f"Set {number} of 50")
        story = page.locator(".wl-story").inner_text()
        page.get_by_role("button", name="Other numbers").click()
        expect(page.locator(".wl-practice")).to_contain_text(f"Set {following} of 50")
        assert page.locator(".wl-story").inner_text() != story


def test_units_are_remembered_on_every_page(opened: Any, site: Path) -> None:
    """US customary units chosen on one page hold on the next, and in a round."""
    page = opened(PAGE)
    page.get_by_label("US customary").check()
    go(page, site, "solids/flush_times.html")
    expect(page.get_by_label("US customary")).to_be_checked()
    go(page, site, "practice/round.html")
    expect(page.get_by_label("US customary")).to_be_checked()


@pytest.mark.parametrize("before", [REFUSED, FULL], ids=["refused", "full"])
def test_a_browser_that_keeps_nothing_is_told(page_at: Any, site: Path, before: str) -> None:
    """Practice goes on and is counted on the page, and the page says that it is not kept."""
    page = page_at()  # not watched: the theme complains of its own where storage is refused
    page.add_init_script(before)
    go(page, site, PAGE)
    right(page)
    expect(page.locator(".wl-kept")).to_contain_text("1 question answered, 1 right first time")
    expect(page.locator(".wl-kept")).to_contain_text("only until you leave this page")


@pytest.mark.parametrize("stored", ["{", '{"kit": "waterleaf practice", "version": 99}'])
def test_spoilt_memory_is_set_aside(opened: Any, stored: str) -> None:
    """Practice starts anew without a complaint, and what was there is not destroyed."""
    page = opened(PAGE)
    page.evaluate("([name, text]) => localStorage.setItem(name, text)", [NAME, stored])
    page.reload()
    right(page)
    assert kept(page)["families"][KEY]["asked"] == 1
    assert page.evaluate("name => localStorage.getItem(name + '-set-aside')", NAME) == stored


def test_clearing_asks_once_more(opened: Any, site: Path) -> None:
    """One press clears nothing; the second does; the focus is never lost."""
    page = opened(PAGE)
    answer(page, "3 g/day")
    go(page, site, "practice/record.html")
    page.get_by_role("button", name="Clear my practice").press("Enter")
    page.get_by_role("button", name="No, keep it").press("Enter")
    assert kept(page) is not None
    expect(page.get_by_role("button", name="Clear my practice")).to_be_focused()
    page.get_by_role("button", name="Clear my practice").press("Enter")
    page.get_by_role("button", name="Yes, clear it").press("Enter")
    assert kept(page) is None
    expect(page.get_by_role("button", name="Clear my practice")).to_be_focused()
    expect(page.get_by_role("status").filter(has_text="Done.")).to_be_visible()


def test_the_overview_has_a_row_for_each_topic(opened: Any, site: Path) -> None:
    """A topic that was practised shows how far; the others say that they were not met."""
    page = opened(PAGE, day="2026-03-02")
    right(page, 0)
    right(page, 1)
    go(page, site, "practice/record.html")
    rows = page.locator("table").first.locator("tbody tr")
    assert rows.count() == len(page.evaluate("Waterleaf.catalogue.topics"))
    row = rows.filter(has_text="Feed").inner_text().split("\t")
    assert row[2:] == ["2 of 2", "none", "2026-03-05"]
    expect(rows.filter(has_text="Money")).to_contain_text("not met yet")


def test_a_lesson_says_how_far_its_topic_is(opened: Any, site: Path) -> None:
    """Below the practice links stands one line, once there is something to say."""
    page = opened("feed/index.html")
    expect(page.locator(".wl-kept")).to_have_text("Mix it with other topics")
    go(page, site, PAGE)
    answer(page, "3 g/day")
    go(page, site, "feed/index.html")
    expect(page.locator(".wl-kept")).to_contain_text("0 of 1 questions right first time")


def saved(page: Any, kind: str) -> str:
    """The text of a record as saved by the page."""
    with page.expect_download() as waiting:
        page.get_by_role("button", name=f"Save as {kind}").click()
    return Path(waiting.value.path()).read_text(encoding="utf-8")


def test_the_record_is_saved_from_a_folder_without_a_network(opened: Any, site: Path) -> None:
    """JSON and CSV hold name, exercise and what the record is; the page says where it went."""
    page = opened(PAGE, day="2026-03-02")
    answer(page, "3 g/day")
    go(page, site, "practice/record.html")
    page.get_by_label("Your name").fill("Ada <b>Quay</b>")
    data = json.loads(saved(page, "JSON"))
    assert (data["name"], data["made"], data["version"]) == ("Ada <b>Quay</b>", "2026-03-02", 1)
    assert data["exercises"][0]["exercise"] == KEY
    rows = list(csv.DictReader(io.StringIO(saved(page, "CSV").removeprefix("\ufeff"))))
    assert len(rows) == 1
    assert (rows[0]["name"], rows[0]["exercise"], rows[0]["questions_answered"]) == ("Ada <b>Quay</b>", KEY, "1")
    expect(page.get_by_role("status").filter(has_text="practice-record-2026-03-02.csv")).to_be_visible()


def test_the_printed_record_says_what_it_is(opened: Any, site: Path) -> None:
    """On paper stand the name as text, the date and the statement, and no buttons or boxes."""
    page = opened("practice/record.html", day="2026-03-02")
    page.get_by_label("Your name").fill("<img src=x onerror=alert(1)>")
    page.emulate_media(media="print")
    expect(page.locator(".wl-signed")).to_contain_text("Name: <img src=x onerror=alert(1)>.")
    expect(page.locator(".wl-signed")).to_contain_text("Made on 2026-03-02.")
    expect(page.locator(".wl-signed")).to_contain_text("It can be edited")
    assert page.locator("#wl-overview img").count() == 0
    assert not any(box.is_visible() for box in page.locator("#wl-overview :is(button, input)").all())


def test_practice_moves_to_another_computer(opened: Any, site: Path) -> None:
    """A saved record is taken up after one more question; the other device then knows the same."""
    first = opened(PAGE)
    answer(first, "3 g/day")
    go(first, site, "practice/record.html")
    text = saved(first, "JSON")
    other = opened("practice/record.html")
    box = other.get_by_label("Go on from a saved JSON record")
    box.set_input_files({"name": "record.json", "mimeType": "application/json", "buffer": text.encode()})
    other.get_by_role("button", name="Yes, go on").press("Enter")
    assert kept(other) == kept(first)
    expect(box).to_be_focused()


def test_a_foreign_file_is_refused_kindly(opened: Any) -> None:
    """Nothing is changed, and the page says why."""
    page = opened("practice/record.html")
    page.get_by_label("Go on from a saved JSON record").set_input_files(
        {"name": "x.json", "mimeType": "application/json", "buffer": b'{"format": 7}'}
    )
    expect(page.get_by_role("status").filter(has_text="Nothing was changed")).to_be_visible()
    assert kept(page) is None


def test_a_verdict_says_nothing_twice(opened: Any) -> None:
    """The first word and the sentence do not repeat each other."""
    page = opened(PAGE)
    assert right(page).splitlines()[0].strip() == "Right."
    assert answer(page, "3 g/day").splitlines()[0] == "Not yet. Go back over your steps one by one."


def test_the_hint_is_brought_to_mind_after_the_second_miss(opened: Any) -> None:
    """Not at once, and no longer when it has been read."""
    page = opened(PAGE)
    assert "hint" not in answer(page, "3 g/day")
    assert "A hint may help." in answer(page, "4 g/day")
    page.get_by_role("button", name="Give me a hint").first.click()
    assert "hint" not in answer(page, "5 g/day")


def test_of_several_boxes_the_verdict_names_the_one_meant(opened: Any) -> None:
    """An empty first time is called by its name."""
    page = opened("solids/flush_times.html")
    assert "Time 1: Write your answer as a time of day" in answer(page, "", 1)


def test_a_choice_not_made_is_asked_for(opened: Any) -> None:
    """Where there is nothing to write, nobody is told to write a letter."""
    page = opened("sugar/may_we_say_sweeter.html")
    section = page.locator(".wl-question").nth(1)
    section.get_by_role("button", name="Check my answer").click()
    assert section.locator(".wl-verdict").inner_text() == "There is no answer here yet. Choose one of the answers."


def test_an_answer_box_is_described_with_its_unit(opened: Any) -> None:
    """Who hears the page hears the unit with the box."""
    page = opened(PAGE)
    box = page.locator(".wl-question input").first
    ids = box.get_attribute("aria-describedby").split()
    assert page.locator(f"#{ids[0]}").inner_text() == "for example in g/day"
    assert page.locator(f"#{ids[1]}").inner_text().startswith("(a) How much feed")
