"""Finished HTML is kept out of the Markdown reader and put back as it was; nothing else is."""

import re
from pathlib import Path

import pytest
from markdown import Markdown

from waterleaf.bank.builder import load_bank
from waterleaf.home import Settings
from waterleaf.site import pages
from waterleaf.site.aside import put_back, set_aside
from waterleaf.site.figures import FIGURES
from waterleaf.site.pages import Course

ROOT = Path(__file__).parents[2]
EXTENSIONS = ["admonition", "attr_list", "def_list", "md_in_html", "tables", "toc"]
BLOCK = '<div class="wl-worked"><p>A <b>story</b></p><table><tr><td>1</td></tr></table></div>'


def read(text: str) -> str:
    """A page as the reader makes it."""
    return str(Markdown(extensions=EXTENSIONS).convert(text))


def lines(html: str) -> str:
    """The page with a line for each element: the reader ends a line after a block, and a browser sees no difference."""
    return re.sub(r">\s*<", ">\n<", html)


@pytest.mark.parametrize(
    "text",
    [
        f"# Head\n\n{BLOCK}\n\nText *here*.\n",
        f"{BLOCK}\n\n{BLOCK}",
        f"Text\n\n{BLOCK}\n",
        f"Text\n\n{BLOCK}<table><tr><td>x</td></tr></table>\n\n## Head {{ #there }}",
        f"Text\n\n{BLOCK}\n<table><tr><td>x</td></tr></table>\n{BLOCK}\n\nText",
        f'<figure class="wl-figure" id="figure-one"><svg><g id="a"/></svg></figure>\n\n- one\n- two\n\n{BLOCK}\n\nEnd',
    ],
)
def test_a_page_is_the_same_with_its_blocks_aside(text: str) -> None:
    """The reader hands a block on as it is; so does putting it back."""
    short, blocks = set_aside(text)
    assert blocks
    assert "<td>" not in short and "<svg>" not in short
    assert lines(put_back(read(short), blocks)) == lines(read(text))


@pytest.mark.parametrize(
    "text",
    [
        "Text with <b>bold</b> in it.",
        f"    {BLOCK}\n",  # a listing
        f"Text\n{BLOCK}\n",  # the reader decides what this is
        f"{BLOCK} and text\n",
        f"{BLOCK}\nand text\n",
        '<div class="wl-practice">\n<p>Needs a script.</p>\n</div>\n',
        '<div class="a" markdown="1">*text*</div>\n',
        "<p>one</p>\n",
    ],
)
def test_anything_else_is_left_to_the_reader(text: str) -> None:
    """Only a paragraph whose lines begin and end with an element is a finished block."""
    assert set_aside(text) == (text, [])


def test_a_link_to_a_figure_still_leads_somewhere() -> None:
    """The stand-in bears the ids of its block, but for those inside of a drawing."""
    short, _ = set_aside('<figure id="figure-one"><svg><g id="inner"/></svg><p id="two">x</p></figure>')
    assert re.findall(r'id="([^"]+)"', short) == ["figure-one", "two"]


def test_every_lesson_is_the_same_with_its_blocks_aside() -> None:
    """The pages as they are."""
    figures = {name: draw() for name, draw in FIGURES.items()}
    course = Course(ROOT, Settings(), load_bank(ROOT / "question_bank"), figures=figures)
    several = 0
    for path in sorted((ROOT / "course").rglob("*.md")):
        text = pages.expand(course, path.read_text(encoding="utf-8"), path.relative_to(ROOT / "course").as_posix())
        short, blocks = set_aside(text)
        several += len(blocks)
        assert lines(put_back(read(short), blocks)) == lines(read(text)), path.name
    assert several > 100  # else nothing was tried
