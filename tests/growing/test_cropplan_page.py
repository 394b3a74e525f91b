"""The choice of crops on one page: what would have to change, and what a square metre is worth."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pikepdf
import pytest
import yaml

from on_paper import plain
from waterleaf.commands.growing import choose_crops
from waterleaf.growing.cropplan import CropPlan, choose
from waterleaf.growing.cropplan_change import entries, markets
from waterleaf.growing.cropplan_page import html, page_data
from waterleaf.growing.cropplan_words import entry_lines, market_line, space_line
from waterleaf.growing.system import read_growing

DEMO = Path(__file__).parents[2] / "course" / "demo" / "growing.yaml"
SYSTEM = read_growing(DEMO)
PLAN = choose(SYSTEM)


def with_crop(tmp_path: Path, name: str, **changes: str) -> CropPlan:
    """The demo's plan with one crop changed."""
    raw: dict[str, Any] = yaml.safe_load(DEMO.read_text(encoding="utf-8"))
    raw["crops"][name].update(changes)
    path = tmp_path / "g.yaml"
    path.write_text(yaml.safe_dump(raw), encoding="utf-8")
    return choose(read_growing(path))


def area_of(plan: CropPlan, crop: str) -> float:
    """What a crop gets."""
    return next(area for one, area in zip(plan.candidates, plan.areas, strict=True) if one.name == crop)


def test_a_left_out_crop_falls_short_by_what_it_would_push_out() -> None:
    """By hand: 6 mol of lamps at their shadow price and a square metre at its own, less the crop's own margin."""
    entry = entries(PLAN)[0]
    bed, _, lamp = PLAN.worths
    cucumber = next(one for one in PLAN.candidates if one.name == "cucumber")
    assert entry.crop == "cucumber"
    assert entry.gap == pytest.approx(6 * lamp.more + bed.more - cucumber.margin, abs=1e-4)
    assert entry.needed == pytest.approx(4.2 + entry.gap * 14 / (18 * 0.93), abs=1e-3)


@pytest.mark.parametrize(("beyond", "comes"), [(0.99, False), (1.01, True)])
def test_the_price_that_is_named_is_the_one_that_lets_a_crop_in(tmp_path: Path, beyond: float, comes: bool) -> None:
    """A hundredth less than the price and it stays out, a hundredth more and it gets space."""
    needed = entries(PLAN)[0].needed
    found = with_crop(tmp_path, "cucumber", price_by_weight=f"{needed * beyond:.4f} dollar/kg")
    assert (area_of(found, "cucumber") > 0.01) is comes


@pytest.mark.parametrize(("beyond", "comes"), [(1.02, False), (0.98, True)])
def test_the_light_that_is_named_is_the_one_that_lets_a_crop_in(tmp_path: Path, beyond: float, comes: bool) -> None:
    """The sun brings 12 mol; the named need comes from the lamps on top of it."""
    lamp = entries(PLAN)[0].lamp
    assert lamp is not None
    found = with_crop(tmp_path, "cucumber", light=f"{12 + lamp * beyond:.4f} mol/m^2/day")
    assert (area_of(found, "cucumber") > 0.01) is comes


def test_a_fuller_market_brings_what_is_said(tmp_path: Path) -> None:
    """A tenth of a square metre more lettuce to sell brings a tenth of the sum."""
    market = next(one for one in markets(PLAN) if one.crop == "lettuce")
    found = with_crop(tmp_path, "lettuce", largest_area="14.1 m^2")
    assert found.margin - PLAN.margin == pytest.approx(0.1 * market.more, rel=1e-3)
    assert market_line(market).startswith("Lettuce fills its market of 14\u00a0m² (151\u00a0ft²).")


def test_a_crop_as_good_as_those_that_stand_is_told_so(tmp_path: Path) -> None:
    """No gap, no price to ask for."""
    entry = replace(entries(PLAN)[0], gap=0.0)
    assert entry_lines(entry) == ["Cucumber gets no space, but would earn as much as what stands there."]


def test_the_worth_of_a_square_metre_is_said_in_a_sentence_in_both_systems() -> None:
    """Dollars a week for a square metre and a square foot, and how far that holds."""
    assert space_line(PLAN.worths[0]).startswith("One more square metre of bed is worth $1.06 a week ($0.10 a square ")
    assert "do not build it" in space_line(replace(PLAN.worths[0], more=0.0))


def test_limits_markets_and_prices_have_their_units_in_both_systems() -> None:
    """By hand: 14 m2 are 151 square feet, and $4.20 a kilogram are $1.91 a pound; what a price holds for has a unit."""
    told = plain(" ".join(page_data(SYSTEM, PLAN)["worths"] + page_data(SYSTEM, PLAN)["changes"]))
    assert "19.9 of 19.9 m² (215 ft²) used" in told
    assert "for up to 0.388 m² more" in told
    assert "for up to 0.423 mol a day more" in told
    assert "fills its market of 14 m² (151 ft²)" in told
    assert "instead of $4.20 per kg ($1.91 per lb)" in told


def test_the_printed_choice_is_one_tagged_page(tmp_path: Path) -> None:
    """PDF/UA-1 by its own mark, and no second page."""
    pdf, page = tmp_path / "crops.pdf", tmp_path / "crops.html"
    choose_crops(DEMO, "", False, page, pdf)
    with pikepdf.open(pdf) as found:
        assert len(found.pages) == 1
        assert "pdfuaid" in str(found.open_metadata())
    assert page.read_text(encoding="utf-8") == html(SYSTEM, PLAN)


def test_one_page_of_html_needs_nothing_else_and_says_it_all() -> None:
    """No address is asked for; each crop, limit, change and bed stands on it."""
    page = html(SYSTEM, PLAN)
    data = page_data(SYSTEM, PLAN)
    assert "default-src 'none'" in page
    assert "src=" not in page
    for line in (*data["worths"], *data["changes"], data["space"], data["beds_line"]):
        assert line in page
    assert [row[0] for row in data["rows"]] == ["lettuce", "basil", "cucumber", "kale"]


def test_a_program_is_told_what_would_have_to_change() -> None:
    """The same figures as on the page."""
    found = json.loads(choose_crops(DEMO, "", True)[0])
    assert found["would_come_in"][0]["crop"] == "cucumber"
    assert found["full_markets"][0]["crop"] == "lettuce"
