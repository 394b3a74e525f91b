"""What stands around every page: the foot, the page for a wrong address, the way by keyboard, and paper."""

from pathlib import Path
from typing import Any

import jinja2
import pytest

THEME = Path(__file__).parents[2] / "generator" / "waterleaf" / "site" / "theme"

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("path", ["index.html", "feed/daily_feed.html"])
def test_every_link_at_the_foot_leads_to_a_page(opened: Any, path: str) -> None:
    """The links are written in the theme, where the link checker of the site does not look."""
    links = opened(path).locator("footer a").evaluate_all("nodes => nodes.map(node => new URL(node.href).pathname)")
    assert len(links) == 4
    assert [link for link in links if not Path(link).is_file()] == []


def test_the_page_for_a_wrong_address_needs_no_other_file(site: Path) -> None:
    """A server may show it at any depth, where no style or script of the course would be found."""
    text = (site / "404.html").read_text(encoding="utf-8")
    assert "<script" not in text
    assert 'rel="stylesheet"' not in text
    assert "No page of the course stands at this address" in text
    assert "href" not in text  # nobody has said where the course begins


def test_the_page_for_a_wrong_address_leads_to_the_course_where_the_settings_name_it() -> None:
    """A link from the root of the server would miss a course that lies deeper."""
    theme = jinja2.Environment(loader=jinja2.FileSystemLoader(THEME), autoescape=True)
    told = theme.get_template("404.html").render(config={"site_url": "https://school.example/growing/"})
    assert '<a href="https://school.example/growing/index.html">' in told


def test_only_boxes_that_scroll_are_stops_for_the_keyboard(opened: Any) -> None:
    """Wide open no table scrolls; on a phone the wide ones do, and each says which one it is."""
    path = "lookup/relations-solids.html"
    assert opened(path).locator("article [tabindex='0']").count() == 0
    stops = opened(path, 390).locator("article [tabindex='0'][role=region]")
    names = stops.evaluate_all("nodes => nodes.map(node => node.getAttribute('aria-label'))")
    assert len(names) > 10
    assert len(set(names)) == len(names)


def test_a_box_that_begins_to_scroll_keeps_its_name(opened: Any) -> None:
    """Turning a tablet makes the same table scroll, and it is named as before."""
    page = opened("lookup/tables.html")
    table = page.locator(".wl-wide").first
    assert table.get_attribute("role") is None
    page.set_viewport_size({"width": 320, "height": 800})
    page.wait_for_selector(".wl-wide[role=region]")
    assert str(table.get_attribute("aria-label")).startswith("Add to the reading")


@pytest.mark.parametrize(
    ("path", "columns"),
    [
        ("lookup/symbols.html", "3"), ("lookup/glossary.html", "2"), ("lookup/sources.html", "2"),
        ("feed/index.html", "auto"),
    ],
)
def test_look_up_pages_print_in_columns_and_lessons_do_not(opened: Any, path: str, columns: str) -> None:
    """Short entries share a sheet; a lesson with a heading of the same name is left alone."""
    page = opened(path, 794)
    page.emulate_media(media="print")
    assert page.locator("article").evaluate("node => getComputedStyle(node).columnCount") == columns


def test_a_plan_of_weeks_stands_as_cards_on_a_phone(opened: Any) -> None:
    """Six columns do not fit: the last cell of a week lies on the screen, and says what it is about."""
    cell = opened("instructors/term-plans.html", 390).locator(".wl-weeks td:nth-child(6)").first
    box = cell.bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 390
    assert cell.evaluate("node => getComputedStyle(node, '::before').content") == '"Class trial: "'


def test_a_plan_of_weeks_takes_the_whole_sheet_on_paper(opened: Any) -> None:
    """Squeezed into a part of the width it took twice the sheets; it may end a sheet between two weeks."""
    page = opened("instructors/term-plans.html", 794)
    page.emulate_media(media="print")
    table = page.locator(".wl-weeks table").first
    width = "node => node.getBoundingClientRect().width"
    assert table.evaluate(width) == pytest.approx(page.locator(".wl-weeks").first.evaluate(width), abs=2)
    assert table.evaluate("node => getComputedStyle(node).breakInside") == "auto"


def test_the_arrow_beside_a_topic_has_a_name_and_a_state(opened: Any) -> None:
    """It opens and shuts the list of a topic's pages, by Enter and by Space."""
    page = opened("feed/daily_feed.html")
    arrow = page.get_by_role("button", name="Pages of Feed")
    assert arrow.get_attribute("aria-expanded") == "true"
    arrow.focus()
    for key, state in ((" ", "false"), ("Enter", "true")):
        page.keyboard.press(key)
        assert arrow.get_attribute("aria-expanded") == state


@pytest.mark.parametrize("path", ["instructors/assign.html", "feed/daily_feed.html"])
def test_what_the_theme_leaves_nameless_is_named_or_hidden(opened: Any, path: str) -> None:
    """A reader of screens hears neither "image" for each icon nor a list without a name."""
    page = opened(path)
    assert page.locator("svg:not([role]):not([aria-hidden=true])").count() == 0
    names = page.locator("nav").evaluate_all(
        "nodes => nodes.map(node => node.getAttribute('aria-label') || "
        "(label => label.getAttribute('aria-label') || label.textContent.trim())"
        "(document.getElementById(node.getAttribute('aria-labelledby'))))"
    )
    assert len(names) > 3
    assert all(names)
