"""Duties carry the amounts of the day, are shared fairly, and come as paper, table and calendar."""

import csv
from collections import Counter
from datetime import date
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from waterleaf.commands.growing import make_duties
from waterleaf.faults import Faults
from waterleaf.growing.crew import Crew, Member, read_crew
from waterleaf.growing.duties import MINUTES, Plan, plan
from waterleaf.growing.dutyfiles import LOG_COLUMNS, calendar, log_sheet
from waterleaf.growing.system import read_growing

DEMO = Path(__file__).parents[2] / "course" / "demo"
SYSTEM = read_growing(DEMO / "growing.yaml")
ALL_DAYS = frozenset(range(7))


def crew_of(*days: frozenset[int]) -> Crew:
    """A crew of numbered people."""
    return Crew(date(2026, 3, 2), tuple(Member(f"P{i}", there) for i, there in enumerate(days)))


def demo_plan() -> Plan:
    """Two weeks of the invented college."""
    return plan(SYSTEM, read_crew(DEMO / "crew.yaml"), 2)


def test_amounts_are_those_of_the_file() -> None:
    """Grams a meal, litres to flush, litres to draw off, seeds to sow, by sums made apart from the kit."""
    amounts = {shift.duty.key: shift.duty.amount for shift in demo_plan().shifts}
    assert amounts["feed meal 1"] == pytest.approx(800 / 3)
    assert amounts["flush"] == pytest.approx(16)
    assert amounts["draw_off"] == pytest.approx(16 * 7 * 0.75)
    assert amounts["harvest lettuce"] == pytest.approx(10 * 25 / 5)
    assert amounts["sow lettuce"] == 61  # 50 / (0.90 * 0.92) = 60.4


def test_a_card_gives_its_amounts_in_both_systems_of_units() -> None:
    """A scale in ounces and a bucket in gallons do as well."""
    titles = {shift.duty.key: shift.duty.title.replace("\u00a0", " ") for shift in demo_plan().shifts}
    assert "267 g (9.41 oz); stop" in titles["feed meal 1"]
    assert "4 L (1.06 gal) each" in titles["flush"]
    assert "draw off 84 L (22.2 gal) clear" in titles["draw_off"]


def test_every_day_has_its_meals_flush_and_readings() -> None:
    """Fourteen days, three meals each."""
    count = Counter(shift.duty.what for shift in demo_plan().shifts)
    assert (count["feed"], count["flush"], count["test"]) == (42, 14, 14)
    assert count["draw_off"] == 1  # each seven days, the first time when a batch is full
    assert count["fine"] == 3  # after 4, 8 and 12 days


def test_sludge_is_never_handled_alone() -> None:
    """Two people, with the caution on the card."""
    for shift in demo_plan().shifts:
        if shift.duty.what in ("fine", "draw_off"):
            assert len(set(shift.who)) == 2
            assert "gas" in shift.duty.caution


def test_nobody_gets_a_duty_on_a_day_when_they_are_away() -> None:
    """Weekdays of the crew file are kept."""
    days = {member.name: member.days for member in read_crew(DEMO / "crew.yaml").members}
    for shift in demo_plan().shifts:
        assert all(shift.day.weekday() in days[name] for name in shift.who)


@given(st.integers(2, 12), st.integers(1, 8))
def test_people_with_the_same_days_do_nearly_the_same(people: int, weeks: int) -> None:
    """No two differ by more than the longest duty."""
    minutes = plan(SYSTEM, crew_of(*[ALL_DAYS] * people), weeks).minutes.values()
    assert max(minutes) - min(minutes) <= max(MINUTES.values())


def test_a_day_without_people_is_told_and_not_hidden() -> None:
    """Animals need somebody at weekends too."""
    made = plan(SYSTEM, crew_of(frozenset(range(5)), frozenset(range(5))), 1)
    assert any(line.startswith("2026-03-07") for line in made.left_out)
    assert any(shift.who == () for shift in made.shifts if shift.day.weekday() == 5)


def test_what_the_file_does_not_give_is_not_planned_and_named(tmp_path: Path) -> None:
    """No amount is guessed."""
    path = tmp_path / "g.yaml"
    path.write_text("name: bare\n", encoding="utf-8")
    made = plan(read_growing(path), crew_of(ALL_DAYS), 1)
    assert {shift.duty.what for shift in made.shifts} == {"test", "weekly_test"}
    assert any("feed.daily" in line for line in made.left_out)


def test_the_calendar_is_read_back_with_every_duty_once() -> None:
    """RFC 5545: version, stamps, unique identifiers, folded lines; the same plan makes the same bytes."""
    made = demo_plan()
    raw = calendar(made, SYSTEM.file.name)
    back = Calendar.from_ical(raw)
    events = list(back.walk("VEVENT"))
    assert raw == calendar(demo_plan(), SYSTEM.file.name)
    assert back["VERSION"] == "2.0"
    assert len(events) == len(made.shifts) == len({str(event["UID"]) for event in events})
    assert [event.decoded("DTSTART") for event in events] == [shift.day for shift in made.shifts]
    assert all(len(line) <= 75 for line in raw.split(b"\r\n"))
    assert all("DTSTAMP" in event for event in events)


def test_the_log_sheet_has_a_row_for_each_amount_and_reading() -> None:
    """Planned amounts stand beside empty cells."""
    rows = list(csv.DictReader(log_sheet(demo_plan()).splitlines()))
    assert tuple(rows[0]) == LOG_COLUMNS
    assert sum(row["duty"] == "oxygen" for row in rows) == 14
    assert all(row["done"] == "" for row in rows)


def test_a_name_that_looks_like_a_formula_stays_a_name() -> None:
    """A spreadsheet would run it."""
    crew = Crew(date(2026, 3, 2), (Member("=1+1", ALL_DAYS), Member("B", ALL_DAYS)))
    rows = csv.DictReader(log_sheet(plan(SYSTEM, crew, 1)).splitlines())
    assert not any(part.startswith("=") for row in rows for part in row["by"].split(" and "))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("start: tomorrow\ncrew:\n  - name: A\n", "'tomorrow' is not a date"),
        ("start: 2026-03-02\ncrew:\n  - name: A\n  - name: A\n", "stands twice"),
        ("start: 2026-03-02\ncrew:\n  - name: A\n    days: [noday]\n", r"4: .*.noday. is not known here\. .*Give mon"),
        ("start: 2026-03-02\n", "crew"),
        ("- a\n", "crew.yaml:1"),
    ],
)
def test_a_crew_file_that_cannot_be_used_is_refused_by_line(tmp_path: Path, text: str, message: str) -> None:
    """The usual one line a fault."""
    path = tmp_path / "crew.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Faults, match=message):
        read_crew(path)


def test_the_command_puts_board_log_and_calendar_in_place(tmp_path: Path) -> None:
    """Three files, and a line for everybody's share."""
    said = make_duties(DEMO / "growing.yaml", 1, DEMO / "crew.yaml", tmp_path / "duties")
    assert {path.name for path in (tmp_path / "duties").iterdir()} == {"board-and-cards.pdf", "log.csv", "duties.ics"}
    assert "Hester Quill" in said
    with pikepdf.open(tmp_path / "duties" / "board-and-cards.pdf") as printed:
        assert 5 <= len(printed.pages) <= 7  # the board, and seven days of which short ones share a page


def test_a_log_that_is_filled_in_is_not_replaced(tmp_path: Path) -> None:
    """A blank one made anew takes the place of a blank one only."""
    place = tmp_path / "duties"
    make_duties(DEMO / "growing.yaml", 1, DEMO / "crew.yaml", place)
    make_duties(DEMO / "growing.yaml", 1, DEMO / "crew.yaml", place)
    log = place / "log.csv"
    lines = log.read_text(encoding="utf-8").splitlines()
    cells = lines[2].split(",")
    cells[4] = "400"
    lines[2] = ",".join(cells)
    log.write_text("\n".join(lines), encoding="utf-8")
    before = log.read_bytes()
    with pytest.raises(Faults, match=r"log.csv:3: this log is filled in"):
        make_duties(DEMO / "growing.yaml", 1, DEMO / "crew.yaml", place)
    assert log.read_bytes() == before


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01"])
def test_a_day_at_the_end_of_the_calendar_is_refused(tmp_path: Path, day: str) -> None:
    """No duty could be planned after it."""
    path = tmp_path / "crew.yaml"
    path.write_text(f"start: {day}\ncrew:\n  - name: Ines\n", encoding="utf-8")
    with pytest.raises(Faults, match=r"crew.yaml:1: start: .* is out of range"):
        read_crew(path)
