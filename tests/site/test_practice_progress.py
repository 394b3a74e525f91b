"""What a device keeps of practice, and which exercise comes next: the plain functions, without a page around them."""

import json
from pathlib import Path
from typing import Any

import pytest

import waterleaf.site

ASSETS = Path(waterleaf.site.__file__).parent / "assets"
TODAY = 20_000
# Four exercises of two topics, in the order of a course.
COURSE = [
    {"key": "feed/a", "topic": "feed", "level": 1, "title": "A"},
    {"key": "feed/b", "topic": "feed", "level": 2, "title": "B"},
    {"key": "loop/c", "topic": "loop", "level": 2, "title": "C"},
    {"key": "loop/d", "topic": "loop", "level": 1, "title": "D"},
]


@pytest.fixture(scope="module")
def logic(browser: Any) -> Any:
    """A blank page with the scripts that decide."""
    page = browser.new_page()
    for name in ("progress", "choosing", "record"):
        page.add_script_tag(content=(ASSETS / f"{name}.js").read_text(encoding="utf-8"))
    yield page
    page.close()


def run(logic: Any, program: str, **given: Any) -> Any:
    """What a program finds; it knows P, choose, R, course, today and what is given."""
    names = {"course": COURSE, "today": TODAY, **given}
    known = "const P = Waterleaf.progress, R = Waterleaf.record, choose = Waterleaf.choose;"
    return logic.evaluate(f"(({{{', '.join(names)}}}) => {{ {known} {program} }})", names)


def test_an_answer_right_at_once_counts_as_right_first_time(logic: Any) -> None:
    """One answer, one question, right first time, and its verdict is kept."""
    record = run(logic, """const s = P.blank();
        P.tried(s, "feed/a", { verdict: "right", opening: true, unaided: true, turn: "" }, today);
        return s.families["feed/a"];""")
    assert (record["checks"], record["asked"], record["first"], record["verdicts"]) == (1, 1, 1, ["right"])


@pytest.mark.parametrize(("opening", "unaided", "first"), [(True, False, 0), (False, True, 0), (True, True, 1)])
def test_help_or_a_second_go_is_not_right_first_time(logic: Any, opening: bool, unaided: bool, first: int) -> None:
    """Only a first answer without help counts as right first time."""
    found = run(logic, """const s = P.blank();
        P.tried(s, "feed/a", { verdict: "right", opening, unaided, turn: "" }, today);
        return s.families["feed/a"].first;""", opening=opening, unaided=unaided)
    assert found == first


def test_wrong_turns_are_counted_and_the_oldest_makes_room(logic: Any) -> None:
    """The same turn twice is one line; of twenty turns the newest twelve stay."""
    turns = run(logic, """const s = P.blank();
        const names = ["twice", ...Array.from({length: 11}, (_, i) => "t" + i), "twice", "new"];
        for (const turn of names) P.tried(s, "feed/a", { verdict: "slip", opening: false, unaided: true, turn }, today);
        return s.families["feed/a"].turns;""")
    assert len(turns) == 12
    assert turns[0] == ["t0", 1]
    assert turns[-1] == ["new", 1]


def test_a_missed_exercise_waits_for_three_others_or_the_next_day(logic: Any) -> None:
    """Due after three others are done, not after two; due the next day in any case."""
    found = run(logic, """const s = P.blank(), due = [];
        P.ended(s, "feed/a", 0, false, today);
        for (const key of ["feed/b", "loop/c", "loop/d"]) {
            due.push(P.isDue(s, s.families["feed/a"], today), P.isDue(s, s.families["feed/a"], today + 1));
            P.ended(s, key, 0, true, today);
        }
        return due.concat(P.isDue(s, s.families["feed/a"], today));""")
    assert found == [False, True, False, True, False, True, True]


def test_good_returns_climb_to_three_weeks_and_a_miss_starts_over(logic: Any) -> None:
    """After a miss: 3 others, 8 others, then 1, 3, 7, 21 and again 21 days; then a miss leads back to 3 others."""
    found = run(logic, """const s = P.blank(), waits = [];
        let day = today;
        function end(clean) {
            P.ended(s, "feed/a", 0, clean, day);
            const r = s.families["feed/a"];
            waits.push(r.due_count ? r.due_count - s.count + " others" : r.due_day - day + " days");
            day = r.due_day;
        }
        [false, true, true, true, true, true, true, false].forEach(end);
        return waits;""")
    assert found == ["3 others", "8 others", "1 days", "3 days", "7 days", "21 days", "21 days", "3 others"]


def test_an_exercise_right_at_once_comes_back_in_three_days(logic: Any) -> None:
    """A first meeting without a miss skips the short gaps."""
    found = run(logic, """const s = P.blank(); P.ended(s, "feed/a", 0, true, today);
        return P.comesBack(s, s.families["feed/a"], today);""")
    assert found == {"now": False, "others": 0, "days": 3}


def test_practice_ahead_of_time_does_not_climb(logic: Any) -> None:
    """Ten good sets on one day leave the exercise where the first has put it."""
    found = run(logic, """const s = P.blank();
        for (let i = 0; i < 10; i += 1) P.ended(s, "feed/a", i, true, today);
        return [s.families["feed/a"].rung, s.families["feed/a"].due_day - today, s.families["feed/a"].next];""")
    assert found == [3, 3, 10]


def test_an_exercise_is_not_one_of_the_others_it_waits_for(logic: Any) -> None:
    """Good sets of a missed exercise, done ahead of time, do not shorten its own wait."""
    found = run(logic, """const s = P.blank(); P.ended(s, "feed/a", 0, false, today);
        for (let i = 1; i < 6; i += 1) P.ended(s, "feed/a", i, true, today);
        return P.comesBack(s, s.families["feed/a"], today).others;""")
    assert found == 3


def test_a_skipped_exercise_comes_back_after_eight_others(logic: Any) -> None:
    """Passing a new exercise by puts it away for eight others."""
    found = run(logic, """const s = P.blank(); P.passed(s, "feed/a", 0, today);
        return P.comesBack(s, s.families["feed/a"], today).others;""")
    assert found == 8


def test_the_first_choice_is_the_easiest_of_the_topic_met_least(logic: Any) -> None:
    """From nothing: the first topic's easiest; then the other topic's easiest, and so on in turn."""
    found = run(logic, """const s = P.blank(), keys = [];
        for (let i = 0; i < 4; i += 1) {
            const one = choose(s, course, today); keys.push(one.exercise.key + " " + one.why);
            s.last = one.exercise.key; P.ended(s, s.last, 0, true, today);
        }
        return keys;""")
    assert found == ["feed/a new", "loop/d new", "feed/b new", "loop/c new"]


def test_what_is_due_comes_before_what_is_new(logic: Any) -> None:
    """A miss of yesterday is asked before any new exercise, the least settled first."""
    found = run(logic, """const s = P.blank();
        P.ended(s, "feed/b", 0, true, today - 3); P.ended(s, "loop/c", 0, false, today - 1);
        return choose(s, course, today);""")
    assert (found["exercise"]["key"], found["why"]) == ("loop/c", "due")


def test_the_same_exercise_is_not_asked_twice_running(logic: Any) -> None:
    """The last one is left out while there is another; alone it is asked again."""
    found = run(logic, """const s = P.blank(); P.ended(s, "feed/a", 0, false, today - 1); s.last = "feed/a";
        return [course, [course[0]]].map((some) => choose(s, some, today).exercise.key)
            .concat(choose(s, [], today));""")
    assert found == ["loop/d", "feed/a", None]


def test_when_all_are_waiting_the_soonest_comes_early(logic: Any) -> None:
    """Nothing due and nothing new is no dead end."""
    found = run(logic, """const s = P.blank();
        course.forEach((one, i) => P.ended(s, one.key, 0, true, today - 2 + (i === 2 ? 0 : 1)));
        return choose(s, course, today);""")
    assert (found["exercise"]["key"], found["why"]) == ("loop/c", "early")


def test_choosing_changes_nothing_and_repeats_itself(logic: Any) -> None:
    """The same state and day give the same exercise, and the state is left alone."""
    assert run(logic, """const s = P.blank(); P.ended(s, "feed/a", 0, false, today);
        const before = JSON.stringify(s);
        const one = choose(s, course, today), two = choose(JSON.parse(before), course, today);
        return JSON.stringify(s) === before && one.exercise.key === two.exercise.key && one.why === two.why;""")


def test_no_exercise_is_forgotten_in_a_long_term(logic: Any) -> None:
    """Over 90 invented days with wrong answers now and then, each exercise comes, and a miss comes back within days."""
    found = run(logic, """const s = P.blank(), times = {}; let seed = 7, worst = 0; const missed = {};
        for (let day = today; day < today + 90; day += 1) {
            for (let i = 0; i < 6; i += 1) {
                const one = choose(s, course, day).exercise;
                if (missed[one.key]) { worst = Math.max(worst, day - missed[one.key]); delete missed[one.key]; }
                seed = (seed * 16807) % 2147483647;
                const clean = seed % 4 !== 0;
                if (!clean) missed[one.key] = day;
                times[one.key] = (times[one.key] || 0) + 1;
                s.last = one.key; P.ended(s, one.key, 0, clean, day);
            }
        }
        return [Object.keys(times).length, worst, Math.min(...Object.values(times))];""")
    assert found[0] == 4
    assert found[1] <= 1
    assert found[2] > 20


SOUND = {"kit": "waterleaf practice", "version": 1, "units": "us", "count": 4, "last": "feed/a", "topics": ["feed"]}


@pytest.mark.parametrize("text", [
    "", "null", "[]", "7", "{", "\x00", '"waterleaf practice"', "[" * 100_000, "x" * 3_000_000,
    json.dumps({**SOUND, "version": 2}), json.dumps({**SOUND, "version": "1"}), json.dumps({**SOUND, "kit": "other"}),
], ids=lambda text: repr(text[:24]))
def test_what_is_not_ours_is_not_read(logic: Any, text: str) -> None:
    """Broken text, another program's data, and another version give nothing, and no error."""
    assert run(logic, "return P.read(text, today);", text=text) is None


def test_a_sound_state_is_read_as_it_was_written(logic: Any) -> None:
    """Writing and reading lose nothing."""
    assert run(logic, """const s = P.blank();
        P.tried(s, "feed/a", { verdict: "slip", opening: true, unaided: true, turn: "Too much." }, today);
        P.ended(s, "feed/a", 0, false, today); s.units = "us"; s.topics = ["feed"]; s.last = "feed/a";
        return JSON.stringify(P.read(JSON.stringify(s), today)) === JSON.stringify(s);""")


@pytest.mark.parametrize(("field", "value"), [
    ("checks", -1), ("checks", 1e99), ("asked", "7"), ("first", 99), ("verdicts", "right"),
    ("verdicts", [1, None, "<b>"]),
    ("turns", [["a"], [1, 2], None, ["x" * 999, 1]]), ("turns", {"length": 9}), ("rung", 99), ("rung", 0.5),
    ("due_day", 10**9), ("due_count", 10**9), ("day", 10**9), ("next", -5), ("next", None),
])
def test_one_spoilt_field_does_no_harm(logic: Any, field: str, value: Any) -> None:
    """A value of the wrong kind or size is left out or cut down, and an exercise can still be chosen and counted."""
    stored = json.dumps({**SOUND, "families": {"feed/a": {"asked": 3, "first": 2, field: value}}})
    record = run(logic, """const s = P.read(text, today); choose(s, course, today);
        const read = JSON.parse(JSON.stringify(s.families["feed/a"]));
        P.tried(s, "feed/a", { verdict: "right", opening: true, unaided: true, turn: "t" }, today);
        P.ended(s, "feed/a", 0, true, today);
        return read;""", text=stored)
    numbers = {name: kept for name, kept in record.items() if name not in ("verdicts", "turns")}
    assert all(isinstance(number, int) and number >= 0 for number in numbers.values())
    assert record["first"] <= record["asked"] <= record["checks"]
    assert record["due_day"] <= TODAY + 21
    assert record["verdicts"] == []
    assert record["turns"] == []


def test_strange_names_are_left_out(logic: Any) -> None:
    """Names that are no exercises, and those with a meaning in the language, do not get in."""
    families = {"__proto__": {}, "constructor": {}, "feed/a": {}, "../x": {}, "feed/<b>": {}, "feed/b": None, "A/b": []}
    text = json.dumps({**SOUND, "topics": ["__proto__", "feed", 7], "last": "<b>", "families": families})
    found = run(logic, "const s = P.read(text, today); return [Object.keys(s.families), s.topics, s.last];", text=text)
    assert found == [["feed/a"], ["feed"], ""]


CATALOGUE = {"topics": [["feed", "Feed"], ["loop", "Loop"]], "exercises": COURSE}


@pytest.mark.parametrize("name", ['=HYPERLINK("x")', "+1", "-1", "@x", " =1", "\t=1"])
def test_a_name_cannot_be_a_formula_in_a_spreadsheet(logic: Any, name: str) -> None:
    """Cells that start like a formula get a mark in front."""
    text = run(logic, """const s = P.blank(); P.ended(s, "feed/a", 0, true, today);
        return R.csv(s, catalogue, { name, group: "" }, today);""", catalogue=CATALOGUE, name=name)
    assert text.split("\r\n")[1].split(",")[2].startswith("\"'")


def test_a_saved_record_can_be_taken_back(logic: Any) -> None:
    """The file holds what the device kept, says what it is, and is read with the same care."""
    kept, data, foreign = run(logic, """const s = P.blank(); P.ended(s, "feed/a", 3, false, today);
        const text = R.json(s, catalogue, { name: "N", group: "G" }, today);
        return [R.kept(text, today), JSON.parse(text), R.kept("{}", today)];""", catalogue=CATALOGUE)
    assert kept["families"]["feed/a"]["next"] == 4
    assert (data["format"], data["version"], data["name"]) == ("waterleaf practice record", 1, "N")
    assert "can be edited" in data["statement"]
    assert foreign is None


def test_topics_are_summed_for_the_table(logic: Any) -> None:
    """Exercises met, questions right first time, what is due, and the next day."""
    rows = run(logic, """const s = P.blank();
        P.tried(s, "feed/a", { verdict: "right", opening: true, unaided: true, turn: "" }, today);
        P.ended(s, "feed/a", 0, true, today); P.ended(s, "feed/b", 0, false, today - 1);
        return R.topics(s, catalogue, today);""", catalogue=CATALOGUE)
    assert rows[0] == {
        "topic": "feed", "name": "Feed", "met": 2, "of": 2, "asked": 1, "first": 1, "due": 1, "next_day": TODAY,
    }
    assert rows[1]["met"] == 0
