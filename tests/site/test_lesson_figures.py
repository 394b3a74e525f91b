"""Figures say what the relations say, can be read on a phone, and take their colours from the page."""

import re
from pathlib import Path

import pytest

from waterleaf.site.figures import FIGURES

COURSE = Path(__file__).parents[2] / "course"
# A column of text on a phone 390 pixels wide, and the smallest letters that we ask anybody to read there.
PHONE_COLUMN = 350
SMALLEST_LETTERS = 9.0
# Numbers that each figure must show, by hand or from the publication named.
SHOWN = [
    ("pearson-square", ["31 parts", "4 parts", "11.4 %", "88.6 %"], "Wagner and Stanton 2012: 4 of 35 parts"),
    ("settling-tank", ["605 m/day", "47 m/day", "0.93 mm/s"], "7 and 0.5448 mm/s times 86.4; 80 / 86.4"),
    ("shadow-hours", ["4.4 m", "1.8 m", "0.7 m"], "2 m over the tangents of 24.55, 48 and 71.45 degrees"),
    ("standing-order", ["3 in the nursery, 5 in the bed", "10 m²"], "21 days are 3 weeks; 50 x 5 / 25"),
    ("like-shape", ["0.46", "0.22", "2.15"], "0.1 to the powers 1/3, 2/3 and -1/3"),
    ("cut-again", ["2.33", "3.27", "4.45", "5.56", "9.30"], "216, 304, 413, 517 and 864 g/ft2 times 10.764"),
    ("nitrogen-flow", ["29 %", "10 %", "33 %", "27 %"], "105.0, 36.5, 120 and 96.9 of 358.4 g"),
]


@pytest.fixture(scope="module")
def figures() -> dict[str, str]:
    """Every figure, drawn once."""
    return {name: draw() for name, draw in FIGURES.items()}


@pytest.mark.parametrize(("name", "numbers", "source"), SHOWN, ids=[row[0] for row in SHOWN])
def test_figure_shows_the_numbers(name: str, numbers: list[str], source: str, figures: dict[str, str]) -> None:
    """What a figure prints or tells is what its source, worked by hand, gives."""
    assert [number for number in numbers if number not in figures[name]] == [], source


def test_streams_of_nitrogen_add_up(figures: dict[str, str]) -> None:
    """No nitrogen is drawn twice: the shares of the ends are the whole, but for rounding."""
    shares = [int(share) for share in re.findall(r">[^<>]+, (\d+) %</text>", figures["nitrogen-flow"])]
    assert len(shares) == 4
    assert abs(sum(shares) - 100) <= 2


def test_speeds_are_drawn_to_scale(figures: dict[str, str]) -> None:
    """The arrows of the settling tank are as long as the speeds that they stand for."""
    upright = r'd="M(\d+) (\d+) L\1 ([\d.]+)" fill="none" stroke="currentColor" stroke-width="1.8"'
    ends = re.findall(upright, figures["settling-tank"])
    rise, down, grain = (abs(float(ends[i][2]) - float(ends[i][1])) for i in (0, 3, 4))
    assert down / rise == pytest.approx(604.8 / 80, rel=0.01)
    assert grain / rise == pytest.approx(47.07 / 80, rel=0.01)


@pytest.mark.parametrize("name", FIGURES)
def test_figure_can_be_read_on_a_phone(name: str, figures: dict[str, str]) -> None:
    """Letters are not shrunk below nine pixels where the figure fills a phone's column."""
    width = float(re.search(r'viewBox="0 0 ([\d.]+) ', figures[name])[1])  # type: ignore[index]
    sizes = [float(size) for size in re.findall(r"font(?:-size)?[=:] ?\"?([\d.]+)", figures[name])]
    assert sizes
    assert min(sizes) * PHONE_COLUMN / width >= SMALLEST_LETTERS


@pytest.mark.parametrize("name", FIGURES)
def test_figure_takes_its_colours_from_the_page(name: str, figures: dict[str, str]) -> None:
    """No colour is fixed, so that a figure shows in light, in dark and on paper; a text and a caption stand for it."""
    svg = figures[name]
    assert re.findall(r"(?:fill|stroke)[=:] ?\"?#[0-9a-f]{3,6}", svg) == []
    assert re.search(r'role="img" aria-label="[^"]{40,}"', svg), "give a sentence that tells what the figure shows"
    assert re.search(r"<figcaption>[^<]{30,}</figcaption>", svg), "give a caption that says what to see in it"


def test_every_figure_is_in_a_lesson() -> None:
    """No figure is drawn for nobody, and no page asks for one that is not drawn."""
    pages = [page.read_text(encoding="utf-8") for page in COURSE.rglob("*.md")]
    shown = {name for page in pages for name in re.findall(r"^\[\[figure ([a-z0-9-]+)\]\]$", page, re.MULTILINE)}
    assert shown == set(FIGURES)
