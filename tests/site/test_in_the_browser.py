"""The built site in a real browser: from a folder, without a network, by keyboard, and through axe."""

import re
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from on_a_page import STANDARD, answer, drawn, middle
from waterleaf.bank.builder import load_bank

ROOT = Path(__file__).parents[2]
pytestmark = pytest.mark.browser
WIDTHS = (1280, 320)
SCHEMES = ("light", "dark")


# One page of each kind; the walk over every page stands in test_every_page.py.
KINDS = (
    "index.html", "solids/index.html", "feed/daily_feed.html", "lookup/tables.html", "instructors/safety.html",
    "practice/record.html",
)


def test_no_kind_of_page_breaks_an_accessibility_rule(opened: Any, site: Path) -> None:
    """axe finds no WCAG 2.2 A or AA violation, wide and light, and narrow and dark."""
    found = []
    for width, scheme in zip(WIDTHS, SCHEMES, strict=True):
        page = opened(KINDS[0], width, scheme)
        for path in KINDS:
            page.goto((site / path).as_uri())
            page.wait_for_load_state("load")
            found += [
                f"{path} {width} {scheme}: {violation['id']} {violation['nodes'][0]['target']}"
                for violation in Axe().run(page, options=STANDARD).response["violations"]
            ]
    assert found == []


def test_search_finds_words_without_a_network(opened: Any) -> None:
    """The search box works from a folder."""
    page = opened("index.html")
    page.locator("[data-md-component=search-query]").click()
    page.keyboard.type("clarifier")
    page.wait_for_selector(".md-search-result__item", timeout=10_000)
    assert page.locator(".md-search-result__item").count() > 0


def test_practice_judges_answers_and_names_wrong_turns(opened: Any, site: Path) -> None:
    """Right, right without a unit, a slip with its lesson, nonsense: each gets its own reply."""
    page = opened("feed/daily_feed.html")
    expected = drawn(page, "feed/daily_feed")["parts"][0]["expected"][0]
    key = middle(expected)
    assert answer(page, f"{key:.0f} g/day").startswith("Right.")
    assert answer(page, f"{key / 1000:.4f} kg per day").startswith("Right.")
    assert answer(page, f"{key:.0f}").startswith("Nearly.")
    assert answer(page, f"{key:.0f} kg/day").startswith(("Nearly.", "Not yet."))
    slip = sum(expected["slips"][2]) / 2
    said = answer(page, f"{slip:.0f} g/day")
    assert "looks like the feed for a week" in said
    assert "lesson" in said
    assert answer(page, "a lot").startswith("I cannot read this yet. I cannot find a number")
    assert answer(page, " ").startswith("There is no answer here yet.")
    assert answer(page, "<img src=x onerror=alert(1)>")
    assert page.locator(".wl-practice img").count() == 0


def test_practice_can_be_walked_by_keyboard_alone(opened: Any) -> None:
    """Tab reaches every control in order; working and another set take the focus with them."""
    page = opened("feed/daily_feed.html")
    page.locator(".wl-question input").first.focus()
    names = []
    for _ in range(4):
        names.append(page.evaluate("document.activeElement.textContent || document.activeElement.type"))
        page.keyboard.press("Tab")
    assert names == ["text", "Check my answer", "Give me a hint", "Show the working"]
    page.get_by_role("button", name="Show the working").first.focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Go straight to the working").focus()
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.classList.contains('wl-working')")
    assert page.locator(".wl-working math").count() > 0
    before = page.locator(".wl-practice").inner_text()
    page.get_by_role("button", name="Other numbers").press("Enter")
    assert page.locator(".wl-practice").inner_text() != before
    assert "Set 2 of 50" in page.locator(".wl-practice").inner_text()


def test_practice_changes_units(opened: Any) -> None:
    """The same draw in US customary units has another key and another unit."""
    page = opened("feed/daily_feed.html")
    page.get_by_label("US customary").check()
    expect(page.locator(".wl-practice")).to_contain_text("ft²")
    assert "lb/day" in page.locator(".wl-question").first.inner_text()


def test_a_timetable_has_a_box_for_each_time(opened: Any) -> None:
    """Four flushes, four boxes, and clock times are read."""
    page = opened("solids/flush_times.html")
    times = drawn(page, "solids/flush_times")["parts"][1]["expected"]
    section = page.locator(".wl-question").nth(1)
    boxes = section.locator("input")
    assert boxes.count() == len(times)
    for index, time in enumerate(times):
        minutes = round(middle(time) * 60)
        boxes.nth(index).fill(f"{minutes // 60}:{minutes % 60:02d}")
    section.get_by_role("button", name="Check my answer").click()
    assert section.locator(".wl-verdict").inner_text().startswith("Right.")


def test_a_choice_is_made_with_radio_buttons(opened: Any) -> None:
    """Each wrong option says why; the right one is confirmed."""
    page = opened("sugar/may_we_say_sweeter.html")
    right = drawn(page, "sugar/may_we_say_sweeter")["parts"][1]["expected"][0]["right"][0]
    section = page.locator(".wl-question").nth(1)
    verdicts = {}
    for letter in "ABCD":
        section.locator(f"input[value={letter}]").check()
        section.get_by_role("button", name="Check my answer").click()
        verdicts[letter] = section.locator(".wl-verdict").inner_text()
    assert verdicts.pop(right).startswith("Right.")
    assert all(text.startswith("Not yet.") and len(text) > 20 for text in verdicts.values())


@pytest.mark.whole
def test_every_practice_page_shows_a_story_and_its_working(opened: Any, site: Path) -> None:
    """No pattern is left unfilled and no page stays empty, in both systems of units."""
    for path in sorted(load_bank(ROOT / "question_bank")):
        page = opened(f"{path}.html")
        for system, name in (("metric", "Metric"), ("us", "US customary")):
            page.get_by_label(name, exact=True).check()
            drawn(page, path, system)  # the page shows a set as soon as its file is there
            for section in page.locator(".wl-question").all():
                section.get_by_role("button", name="Show the working").click()
                for straight in section.get_by_role("button", name="Go straight to the working").all():
                    straight.click()
            text = page.locator(".wl-practice").inner_text()
            assert "\x01" not in text
            assert "undefined" not in text
            assert len(text) > 200, path
            assert page.locator(".wl-working").count() == page.locator(".wl-question").count()
        page.close()


def test_formulas_are_spoken(opened: Any) -> None:
    """The accessibility tree has the words of a formula, not its letters."""
    page = opened("feed/index.html")
    sides = page.locator(".wl-formula").first.locator("math").all()
    spoken = " ".join(side.get_attribute("aria-label") for side in sides)
    assert spoken == "daily feed equals growing area of the beds times feed ratio"


def test_lessons_print_without_navigation(opened: Any) -> None:
    """On paper there is text and no furniture."""
    page = opened("feed/index.html")
    page.emulate_media(media="print")
    assert not page.locator(".md-header").is_visible()
    assert not page.locator(".md-sidebar").first.is_visible()
    assert page.locator(".wl-worked").first.is_visible()


def test_no_key_or_student_is_in_the_site(site: Path) -> None:
    """Built pages hold practice sets, which check themselves, and nothing of sheets that are handed in."""
    assert not list(site.rglob("*.pdf"))
    assert not any(re.search(r"settings\.yaml$", path.name) for path in site.rglob("*"))
