"""Every lesson is whole, in plain words, and spelt as a dictionary has it."""

import re
from itertools import pairwise
from pathlib import Path

import pytest

from waterleaf.bank.prose import misspelt, reading_grade
from waterleaf.calc import TOPICS

COURSE = Path(__file__).parents[2] / "course"
PAGES = sorted(path for path in COURSE.rglob("*.md"))
HARDEST_READING = 9.0
# Headings that every lesson has, in this order; what stands between them is its own.
FRAME = [
    "Why it matters at the tank side",
    "A worked example",
    "The usual slips",
    "Practice",
    "In five lines",
    "Sources",
]


def lesson(topic: str) -> str:
    """A lesson as it was written."""
    return (COURSE / topic / "index.md").read_text(encoding="utf-8")


def section(text: str, heading: str) -> str:
    """What stands below a heading of the second level."""
    return text.split(f"\n## {heading}\n", 1)[1].split("\n## ", 1)[0]


def prose(text: str) -> str:
    """The sentences of a page alone: no tables, formulas, directives, code, links or sources."""
    text = re.split(r"\n## (?:Sources|Also read)\n", text)[0]
    text = re.sub(r"(?s)```.*?```|<[^>]+>|`[^`]*`", " ", text)
    lines = [line for line in text.split("\n") if not re.match(r"\s*(\||\[\[|#|!!!|    [a-z0-9_./]+ [a-z-])", line)]
    text = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", "\n".join(lines))
    # A list item ends as a sentence does.
    text = re.sub(r"([^.:?!\n])\n(?=\s*(?:[-*]|\d+\.) )", r"\1.\n", text)
    return re.sub(r"[*_#>]|^\s*(?:[-*]|\d+\.) ", " ", text, flags=re.MULTILINE)


@pytest.mark.parametrize("topic", TOPICS)
def test_lesson_has_all_its_parts(topic: str) -> None:
    """Why, worked example, slips, practice, summary and sources, in this order, with a figure or a table of the kit."""
    text = lesson(topic)
    headings = re.findall(r"^## (.+)$", text, re.MULTILINE)
    assert [heading for heading in headings if heading in FRAME] == FRAME
    assert "[[worked " in section(text, "A worked example")
    assert "[[practice]]" in section(text, "Practice")
    assert "[[sources]]" in section(text, "Sources")
    assert re.search(r"^\[\[figure ", text, re.MULTILINE)


@pytest.mark.parametrize("topic", TOPICS)
def test_summary_has_five_lines(topic: str) -> None:
    """Five, numbered, each short enough to learn by heart."""
    lines = re.findall(r"^\d\. ((?:.|\n(?!\d\. |\n))+)", section(lesson(topic), "In five lines"), re.MULTILINE)
    assert len(lines) == 5
    assert all(len(line.split()) <= 40 for line in lines)


@pytest.mark.parametrize("topic", TOPICS)
def test_lesson_is_neither_short_nor_long(topic: str) -> None:
    """900 to 1,800 words of prose."""
    assert 900 <= len(prose(lesson(topic)).split()) <= 1800


@pytest.mark.parametrize("path", PAGES, ids=[path.relative_to(COURSE).as_posix() for path in PAGES])
def test_page_reads_easily(path: Path) -> None:
    """Flesch-Kincaid grade 9 at most."""
    assert reading_grade(prose(path.read_text(encoding="utf-8"))) <= HARDEST_READING


@pytest.mark.parametrize("path", PAGES, ids=[path.relative_to(COURSE).as_posix() for path in PAGES])
def test_page_is_spelt_right(path: Path) -> None:
    """Every word is in an English dictionary or in the trade's word list."""
    assert misspelt(prose(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("path", PAGES, ids=[path.relative_to(COURSE).as_posix() for path in PAGES])
def test_page_shouts_at_nobody(path: Path) -> None:
    """No exclamation marks, and no heading level is skipped."""
    text = re.sub(r"!!!|!\[", "", path.read_text(encoding="utf-8"))
    assert "!" not in re.sub(r"(?s)```.*?```|`[^`]*`", "", text)
    levels = [len(marks) for marks in re.findall(r"^(#+) ", text, re.MULTILINE)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


@pytest.mark.parametrize("path", PAGES, ids=[path.relative_to(COURSE).as_posix() for path in PAGES])
def test_pictures_have_a_text_in_their_place(path: Path) -> None:
    """Every picture that a page shows by hand says what it shows."""
    text = path.read_text(encoding="utf-8")
    assert all(alternative.strip() for alternative in re.findall(r"!\[([^\]]*)\]\(", text))
    assert all("alt=" in tag for tag in re.findall(r"<img[^>]*>", text))
