"""What belongs together on paper stands together, and is said in words that fit."""

import re
from pathlib import Path

import openpyxl  # type: ignore[import-untyped]
import pytest

from on_paper import text_of
from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import System
from waterleaf.draw import draw
from waterleaf.exercise import Exercise, pose
from waterleaf.marking.feedback import CommonSlip
from waterleaf.marking.sheetmarks import Outcome
from waterleaf.marking.tableout import write_xlsx
from waterleaf.sheets import paper
from waterleaf.sheets.feedback import Feedback, feedback, lesson
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press
from waterleaf.sheets.report import again_lines

TOPICS = ("solids", "energy", "loop", "sugar")
BANK = load_bank(Path(__file__).parents[2] / "question_bank")


def posed(families: list[str], system: System) -> tuple[Exercise, ...]:
    """An exercise of each family."""
    return tuple(pose(draw(BANK[name], 5), system) for name in families)


def pages_of(kind: str, style: Style, families: list[str], tmp_path: Path) -> list[list[str]]:
    """Lines of each page of a worksheet or a key, without head and foot."""
    sheet = Sheet(posed(families, style.system))
    data = (paper.worksheets if kind == "worksheet" else paper.keys)([sheet], style)
    (tmp_path / "sheet.pdf").write_bytes(Press(kind).pdf(data))
    pages = text_of(tmp_path / "sheet.pdf").split("\f")[:-1]
    return [[line.strip() for line in page.splitlines() if line.strip()][1:-1] for page in pages]


def of_topic(topic: str) -> list[str]:
    """Families of a topic."""
    return [name for name in BANK if name.startswith(f"{topic}/")]


def test_an_answer_table_stands_behind_its_last_cell_and_before_the_decision(tmp_path: Path) -> None:
    """Each cell bears the label of its question, on the page where the last of these questions stands."""
    pages = pages_of("worksheet", Style(system="us"), ["feed/daily_feed", "solids/which_settler"], tmp_path)
    page = next(page for page in pages if any(line.startswith("2d") for line in page))
    text = "\n".join(page)
    places = [text.index(words) for words in ("into cell 2d of the table", "How fast the water rises", "Larger tank")]
    assert places == sorted(places)
    assert re.search(r"Larger tank\s+2b\s+ft/day\s+2d", text)
    every = "\n".join(line for page in pages for line in page)
    assert every.index("Larger tank ") < every.index("2e ")


@pytest.mark.parametrize("size", ["11pt", "16pt"])
@pytest.mark.parametrize("topic", TOPICS)
def test_a_question_stands_on_the_page_of_its_story(topic: str, size: str, tmp_path: Path) -> None:
    """The heading of an exercise, its story and its first question are never on two pages."""
    pages = pages_of("worksheet", Style(size=size), of_topic(topic), tmp_path)
    for number, exercise in enumerate(posed(of_topic(topic), "metric"), start=1):
        letter = "a" if len(exercise.parts) > 1 else ""
        title, ask = exercise.family.file.title, exercise.parts[0].ask[:20]
        titled, asked = (
            [place for place, page in enumerate(pages) if any(re.match(wanted, line) for line in page)]
            for wanted in (rf"{number} +{re.escape(title)}", rf"{number}{letter} +{re.escape(ask)}")
        )
        assert len(titled) == 1
        assert titled == asked


@pytest.mark.parametrize("style", [Style(), Style(paper="letter", system="us")], ids=["a4", "letter"])
@pytest.mark.parametrize("topic", TOPICS)
def test_no_page_of_a_key_ends_with_known_values(topic: str, style: Style, tmp_path: Path) -> None:
    """At the foot of a page stands working, an answer or what earns marks: no heading, no value still to be used."""
    pages = pages_of("key", style, of_topic(topic), tmp_path)
    assert len(pages) > 2
    parts = [part for exercise in posed(of_topic(topic), style.system) for part in exercise.parts]
    asks = {part.ask[:20] for part in parts}
    meanings = {meaning for part in parts for _, _, meaning in part.given}
    for page in pages[:-1]:
        last = page[-1]
        assert not any(ask in last for ask in asks), last
        assert not any(last.endswith(meaning) and "=" in last for meaning in meanings), last


@pytest.mark.parametrize("size", ["9pt", "11pt", "13pt", "16pt"])
def test_no_line_ends_inside_a_unit(size: str, tmp_path: Path) -> None:
    """A number and its unit stay on one line, also where the unit has strokes in it."""
    names = [*of_topic("energy"), *of_topic("feed"), *of_topic("crops")]
    lines = [line for page in pages_of("worksheet", Style(system="us", size=size), names, tmp_path) for line in page]
    assert any("Btu/" in line for line in lines)
    assert not [line for line in lines if line.endswith("/")]


def right(answer: str, echo: str) -> Outcome:
    """A right answer as the marking leaves it."""
    return Outcome("1a", "feed/daily_feed", "daily", answer, "right", "Right.", echo, 3, 3)


@pytest.mark.parametrize(
    ("answer", "echo", "said"),
    [
        ("12 kg", "read as 12 kg", ""),
        ("1,200 g", "read as 1200 g", "read as 1200 g"),
        ("12kg", "read as 12 kg", "read as 12 kg"),
    ],
)
def test_feedback_says_how_an_answer_was_read_where_that_is_news(answer: str, echo: str, said: str) -> None:
    """What was read letter for letter is not said twice, nor is the verdict."""
    exercise = pose(draw(BANK["loop/tank_turnover"], 5), "metric")
    sheet = feedback([Feedback("AB3D-EFGH", "Ines", [exercise], [right(answer, echo)])], Style())["sheets"][0]
    part = sheet["items"][0]["parts"][0]
    assert (part["echo"], part["verdict"], part["says"]) == (said, "Right", "")


def test_the_place_of_a_lesson_is_said_in_words() -> None:
    """No file name or mark of a link stands on paper."""
    assert lesson("energy#sun-and-shadow") == "energy, sun and shadow"


def test_turns_stand_behind_a_title_with_one_mark() -> None:
    """A title that is a question gets no colon as well."""
    slips = [
        CommonSlip("1a", name, "a", "gave the latitude", "energy#sun", 2, 9)
        for name in ("energy/vine_row_shadow", "feed/daily_feed")
    ]
    assert again_lines(slips, BANK) == [
        "Will the row of vines shade the bed? gave the latitude", "Feed for the raft beds: gave the latitude"
    ]  # fmt: skip


@pytest.mark.parametrize(("number", "words"), [(0, "0 sheets"), (1, "1 sheet"), (2, "2 sheets")])
def test_one_thing_is_not_called_several(number: int, words: str) -> None:
    """One sheet, two sheets."""
    assert paper.counted(number, "sheet") == words


def test_columns_of_a_spreadsheet_are_as_wide_as_their_texts(tmp_path: Path) -> None:
    """A name is not cut off, and a long remark does not fill the screen."""
    write_xlsx(tmp_path / "t.xlsx", "Marks", ["1a", "name", "remark"], [[3, "Ines Okafor-Lindqvist", "x" * 200]])
    columns = openpyxl.load_workbook(tmp_path / "t.xlsx").active.column_dimensions
    widths = [columns[letter].width for letter in "ABC"]
    assert widths[1] > len("Ines Okafor-Lindqvist")
    assert widths[0] < widths[1] < widths[2] <= 40
