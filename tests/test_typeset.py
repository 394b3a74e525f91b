"""Numbers of hand-written pages keep their units at their side."""

import re
from pathlib import Path

import pytest

from waterleaf.typeset import held_together

COURSE = Path(__file__).parents[1] / "course"
LESSONS = sorted(COURSE.rglob("*.md"))


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("about 12 kg, or 26 lb", "about 12~kg, or 26~lb"),
        ("24 °C (75 °F)", "24~°C (75~°F)"),
        ("| 5 % | 3 m² | 60 g/m²/day |", "| 5~% | 3~m² | 60~g/m²/day |"),
        ("**40 L/min** and 1 kWh.", "**40~L/min** and 1~kWh."),
        ("takes 2\nmg/L in an hour", "takes 2~mg/L\nin an hour"),
        ("is 20\n  ppm as a ceiling", "is 20~ppm\n  as a ceiling"),
        ("ends with 5\n%", "ends with 5~%\n"),
    ],
)
def test_units_stay_with_their_numbers(written: str, shown: str) -> None:
    """Also where the author's line ended between them."""
    assert held_together(written).replace("\u00a0", "~") == shown


@pytest.mark.parametrize(
    "written",
    [
        "write `12 kg` there", "```\nwater: 12 kg\n```", "12 gates", "3 more", "at 3 mgx",
        "4 m^2", "1 2", "a kg", "12 days", "[table](x.md#12-kg)",
    ],
)
def test_code_and_words_stay_as_they_are(written: str) -> None:
    """What is typed must be copied with a plain space."""
    assert held_together(written) == written


@pytest.mark.parametrize("page", LESSONS, ids=lambda page: page.relative_to(COURSE).as_posix())
def test_only_spaces_change(page: Path) -> None:
    """Every page keeps its words and its number of lines, by which faults are told."""
    text = page.read_text(encoding="utf-8")
    held = held_together(text)
    assert re.sub(r"\s+", " ", held.replace("\u00a0", " ")) == re.sub(r"\s+", " ", text)
    assert held.count("\n") == text.count("\n")
