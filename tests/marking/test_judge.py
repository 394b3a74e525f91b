"""What the judge says about an answer, and in which order it looks."""

import json
import math
from dataclasses import fields, replace
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from answer_rows import TASKS, Row, rows
from waterleaf.marking.judge import Expected, Tolerance, Verdict, VerdictKind, expected_for, judge, tables
from waterleaf.marking.messages import MESSAGES
from waterleaf.working.units import convert

KINDS = get_args(VerdictKind)
FEED = TASKS["feed"]


def judged(row: Row) -> Verdict:
    """The verdict on a row of the table."""
    return judge(row.typed, TASKS[row.task], "comma" if row.decimal == "comma" else "point")


@pytest.mark.parametrize("row", [pytest.param(row, id=f"line {row.line}") for row in rows()])
def test_table_is_judged_as_expected(row: Row) -> None:
    """Each typed answer gets the verdict, the slip and the echo that the table names."""
    found = judged(row)
    kind = found.kind if found.slip is None else f"{found.kind} {found.slip}"
    assert kind == row.verdict
    assert not row.echo or found.echo == f"read as {row.echo}"


def test_table_is_large_and_has_every_kind() -> None:
    """The table has hundreds of different answers, and each kind of verdict many times."""
    everything = rows()
    assert len({(row.task, row.decimal, row.typed) for row in everything}) == len(everything) >= 400
    for kind in KINDS:
        assert sum(row.verdict.split()[0] == kind for row in everything) >= 20, kind


def test_verdicts_say_something_and_show_what_was_read() -> None:
    """Every verdict has a message without open gaps, and every answer that was read has its echo."""
    for row in rows():
        found = judged(row)
        assert found.message
        assert "{" not in found.message.replace(row.typed, "").replace("day{unit}", "")
        assert bool(found.echo) == (found.kind != "unreadable")
        assert (found.slip is not None) == (found.kind == "slip")


def test_slip_shows_its_own_feedback() -> None:
    """The message of a slip is the one that the exercise gives."""
    assert judge("10059 g/day", FEED).message == "This is a week's feed."


@pytest.mark.parametrize(("typed", "task", "message"), [
    ("1440", "feed", "Your number is right. Write its unit too: g/day."),
    ("1440 kg/day", "feed", "Your number is right, but not in kg/day. The answer is in g/day."),
    ("1440 g", "feed", "Your number is right, but the unit g measures something else. Use g/day."),
    ("5 g", "feed", "The unit g measures something else. The unit of this answer is g/day."),
    ("1440 foo", "feed", "I do not know the unit “foo”. You could write g/day."),
    ("1.35 foo", "conversion", "I do not know the unit “foo”. This answer is a plain number."),
    ("1.35 kg", "conversion", "Your number is right, but it needs no unit. Leave out kg."),
    ("7 kg", "conversion", "The unit kg does not belong here. This answer is a plain number."),
    ("1.35 %", "conversion", "Your number is right, but not with %. The answer is a plain number."),
    ("1400 g/day", "feed", "You are close: the answer was rounded too far. Give it with 3 significant figures."),
    ("1.5", "turnover", "Your number is right. Write its unit too: per h."),
    ("26.5 degrees", "temperature", MESSAGES["which_degrees"]),
    ("0.001437 tons/day", "feed", MESSAGES["which_ton"]),
    ("137.2", "plants", MESSAGES["not_whole"]),
    ("6:30", "meal", MESSAGES["half_day"]),
    ("g/m2 day", "feed", MESSAGES["no_number"]),
    ("5 g/m2 day", "feed", MESSAGES["unit_order"]),
    ("5 kg 300 g", "feed", MESSAGES["two_numbers"]),
])
def test_messages_name_what_is_wrong(typed: str, task: str, message: str) -> None:
    """A message names the unit typed and the unit wanted, in the wording that fits the answer."""
    assert judge(typed, TASKS[task]).message == message


# ---- The order of the rules ----

def test_unreadable_comes_before_everything() -> None:
    """An answer that cannot be read is not judged, whatever its unit."""
    assert judge("1440-1450 foo", FEED).kind == "unreadable"


def test_unknown_unit_comes_before_right() -> None:
    """A right number with a word we do not know is not guessed to be right."""
    assert judge("1440 foo", FEED).kind == "unknown_unit"


def test_other_dimension_comes_before_slip() -> None:
    """A unit that measures something else is said first, even where the number is that of a slip."""
    assert judge("10059 kg", FEED).kind == "other_dimension"


def test_right_comes_before_slip() -> None:
    """Where a slip touches the accepted band, no student pays for it."""
    task = expected_for(100.0, "kg", Tolerance(relative=0.05), 2, [(103.0, "You took a wrong turn.")])
    assert judge("103 kg", task).kind == "right"
    assert judge("103", task).kind == "right_no_unit"
    assert judge("107 kg", task).kind == "slip"


def test_wrong_unit_comes_before_slip() -> None:
    """The right number with the wrong unit is said as that, even where the product is that of a slip."""
    task = expected_for(1440.0, "g/day", Tolerance(relative=0.01), 3, [(1_440_000.0, "You took a wrong turn.")])
    assert judge("1440 kg/day", task).kind == "wrong_unit"
    assert judge("1440000 g/day", task).kind == "slip"


def test_slip_comes_before_coarse_and_not_whole() -> None:
    """A known wrong turn is named, even where the number also looks rounded or is not whole."""
    task = expected_for(1437.0, "fish", Tolerance(), 4, [(1400.0, "First."), (1436.5, "Second.")], kind="whole")
    assert judge("1400", task).message == "First."
    assert judge("1436.5", task).message == "Second."
    assert judge("1437.5", task).message == MESSAGES["not_whole"]


def test_first_slip_wins() -> None:
    """Where two slips lead to the same number, the first one listed is shown."""
    task = expected_for(10.0, "kg", Tolerance(relative=0.01), 2, [(20.0, "First."), (20.1, "Second.")])
    assert judge("20.1 kg", task).slip == 0


# ---- Bands ----

@pytest.mark.parametrize(("key", "tolerance", "low", "high"), [
    (8.2, Tolerance(absolute=0.05), "8.15", "8.25"), (0.3, Tolerance(absolute=0.1), "0.2", "0.4"),
    (-8.2, Tolerance(absolute=0.05), "-8.25", "-8.15"), (200.0, Tolerance(relative=0.02), "196", "204"),
    (-200.0, Tolerance(relative=0.02), "-204", "-196"), (1e-7, Tolerance(relative=0.1), "9e-8", "1.1e-7"),
    (0.0, Tolerance(absolute=0.5), "-0.5", "0.5"), (7.0, Tolerance(), "7", "7"),
    (0.1, Tolerance(0.1, 0.05), "0.05", "0.15"),
])
def test_ends_of_the_band_are_accepted(key: float, tolerance: Tolerance, low: str, high: str) -> None:
    """Both ends count as right whatever the last bits say, and a thousandth of the key beyond them does not."""
    task = expected_for(key, "kg", tolerance, 1)
    assert task.low <= task.high
    for typed, away in ((low, -1), (high, 1)):
        assert judge(f"{typed} kg", task).kind == "right"
        beyond = float(typed) + away * 0.001 * max(abs(float(typed)), 1e-9)
        assert judge(f"{beyond:.12g} kg", task).kind != "right"


@given(
    key=st.floats(-1e9, 1e9).filter(lambda key: abs(key) > 1e-6), share=st.floats(0.001, 0.5), inside=st.floats(0, 1),
)
def test_every_number_in_the_band_is_right(key: float, share: float, inside: float) -> None:
    """Any number between the ends is right, written out in full, for keys of either sign."""
    task = expected_for(key, "kg", Tolerance(relative=share), 3)
    value = task.low + inside * (task.high - task.low)
    assert judge(f"{value!r} kg", task).kind == "right"
    assert judge(f"{value!r}", task).kind == "right_no_unit"


@given(
    key=st.floats(0.001, 1e6),
    unit=st.sampled_from(["lb/ft^2/day", "kg/m^2/week", "oz/ft^2/hour", "mg/cm^2/min", "kg/hectare/day"]),
)
def test_other_units_are_judged_after_conversion(key: float, unit: str) -> None:
    """The key turned into any unit of the same kind is right in that unit."""
    task = expected_for(key, "g/m^2/day", Tolerance(relative=0.001), 3)
    there = convert(key, "g/m^2/day", unit)
    assert judge(f"{there!r} {unit}", task).kind == "right"


@given(celsius=st.integers(-400, 1000).map(lambda tenths: tenths / 10))
def test_temperatures_agree_on_every_scale(celsius: float) -> None:
    """A temperature is right in Celsius, Fahrenheit and kelvin, down to a key of exactly nought."""
    task = expected_for(celsius, "degC", Tolerance(), 1)
    assert judge(f"{celsius} °C", task).kind == "right"
    assert judge(f"{celsius * 1.8 + 32:.10g} °F", task).kind == "right"
    assert judge(f"{celsius + 273.15:.10g} K", task).kind == "right"


def test_zero_of_a_temperature_needs_its_unit() -> None:
    """0 °C is not 0 °F, so a bare 0 is not complete there; 0 kg is 0 lb."""
    assert judge("0", expected_for(0.0, "degC", Tolerance(absolute=0.5), 1)).kind == "right_no_unit"
    assert judge("0", expected_for(0.0, "kg", Tolerance(absolute=0.5), 1)).kind == "right"


@given(typed=st.text(max_size=40), task=st.sampled_from(sorted(TASKS)))
def test_any_text_gets_a_verdict(typed: str, task: str) -> None:
    """No text raises, and the verdict is one of the known kinds."""
    for text in (typed, f"5 {typed}", f"{typed} kg/day"):
        found = judge(text, TASKS[task])
        assert found.kind in KINDS
        assert found.message


# ---- What is expected ----

@pytest.mark.parametrize(("key", "figures", "tolerance", "coarse"), [
    (1437.0, 3, Tolerance(relative=0.01), ((1000.0, 1), (1400.0, 2))),
    (1437.0, 3, Tolerance(relative=0.05), ((1000.0, 1),)),
    (1437.0, 1, Tolerance(relative=0.01), ()),
    (2.5, 2, Tolerance(absolute=0.1), ((2.0, 1), (3.0, 1))),
    (-2.5, 2, Tolerance(absolute=0.1), ((-2.0, 1), (-3.0, 1))),
    (1.04, 3, Tolerance(absolute=0.01), ((1.0, 1), (1.0, 2))),
    (9.96, 3, Tolerance(absolute=0.01), ((10.0, 1), (10.0, 2))),
    (2.675, 3, Tolerance(absolute=0.001), ((3.0, 1), (2.7, 2))),
    (0.0, 3, Tolerance(absolute=1), ()),
])
def test_values_rounded_too_far_are_listed(
    key: float, figures: int, tolerance: Tolerance, coarse: tuple[tuple[float, int], ...]
) -> None:
    """The key at fewer figures is listed where it leaves the band, with both neighbours half way."""
    assert expected_for(key, "kg", tolerance, figures).coarse == coarse


def test_value_with_too_many_figures_is_not_coarse() -> None:
    """1400.0 claims to be exact, so it is not the key rounded too far."""
    assert judge("1400 g/day", FEED).kind == "coarse"
    assert judge("1400.0 g/day", FEED).kind == "wrong"


def test_other_units_round_in_their_own_figures() -> None:
    """Rounding in the other unit system is recognised where the exercise names that unit."""
    assert judge("3.2 lb/day", FEED).kind == "coarse"
    alone = expected_for(1437.0, "g/day", Tolerance(relative=0.01), 3)
    assert judge("3.2 lb/day", alone).kind == "wrong"


def test_clock_keys_of_later_days_are_marked_by_the_clock() -> None:
    """A time on the next day is the same time on the clock, for the key and for its slips."""
    task = expected_for(32.5, "hour", Tolerance(absolute=0.1), 3, [(57.0, "One day late.")], kind="clock")
    assert judge("08:30", task).kind == "right"
    assert judge("08:30 next day", task).kind == "right"
    assert judge("9:00", task).kind == "slip"


@pytest.mark.parametrize("task", TASKS.values(), ids=TASKS)
def test_what_is_expected_is_plain_data(task: Expected) -> None:
    """It comes back from JSON as it went in, and holds every field."""
    data = task.to_json()
    assert json.loads(json.dumps(data)) == data
    assert set(data) == {field.name for field in fields(Expected)}


def test_tables_and_verdicts_are_plain_data() -> None:
    """Tables and verdicts come back from JSON as they went in."""
    given_tables = tables()
    assert json.loads(json.dumps(given_tables)) == given_tables
    found = judge("10059 g/day", FEED)
    assert Verdict(**json.loads(json.dumps(found.to_json()))) == found


BAD: list[tuple[dict[str, Any], str]] = [
    ({"key": math.nan}, "finite"),
    ({"key": math.inf}, "finite"),
    ({"slips": [(math.inf, "x")]}, "finite"),
    ({"figures": 0}, "at least 1"),
    ({"unit": "furlongs"}, "cannot read the unit 'furlongs'"),
    ({"unit": "g/m^2 day"}, "cannot read the unit"),
    ({"kind": "whole", "key": 12.5}, "whole number"),
    ({"kind": "guess"}, "must be one of number, whole, clock"),
    ({"other_units": ["kg"]}, "do not compare"),
]


@pytest.mark.parametrize(("changed", "message"), BAD, ids=[message for _, message in BAD])
def test_senseless_keys_are_refused(changed: dict[str, Any], message: str) -> None:
    """A key that cannot be judged is refused when it is made, with a reason."""
    good: dict[str, Any] = {"key": 12.0, "unit": "g/day", "tolerance": Tolerance(relative=0.01), "figures": 2}
    with pytest.raises(ValueError, match=message):
        expected_for(**{**good, **changed})


@pytest.mark.parametrize(("relative", "absolute", "message"), [
    (-0.1, 0.0, "relative tolerance"), (0.0, -1.0, "absolute tolerance"), (math.nan, 0.0, "relative"),
    (0.0, math.inf, "absolute"), (2.0, 0.0, "write 2 % as 0.02"),
])
def test_senseless_tolerances_are_refused(relative: float, absolute: float, message: str) -> None:
    """A tolerance is a number from 0 up, and a share of the key stays below all of it."""
    with pytest.raises(ValueError, match=message):
        Tolerance(relative, absolute)


def test_swapped_band_is_refused() -> None:
    """A band that runs downward would accept nothing, so it is refused."""
    with pytest.raises(ValueError, match="must run upward"):
        replace(FEED, low=FEED.high, high=FEED.low)
    with pytest.raises(ValueError, match="must be a number above 0"):
        replace(FEED, factor=0.0)
