"""What is for instructors alone is looked for in the very bytes of what goes to students."""

import re
from pathlib import Path

import pytest

from on_paper import text_of
from waterleaf.bank.builder import load_bank
from waterleaf.draw import distinct_draws
from waterleaf.exercise import Exercise, pose
from waterleaf.home import Settings
from waterleaf.marking.tabular import read_table
from waterleaf.printing import make_sheets, print_packet
from waterleaf.sheets.paper import Style

ROOT = Path(__file__).parents[2]
KEYS = ("feed/daily_feed", "solids/flush_times", "sugar/mean_and_spread")
BANK = load_bank(ROOT / "question_bank", KEYS)
COUNT = 6


def bands(exercises: list[Exercise]) -> set[str]:
    """The ends of the accepted bands of numbers, as the site writes them; short ones could stand anywhere."""
    found = {
        repr(float(f"{end:.12g}")) for exercise in exercises for part in exercise.parts for end in (part.low, part.high)
        if isinstance(end, float)
    }
    return {text for text in found if len(text.strip("0.")) >= 6}


def all_bytes(folder: Path) -> bytes:
    """Every file of a folder, one after the other."""
    return b"\n".join(path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file())


def test_no_band_of_a_worksheet_lies_in_the_site(site: Path) -> None:
    """Practice has bands of its own in a family's files, and by these the search shows that it finds what is there."""
    seed = Settings().seed
    for family in BANK.values():
        own = [path for path in site.rglob("*") if path.is_file() and family.key.split("/")[1] in path.name]
        raw = b"\n".join(path.read_bytes() for path in own)
        practice = bands([pose(drawn, "metric") for drawn in distinct_draws(family, f"practice-{seed}", 50)])
        printed = bands([pose(drawn, "metric") for drawn in distinct_draws(family, seed, COUNT)]) - practice
        assert all(text.encode() in raw for text in practice), family.key
        assert len(printed) >= 4, family.key
        assert [text for text in printed if text.encode() in raw] == [], family.key


def test_no_draw_and_no_code_of_a_worksheet_lies_in_the_site(site: Path) -> None:
    """From either, the key could be made again; the draws of practice are there."""
    raw = all_bytes(site)
    sheets = list(make_sheets(list(BANK.values()), Settings().seed, COUNT, Style("Ostrel Quay College")))
    told = [sheet.code for sheet in sheets]
    told += [exercise.draw.seed + '"' for sheet in sheets for exercise in sheet.exercises]
    assert [text for text in told if text.encode() in raw] == []
    family = next(iter(BANK.values()))
    first = next(distinct_draws(family, f"practice-{Settings().seed}", 1))
    assert f'{first.seed}"'.encode() in raw


def test_no_key_stands_on_a_worksheet(tmp_path: Path) -> None:
    """Each printed key is read off the key's page, and looked for on the sheet in vain."""
    style = Style("Ostrel Quay College", "Worksheet")
    sheets = list(make_sheets(list(BANK.values()), 1, COUNT, style))
    worksheets, keys = tmp_path / "worksheets", tmp_path / "keys"
    for folder in (worksheets, keys):
        folder.mkdir()
    print_packet(sheets, COUNT, style, worksheets, keys, "sheet", separate=True)
    looked_for = 0
    for sheet in sheets:
        on_sheet, on_key = (
            re.sub(r"\s", " ", text_of(folder / f"sheet-{sheet.code}{end}.pdf"))
            for folder, end in ((worksheets, ""), (keys, "-key"))
        )
        for exercise in sheet.exercises:
            known = " ".join([exercise.story, *(part.ask for part in exercise.parts), repr(exercise.table)])
            for part in exercise.parts:
                key = re.compile(rf"(?<![\w.-]){re.escape(part.key_text.split(', ')[0])}(?![\w.-])")
                if len(part.key_text) < 3 or key.search(known):
                    continue
                looked_for += 1
                assert key.search(on_key), (sheet.code, part.key_text)
                assert not key.search(on_sheet), (sheet.code, part.key_text)
    assert looked_for > 3 * COUNT


def test_no_name_of_a_student_lies_in_the_site(site: Path) -> None:
    """The class of the course's own demo, and the secret and book of any class."""
    raw = all_bytes(site)
    names = [row.cells["name"] for row in read_table(ROOT / "course" / "demo" / "class.csv", ("id", "name")).rows]
    assert len(names) > 3
    assert [name for name in names if name.encode() in raw] == []
    assert not [path for path in site.rglob("*") if re.search(r"class|secret|issue-book|key", path.name)]


@pytest.mark.parametrize("word", ["waterleaf-issue-book", "class-secret.txt\"", "decisions.csv\""])
def test_nothing_of_a_class_folder_lies_in_the_site(site: Path, word: str) -> None:
    """Forms of the files that a class folder keeps; the guides name the files, and hold none."""
    assert word.encode() not in all_bytes(site)
