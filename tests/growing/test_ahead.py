"""What happens if: events are read as typed, the page says what crosses, and nothing bad gets through."""

import json
import re
from pathlib import Path
from typing import Literal

import pikepdf
import pytest

from on_paper import plain, text_of
from waterleaf.commands.growing import ahead_of, tell_ahead
from waterleaf.faults import Faults
from waterleaf.growing.ahead import crossing_line, table, totals
from waterleaf.growing.ahead_figures import alternative, draws, paper_figure, told
from waterleaf.growing.ahead_page import html
from waterleaf.growing.term_events import read_events, todays
from waterleaf.sheets.ahead import ahead_sheet
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import Press

DEMO = Path(__file__).parents[2] / "course" / "demo" / "growing.yaml"


def test_events_are_read_with_their_days_and_amounts() -> None:
    """Fahrenheit degrees become Celsius steps, minutes become hours."""
    events = read_events(["missed-flush:3-5", "heat-wave:4-6:9 F", "pump-stop:2:90 min", "over-feeding:7:1.5"], 10)
    assert [(event.kind, event.first, event.last) for event in events] == [
        ("missed-flush", 3, 5), ("heat-wave", 4, 6), ("pump-stop", 2, 2), ("over-feeding", 7, 7),
    ]  # fmt: skip
    assert [event.amount for event in events] == [None, pytest.approx(5.0), pytest.approx(1.5), pytest.approx(1.5)]


def test_each_day_gets_what_goes_wrong_on_it() -> None:
    """Days before and after an event are as planned."""
    days = todays(read_events(["missed-flush:2-3", "heat-wave:3:5 C"], 4), 1, 4)
    assert [day.flush for day in days] == [True, False, False, True]
    assert [day.warmer for day in days] == [0, 0, 5, 0]


@pytest.mark.parametrize(("typed", "says"), [
    ("foo:1", "foo is no event. Events are missed-flush"), ("mised-flush:1", "Did you mean missed-flush?"),
    ("missed-flush:11", "day 11 lies outside the term. Give days from 1 to 10"),
    ("missed-flush:0-2", "day 0 lies outside the term"), ("missed-flush:5-2", "day 2 comes before day 5"),
    ("missed-flush:1:3", "takes no amount"), ("pump-stop:1", "needs an amount"),
    ("pump-stop:1:-4 hours", "is out of range. Give 0.25 to 24 h"), ("pump-stop:1:30 hours", "is out of range"),
    ("heat-wave:1:200 C", "is out of range. Give 0.5 to 15"), ("over-feeding:1:99", "Give 1.01 to 4"),
    ("over-feeding:1:much", "could not convert"), ("water", "does not read as an event"),
])  # fmt: skip
def test_an_event_that_cannot_be_is_refused_on_one_line(typed: str, says: str) -> None:
    """The line names the option, the words typed, and what is accepted."""
    with pytest.raises(Faults, match=says) as refused:
        read_events([typed], 10)
    assert str(refused.value).startswith(f"--if: {typed}: ")
    assert "\n" not in str(refused.value)


def test_all_bad_events_are_told_at_once() -> None:
    """One line each."""
    with pytest.raises(Faults) as refused:
        read_events(["foo:1", "missed-flush:99", "no-base:1"], 10)
    assert len(refused.value.faults) == 2


def test_two_events_of_one_kind_may_not_share_a_day() -> None:
    """Feed cannot be raised and cut on the same day."""
    with pytest.raises(Faults, match="a day stands in over-feeding already"):
        read_events(["over-feeding:1-3:1.5", "short-feeding:3-4:0.5"], 10)


@pytest.mark.parametrize("days", [0, -3, 366])
def test_a_term_of_impossible_length_is_refused(days: int) -> None:
    """A look ahead has at least a day and at most a year."""
    with pytest.raises(Faults, match="Give 1 to 365"):
        ahead_of(DEMO, days, [])


def test_a_file_that_lacks_something_is_named_with_what_it_lacks(tmp_path: Path) -> None:
    """An almost empty file leads to one line, not to a guess."""
    path = tmp_path / "poor.yaml"
    path.write_text("name: Poor\nfish:\n  species: bluegill\n", encoding="utf-8")
    with pytest.raises(Faults, match=r"poor\.yaml: a look ahead needs more: .*feed\.daily"):
        ahead_of(path, 10, [])


def test_the_text_says_what_crosses_when_and_what_to_do() -> None:
    """Limit, day, caution before the act, and the mains where the pump stands still."""
    told = tell_ahead(DEMO, 20, ["pump-stop:5-6:24 hours"], None, None, False)
    assert "Harmful ammonia: above 0.025" in told
    assert "If the air stops too" in told and "mains power" in told
    assert told.index("gills are harmed") < told.index("Add no base. Exchange")
    assert "common practice, no source" in told


def test_the_table_shows_the_plan_in_brackets_where_it_differs() -> None:
    """The day of the worst reading has a row, with both values."""
    ahead = ahead_of(DEMO, 20, ["pump-stop:5-6:24 hours"])
    headings, rows = table(ahead)
    worst = next(crossing for crossing in ahead.crossed if crossing.limit.key == "harmful")
    row = next(row for row in rows if row[0] == str(worst.worst_day))
    assert "(" in row[headings.index("harmful part mg/L")]
    assert "(" not in rows[0][headings.index("harmful part mg/L")]


def test_totals_of_an_undisturbed_term_are_the_plan_twice() -> None:
    """Nothing goes wrong, nothing differs."""
    assert all(planned == found for _, planned, found in totals(ahead_of(DEMO, 10, [])))


def test_one_page_of_html_needs_nothing_else() -> None:
    """No address is asked for, every figure has a text in its place."""
    ahead = ahead_of(DEMO, 15, ["no-base:2-9"])
    page = html(ahead)
    assert "default-src 'none'" in page
    assert "src=" not in page
    assert page.count('role="img"') == len(draws(ahead))
    assert alternative(ahead, "ph") in page.replace("&#39;", "'")


def test_the_printed_page_is_tagged_and_carries_the_crossing(tmp_path: Path) -> None:
    """PDF/UA-1 by its own mark, with a figure for each reading that is shown."""
    path = tmp_path / "ahead.pdf"
    tell_ahead(DEMO, 15, ["no-base:2-9"], None, path, False)
    with pikepdf.open(path) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert "pdfuaid" in str(pdf.open_metadata())


def test_a_program_gets_every_day() -> None:
    """The JSON holds both terms in full, and the crossing with its day."""
    found = json.loads(tell_ahead(DEMO, 12, ["no-base:2-9"], None, None, True))
    assert len(found["planned"]) == len(found["with_events"]) == 12
    assert {"ph", "alkalinity"} <= {one["limit"] for one in found["crossed"]}


def test_a_crossing_names_the_worst_day() -> None:
    """First day, number of days, worst value."""
    line = crossing_line(next(c for c in ahead_of(DEMO, 12, ["no-base:2-9"]).crossed if c.limit.key == "ph"))
    assert line.startswith("pH: below 6.3 from day ")
    assert " days in all; worst " in line


def test_a_number_of_the_totals_stays_with_its_unit_and_with_the_american_one() -> None:
    """No line ends between a number and its unit, inside the brackets neither."""
    rows = {name: planned for name, planned, _ in totals(ahead_of(DEMO, 10, []))}
    assert re.fullmatch(r"[\d\u202f]+\u00a0L \([\d\u202f]+\u00a0gal\)", rows["new water"])
    assert re.fullmatch(r"[\d\u202f]+\u00a0g \([\d.]+\u00a0lb\)", rows["nitrogen fed"])


def test_the_caption_of_a_figure_says_what_it_shows() -> None:
    """How far, on which day, on which side of the limit, and how it would have been."""
    missed = ahead_of(DEMO, 30, ["missed-flush:5-14"])
    day = max(missed.term.days, key=lambda reading: reading.cone)
    said = told(missed, "cone")
    assert said.startswith(f"Filling of the cone: highest {day.cone:.0f}\u00a0% on day {day.day}, past the limit")
    assert said.endswith("; as planned 0\u00a0%.")
    assert "inside the limit of" in told(ahead_of(DEMO, 30, []), "nitrate")


def test_the_words_for_the_warmth_are_in_both_degrees() -> None:
    """In the line of the crossing and under the figure; the water that lacks is in gallons too."""
    hot = ahead_of(DEMO, 14, ["heat-wave:5-11:10 C", "no-top-up:2-6"])
    lines = {crossing.limit.key: plain(crossing_line(crossing)) for crossing in hot.crossed}
    assert "above 31 °C (87.8 °F) from day" in lines["warmth"]
    assert "above 336 L (88.8 gal) from day" in lines["level"]
    assert "past the limit of 31 °C (87.8 °F); as planned 24 °C (75.2 °F)." in plain(told(hot, "warmth"))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_short_table_of_days_is_not_parted_and_captions_are_printed(
    tmp_path: Path, paper: Literal["a4", "letter"]
) -> None:
    """Its heading, its first row and its last one stand on one page; under each figure stands what it shows."""
    ahead, pdf = ahead_of(DEMO, 56, ["missed-flush:10-14"]), tmp_path / "a.pdf"
    pdf.write_bytes(Press("ahead").pdf(ahead_sheet(ahead, Style(paper=paper))))
    whole = text_of(pdf)
    (page,) = [page for page in whole.split("\f") if "Day by day" in page]
    assert re.search(r"^ *1 .*^ *56 +24", page, re.MULTILINE | re.DOTALL)
    for start in ("Filling of the cone: highest 90 % on day 13", "Nitrate nitrogen: highest"):
        assert start in whole


def test_the_figure_for_paper_and_phone_is_no_wider_than_either() -> None:
    """At most as wide as a phone's page of 390 pixels less its margins; so its letters are not made smaller."""
    drawn = paper_figure(ahead_of(DEMO, 10, []), "nitrate")
    width = re.search(r'width="([\d.]+)pt"', drawn)
    assert width
    assert float(width[1]) * 4 / 3 <= 360


def test_the_nitrogen_of_the_totals_adds_up_to_what_was_fed() -> None:
    """Fish, crop, gas, compost, water that left, and what stays: together the feed's, to the gram."""
    for events in ([], ["missed-flush:3-6", "filter-loss:5:90 %"]):
        rows = {name: found for name, _, found in totals(ahead_of(DEMO, 20, events)) if name.startswith("nitrogen")}
        bare = {name: text.replace("\u202f", "").replace("\u2212", "-") for name, text in rows.items()}
        grams = {name: float(text.split("\u00a0g")[0]) for name, text in bare.items()}
        assert sum(grams.values()) - grams["nitrogen fed"] == pytest.approx(grams["nitrogen fed"], abs=5)


@pytest.mark.parametrize(("typed", "told"), [
    ("filter-loss:5:90 %", "90 % of the filter's bacteria die on day 5."),
    ("cold-snap:5-7:8 C", "The air is 8 °C (14 °F) colder from day 5 to day 7."),
])  # fmt: skip
def test_a_filter_that_suffers_is_told_in_words(typed: str, told: str) -> None:
    """Per cent, and degrees in both systems."""
    assert read_events([typed], 10)[0].told == told


def test_cold_and_heat_may_not_share_a_day() -> None:
    """Both change the warmth of the air."""
    with pytest.raises(Faults, match="a day stands in heat-wave already"):
        read_events(["heat-wave:3-5:6 C", "cold-snap:5:4 C"], 10)
