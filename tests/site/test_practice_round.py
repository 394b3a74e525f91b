"""A round across topics, in a real browser: by keyboard, in both units, with missing files, and through axe."""

from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from on_a_page import STANDARD, kept

pytestmark = pytest.mark.browser
PAGE = "practice/round.html"
# The name of what has the focus; null where nothing has it.
FOCUSED = """() => {
    const node = document.activeElement;
    const label = node.labels && node.labels.length ? node.labels[0].textContent : "";
    return node === document.body ? null : node.textContent.trim() || label;
}"""


def begin(page: Any, *topics: str) -> None:
    """Tick some topics alone and start."""
    page.get_by_role("button", name="Tick none").click()
    for topic in topics:
        page.get_by_label(topic, exact=True).check()
    page.get_by_role("button", name="Start the round").click()
    expect(page.locator(".wl-story")).to_be_visible()


def title(page: Any) -> str:
    """The exercise that is shown."""
    text: str = page.locator("#wl-round h2").inner_text()
    return text


def take_the_working(page: Any) -> None:
    """Miss the exercise: the working without an answer."""
    page.get_by_role("button", name="Show the working").first.click()
    straight = page.get_by_role("button", name="Go straight to the working")
    if straight.count():
        straight.first.click()
    page.locator(".wl-working").first.wait_for()


def test_a_round_is_walked_by_keyboard_alone(opened: Any) -> None:
    """From the topics to the second exercise and back with Tab, Space and Enter; the focus is always on something."""
    page = opened(PAGE)

    def to(name: str, most: int = 40) -> None:
        for _ in range(most):
            page.keyboard.press("Tab")
            focused = page.evaluate(FOCUSED)
            assert focused is not None
            if focused == name:
                return
        raise AssertionError(f"{name} was not reached")

    page.locator("#wl-round input[type=radio]").first.focus()
    to("Loop")
    page.keyboard.press("Space")
    to("Start the round")
    page.keyboard.press("Enter")
    expect(page.locator("#wl-round h2")).to_be_focused()
    first = title(page)
    page.locator(".wl-story").wait_for()
    to("Check my answer")
    page.keyboard.press("Enter")
    expect(page.locator(".wl-verdict").first).not_to_be_empty()
    to("Show the working")
    page.keyboard.press("Enter")
    expect(page.locator(".wl-offer")).to_be_focused()
    to("Go straight to the working", 2)
    page.keyboard.press("Enter")
    expect(page.locator(".wl-working")).to_be_focused()
    to("Next exercise")
    page.keyboard.press("Enter")
    expect(page.locator("#wl-round h2")).to_be_focused()
    assert title(page) != first
    to("End the round")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Choose your topics")).to_be_focused()


def test_what_was_missed_comes_back_after_three_others(opened: Any) -> None:
    """Miss, three others, and the missed one again, with other numbers."""
    page = opened(PAGE)
    begin(page, "Feed", "Solids")
    missed, story = title(page), page.locator(".wl-story").inner_text()
    seen = []
    for _ in range(4):
        take_the_working(page)
        page.get_by_role("button", name="Next exercise").click()
        page.locator(".wl-story").wait_for()
        seen.append(title(page))
    assert missed not in seen[:3]
    assert seen[3] == missed
    expect(page.locator("#wl-round")).to_contain_text("it is due again")
    assert page.locator(".wl-story").inner_text() != story


def test_a_round_stays_with_the_topics_that_are_ticked(opened: Any) -> None:
    """Ten exercises from one topic of four, and the tick is remembered."""
    page = opened(PAGE)
    begin(page, "Loop")
    for _ in range(9):
        assert kept(page)["last"].startswith("loop/")
        page.get_by_role("button", name="Next exercise").click()
    page.reload()
    expect(page.get_by_label("Loop", exact=True)).to_be_checked()
    expect(page.get_by_label("Feed", exact=True)).not_to_be_checked()


def test_a_round_needs_a_topic(opened: Any) -> None:
    """Without a tick the page says what to do and puts the focus there."""
    page = opened(PAGE)
    page.get_by_role("button", name="Tick none").click()
    page.get_by_role("button", name="Start the round").click()
    expect(page.get_by_role("status").filter(has_text="Tick at least one topic.")).to_be_visible()
    expect(page.locator(".wl-topics input").first).to_be_focused()


def test_topics_say_what_is_due(opened: Any) -> None:
    """The day after a miss its topic shows one exercise due, and the round starts with it."""
    page = opened(PAGE, day="2026-03-02")
    begin(page, "Money")
    missed = title(page)
    take_the_working(page)
    page.clock.set_fixed_time("2026-03-03T12:00:00Z")
    page.reload()
    expect(page.locator(".wl-topics")).to_contain_text("Money (1 due)")
    page.get_by_role("button", name="Start the round").click()
    assert title(page) == missed


def test_the_end_of_a_round_sums_it_up(opened: Any) -> None:
    """Done, right at once, and which ones come back."""
    page = opened(PAGE)
    begin(page, "Energy")
    missed = title(page)
    take_the_working(page)
    page.get_by_role("button", name="End the round").click()
    told = page.get_by_role("status").filter(has_text="The round is over")
    expect(told).to_have_text(f"The round is over: 1 exercise done, 0 right at once. These come back soon: {missed}.")


def test_units_change_within_a_round(opened: Any) -> None:
    """The same exercise is shown again in the other system."""
    page = opened(PAGE)
    begin(page, "Feed")
    before, name = page.locator(".wl-story").inner_text(), title(page)
    page.get_by_label("US customary").check()
    expect(page.locator(".wl-story")).not_to_have_text(before)
    assert title(page) == name
    expect(page.get_by_label("US customary")).to_be_focused()


def test_a_caution_stands_before_the_task(opened: Any) -> None:
    """A family's warning comes into the round with it."""
    page = opened(PAGE)
    begin(page, "Loop")
    order = page.locator("#wl-round").inner_text()
    assert 0 < order.index("Take care") < order.index(page.locator(".wl-story").inner_text())


def test_a_missing_file_is_told_and_is_no_dead_end(opened: Any) -> None:
    """The round says so and goes on with the next exercise."""
    page = opened(PAGE, before="window.addEventListener('DOMContentLoaded', () => { "
                  "if (window.Waterleaf) Waterleaf.sets.need = (key, system, index, use, fail) => fail(); });")
    page.get_by_role("button", name="Start the round").click()
    expect(page.locator("#wl-round")).to_contain_text("The file of this exercise is missing")
    name = title(page)
    page.get_by_role("button", name="Next exercise").click()
    assert title(page) != name


def test_sets_are_loaded_only_when_they_are_needed(opened: Any) -> None:
    """The page of the round loads no sets; each exercise then loads one file."""
    page = opened(PAGE)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.reload()
    assert not [url for url in asked if "/sets/" in url]
    begin(page, "Feed")
    assert len([url for url in asked if "/sets/" in url]) == 1


def broken_rules(page: Any) -> list[str]:
    """What axe finds, wide and narrow, in light and dark."""
    found = []
    for scheme, name in (("light", "default"), ("dark", "slate")):
        page.emulate_media(color_scheme=scheme)
        # As the theme does it; it looks at the system's wish only when a page is opened.
        page.evaluate("name => document.body.setAttribute('data-md-color-scheme', name)", name)
        for width in (1280, 320):
            page.set_viewport_size({"width": width, "height": 800})
            violations = Axe().run(page, options=STANDARD).response["violations"]
            found += [f"{scheme} {width}: {one['id']} {one['nodes'][0]['target']}" for one in violations]
    return found


def test_choosing_topics_breaks_no_accessibility_rule(opened: Any) -> None:
    """axe finds nothing among the topics."""
    assert broken_rules(opened(PAGE)) == []


def test_an_exercise_breaks_no_accessibility_rule(opened: Any) -> None:
    """axe finds nothing with a verdict, the working of one question and the offer of another shown."""
    page = opened(PAGE)
    begin(page, "Feed")
    while page.locator(".wl-question").count() < 2:
        page.get_by_role("button", name="Next exercise").click()
        page.locator(".wl-story").wait_for()
    take_the_working(page)
    page.get_by_role("button", name="Check my answer").first.click()
    page.get_by_role("button", name="Show the working").last.click()
    assert (page.locator(".wl-working").count(), page.locator(".wl-offer").count()) == (1, 1)
    assert broken_rules(page) == []


# 320 pixels are 1280 at 400 %; 640 are 1280 at 200 %.
@pytest.mark.parametrize("width", [320, 640])
def test_practice_does_not_scroll_sideways_when_enlarged(opened: Any, site: Path, width: int) -> None:
    """A round with its working, and the overview with its tables, fit a narrow page."""
    page = opened(PAGE, width)
    begin(page, "Sugar")
    take_the_working(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.goto((site / "practice/record.html").as_uri())
    page.get_by_role("button", name="Clear my practice").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_nothing_moves_where_less_motion_is_wished(opened: Any) -> None:
    """No element of a round has a transition or an animation."""
    page = opened(PAGE)
    begin(page, "Feed")
    moving = page.evaluate("""() => [...document.querySelectorAll('#wl-round *')].filter((node) => {
        const style = getComputedStyle(node);
        return parseFloat(style.transitionDuration) > 0 || style.animationName !== 'none';
    }).length""")
    assert moving == 0
