"""What the judge reads in a typed answer, and what it refuses."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from answer_rows import TASKS, Row, rows
from waterleaf.marking.characters import SWAPS, clean, lower
from waterleaf.marking.messages import MESSAGES, fill
from waterleaf.marking.reading import LONGEST, VULGAR, Reading, read_answer, read_clock

HELD = ["\u00a0", "\u2007", "\u2009", "\u202f", " ", "'", "’"]  # what people put between thousands


def reading_of(row: Row) -> Reading:
    """The row's answer as read, by the clock where a time is asked for."""
    if TASKS[row.task].kind == "clock":
        return read_clock(row.typed)
    return read_answer(row.typed, "comma" if row.decimal == "comma" else "point")


@pytest.mark.parametrize("row", [pytest.param(row, id=f"line {row.line}") for row in rows()])
def test_table_is_read_as_expected(row: Row) -> None:
    """Each typed answer gives the number, or the reason for giving none, that the table names."""
    found = reading_of(row)
    if row.value in MESSAGES:
        assert found == Reading(fault=MESSAGES[row.value])
    else:
        assert (found.value, found.fault) == (float(row.value), "")


@pytest.mark.parametrize(("typed", "decimal", "value"), [
    ("1,200", "point", 1200.0), ("1,200", "comma", 1.2), ("1.200", "point", 1.2), ("1.200", "comma", 1200.0),
])
def test_setting_decides_the_one_ambiguous_form(typed: str, decimal: str, value: float) -> None:
    """A single comma or point before exactly three digits follows the page's decimal mark."""
    assert read_answer(typed, "comma" if decimal == "comma" else "point").value == value


@pytest.mark.parametrize(
    "typed", ["0,125", "0.125", "00,125", ",125", "1,25", "1,2500", "1234,567", "1 200,500", "1.200,500"]
)
@pytest.mark.parametrize("decimal", ["point", "comma"])
def test_setting_changes_no_other_form(typed: str, decimal: str) -> None:
    """Every form but the ambiguous one is read alike on all pages."""
    assert read_answer(typed, "comma" if decimal == "comma" else "point").value == read_answer(typed).value


@pytest.mark.parametrize(("typed", "echo"), [
    ("1,200 kg/day", "read as 1200 kg/day"),
    ("1.250 kg", "read as 1.250 kg (between 1 and 2)"),
    ("-1.250 kg", "read as −1.250 kg (between −2 and −1)"),
    ("999.999", "read as 999.999 (between 999 and 1000)"),
    ("12345.6 L", "read as 12\u202f345.6 L"),
    ("-$5 per head", "read as −$5 per head"),
    ("3/4", "read as 0.75"),
    ("2e-5 g", "read as 0.00002 g"),
    ("3 per day", "read as 3 per day"),
    ("1.444e3 g", "read as 1444 g"),
    ("1.444e0 g", "read as 1.444 g (between 1 and 2)"),
    ("1.444e20 g", "read as 1.444 × 10²⁰ g"),
])
def test_echo_shows_how_a_number_was_read(typed: str, echo: str) -> None:
    """The echo leaves no doubt about thousands and decimals."""
    assert read_answer(typed).echo == echo


def test_echo_uses_the_decimal_mark_of_the_page() -> None:
    """On a page with decimal commas the echo has one too."""
    assert read_answer("1200.5 L", decimal="comma").echo == "read as 1200,5 L"


@pytest.mark.parametrize(("typed", "figures", "places", "digits"), [
    ("1200", 2, 0, "1200"), ("1200.", 4, 0, "1200"), ("1200.0", 5, 1, "1200.0"), ("0.050", 2, 3, "0.050"),
    ("1.20e3", 3, 0, "1200"), ("1200e0", 4, 0, "1200"), ("1.2e-3", 2, 4, "0.0012"), ("0", 1, 0, "0"),
    ("0.00", 1, 2, "0.00"),
    ("007", 1, 0, "7"), ("1,050.25", 6, 2, "1050.25"), ("-0.5", 1, 1, "-0.5"), ("½", 0, 0, "0.5"),
    ("2 1/3", 0, 0, "2.333333"),
    ("1.2e20", 2, 0, "1.2e20"), ("-1.25e-20", 3, 22, "-1.25e-20"), ("10^3", 1, 0, "1000"), ("-0", 1, 0, "0"),
])
def test_figures_and_places_are_counted_as_typed(typed: str, figures: int, places: int, digits: str) -> None:
    """Significant figures and decimals are those on the paper, not those of the value."""
    found = read_answer(typed)
    assert (found.figures, found.places, found.digits) == (figures, places, digits)


@given(value=st.decimals(-10**12, 10**12, places=3), held=st.sampled_from(HELD))
def test_grouped_numbers_keep_their_value(value: Decimal, held: str) -> None:
    """Any number with separated thousands and a decimal part is read back exactly."""
    typed = f"{value:,}".replace(",", held)
    assert read_answer(typed).value == float(value)
    assert read_answer(typed.replace(".", ","), "comma").value == float(value)


@given(value=st.floats(allow_nan=False, allow_infinity=False))
def test_every_float_is_read_back(value: float) -> None:
    """The shortest text of a float is read as that float."""
    assert read_answer(repr(value)).value == value


@given(whole=st.integers(0, 9999), top=st.integers(1, 99), bottom=st.integers(2, 9999))
def test_mixed_fractions_are_read(whole: int, top: int, bottom: int) -> None:
    """A whole number beside a proper fraction is their sum; beside an improper one it is refused."""
    found = read_answer(f"{whole} {top}/{bottom} kg")
    if top >= bottom:
        assert found.fault == MESSAGES["sum"]
    else:
        assert found.value == (whole * bottom + top) / bottom
        assert found.unit_text == "kg"


@pytest.mark.parametrize(("sign", "fraction"), VULGAR.items())
def test_fraction_signs_are_read(sign: str, fraction: str) -> None:
    """Each single-character fraction is worth what it says, alone and beside a number."""
    top, bottom = map(int, fraction.split("/"))
    assert read_answer(sign).value == top / bottom
    assert read_answer(f"3{sign}").value == read_answer(f"3 {sign}").value == (3 * bottom + top) / bottom


@given(text=st.text())
def test_any_text_is_read_or_refused_with_a_reason(text: str) -> None:
    """No text raises; each gives either a finite number or a reason."""
    for found in (read_answer(text), read_answer(text, "comma"), read_clock(text)):
        assert (found.value is None) == bool(found.fault)
        assert found.echo.startswith("read as ") or found.fault in MESSAGES.values()


@given(text=st.text(max_size=40))
def test_reading_does_not_depend_on_blanks_around_it(text: str) -> None:
    """Blanks and unseen marks before and behind an answer change nothing."""
    assert read_answer(f"\u00a0\t{text}\u200b\n") == read_answer(text)


def test_long_texts_are_refused_at_once() -> None:
    """A text beyond the limit is not looked into, however long; one at the limit is."""
    assert read_answer("1" * LONGEST).value == float("1" * LONGEST)
    for length in (LONGEST + 1, 10_000, 1_000_000):
        assert read_answer("1" * length) == Reading(fault=MESSAGES["too_long"])


def test_texts_made_to_take_long_do_not() -> None:
    """The patterns go through a text once: repeating what nearly matches costs no more than its length."""
    pieces = ["1 ", "1,", "1.", "1'", "a", "a ", "=", "about ", "x10^", "1/", "½", "(", "/", " - ", "+", "to 1", "1:30"]
    for piece in pieces:
        for start in ("", "5", "5 kg", "1,1"):
            text = (start + piece * LONGEST)[:LONGEST]  # a pattern that backtracks would not come back from this
            for found in (read_answer(text), read_clock(text)):
                assert found.fault or found.value is not None


def test_cleaning_twice_is_cleaning_once() -> None:
    """No look-alike is swapped for a character that would be swapped again."""
    everything = "".join(SWAPS)
    assert clean(clean(everything)) == clean(everything)


def test_lower_case_touches_only_plain_letters() -> None:
    """Letters whose lower case differs between languages stay as they are."""
    assert lower("AbZ İ Σ \u212a ÅÉ") == "abz İ Σ \u212a ÅÉ"


@pytest.mark.parametrize(("typed", "value"), [
    ("6:30", 6.5), ("06:30", 6.5), ("6:30 am", 6.5), ("6.30 pm", 18.5), ("18h30", 18.5), ("0630", 6.5), ("630", 6.5),
    ("noon", 12.0), ("midnight", 0.0), ("12 noon", 12.0), ("12:00 midnight", 0.0), ("12:30 am", 0.5), ("12 pm", 12.0),
    ("6 o'clock", 6.0), ("6 in the morning", 6.0), ("24:00", 24.0), ("13:30 pm", 13.5), ("08:30 next day", 8.5),
    ("08:30 (next day)", 8.5), ("08:30 2 days later", 8.5), ("6:30:45", 6.5125),
])
def test_times_of_day_are_read_in_hours(typed: str, value: float) -> None:
    """All usual ways to write a time give hours after midnight."""
    assert read_clock(typed).value == value


@given(minute=st.integers(0, 24 * 60 - 1))
def test_every_minute_of_the_day_is_read(minute: int) -> None:
    """Each minute is read from the 24-hour and the 12-hour clock alike, and echoed in the former."""
    hour, rest = divmod(minute, 60)
    half = "am" if hour < 12 else "pm"
    written = {f"{hour}:{rest:02d}", f"{hour:02d}.{rest:02d}", f"{hour:02d}{rest:02d}", f"{hour}h{rest:02d}",
               f"{(hour + 11) % 12 + 1}:{rest:02d} {half}", f"{(hour + 11) % 12 + 1}.{rest:02d}{half.upper()}"}
    assert {read_clock(typed).echo for typed in written} == {f"read as {hour:02d}:{rest:02d}"}
    assert {read_clock(typed).value for typed in written} == {hour + rest / 60}


@pytest.mark.parametrize(
    "typed", ["5 to 7", "5-7", "5 – 7 kg", "5 or 6", "5 kg to 7 kg", "between 5 and 7", "5 ± 1", "5+/-1"]
)
def test_ranges_are_refused_with_a_reason(typed: str) -> None:
    """A student who gives two values is asked to choose one."""
    assert read_answer(typed).fault == MESSAGES["range"]


def test_messages_stay_calm_and_plain() -> None:
    """No message shouts, and none has a sentence longer than twenty words."""
    for message in MESSAGES.values():
        assert "!" not in message
        assert all(len(sentence.split()) <= 20 for sentence in message.split(". "))


def test_filling_a_message_leaves_typed_braces_alone() -> None:
    """What a student types in braces is not taken for a gap."""
    assert fill("{typed} or {unit}", {"typed": "{unit}", "unit": "kg"}) == "{unit} or kg"
