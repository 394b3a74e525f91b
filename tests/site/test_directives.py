"""What a lesson asks for in double brackets is put in, or refused with the line and what would be accepted."""

import re
from dataclasses import replace
from html import escape
from pathlib import Path

import pytest

from classroom import BANK
from waterleaf.bank.builder import load_bank
from waterleaf.faults import Faults
from waterleaf.home import Settings
from waterleaf.site.pages import Course, expand

ROOT = Path(__file__).parents[2]
COURSE = Course(ROOT, Settings(), BANK, {}, {"water-loop": "<svg></svg>"})


def test_a_directive_is_carried_out_on_a_line_of_its_own() -> None:
    """Within a sentence it stays as it was written."""
    assert expand(COURSE, "[[figure water-loop]]\n", "loop/index.md") == "<svg></svg>\n"
    assert expand(COURSE, "Write [[figure water-loop]].\n", "loop/index.md") == "Write [[figure water-loop]].\n"


@pytest.mark.parametrize(("line", "said"), [
    ("[[figure water-lop]]", "nothing is called 'water-lop'. Did you mean water-loop?"),
    ("[[table brix]]", "nothing is called 'brix'."),
    ("[[formula dayly_feed]]", "nothing is called 'dayly_feed'. Did you mean daily_feed"),
    ("[[worked feed/daily]]", "nothing is called 'feed/daily'. Did you mean feed/daily_feed?"),
    ("[[picture water-loop]]", "[[picture ...]] is not known. Write worked, formula, practice, "),
    ("[[figure water-loop small]]", "has too many or too few words."),
])
def test_a_directive_that_cannot_be_carried_out_is_told(line: str, said: str) -> None:
    """File, line, the directive, and the name that was probably meant."""
    with pytest.raises(Faults) as caught:
        expand(COURSE, f"# Loop\n\n{line}\n", "loop/index.md")
    assert str(caught.value).startswith("course/loop/index.md:3: ")
    assert said in str(caught.value)


def test_a_worked_example_prints_the_caution_of_its_family() -> None:
    """Whoever follows the sum in a lesson reads the same warning as whoever works it on a sheet."""
    lessons = [page.read_text(encoding="utf-8") for page in (ROOT / "course").rglob("*.md")]
    asked = {name for text in lessons for name in re.findall(r"^\[\[worked (\S+)", text, re.M)}
    bank = load_bank(ROOT / "question_bank", asked)
    careful = {name for name in asked if bank[name].file.caution}
    assert careful
    for name in asked:
        shown = expand(replace(COURSE, bank=bank), f"[[worked {name}]]\n", "loop/index.md").replace("\u00a0", " ")
        caution = " ".join((bank[name].file.caution or "").split())
        assert (f"Take care.</strong> {escape(caution)}" in shown) is (name in careful)
