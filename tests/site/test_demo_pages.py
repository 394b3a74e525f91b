"""The pages on the invented college's own system: figures for each event, and a game that runs on what it is given."""

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from waterleaf.growing.system import read_growing
from waterleaf.growing.term_events import read_events
from waterleaf.growing.watch import Watch
from waterleaf.site import demo
from waterleaf.site.practice import script_text

ROOT = Path(__file__).parents[2]
SYSTEM = read_growing(ROOT / "course" / "demo" / "growing.yaml")


@pytest.fixture(scope="module")
def game() -> dict[str, Any]:
    """The game as the page gets it."""
    return demo.game_data(Watch(SYSTEM, 7))


def test_every_event_of_the_page_can_be_read() -> None:
    """And lies within the days that are shown."""
    for _, typed in demo.SHOWN:
        assert read_events(typed, demo.DAYS)


def test_a_section_shows_the_event_the_crossing_and_a_figure_with_its_words() -> None:
    """The caution stands before what to do."""
    title, typed = demo.SHOWN[1]
    ahead = demo.look_ahead(SYSTEM, demo.DAYS, read_events(typed, demo.DAYS))
    section = demo._section(title, typed, ahead, "ahead-1")
    assert section.startswith("## The pump stops")
    assert section.index("Take care.") < section.index("Add air now")
    assert 'role="img" aria-label="' in section


def test_the_game_has_an_outcome_for_every_choice_after_every_choice(game: dict[str, Any]) -> None:
    """Three outcomes for the first decision, nine for each of the others."""
    counts = [sum(len(found) for found in decision["outcomes"].values()) for decision in game["decisions"]]
    assert counts == [3, 9, 9, 9, 9, 9]


def test_the_first_outcomes_are_those_of_the_booklet(game: dict[str, Any]) -> None:
    """Paper and page tell the same where both start from the plan."""
    watch = Watch(SYSTEM, 7)
    on_page = game["decisions"][0]["outcomes"][""]
    assert {one.letter: one.points for one in watch.outcomes(watch.decisions[0])} == {
        letter: outcome["points"] for letter, outcome in on_page.items()
    }


def test_data_cannot_close_the_script_that_holds_it() -> None:
    """A closing tag in a text is broken up."""
    assert "</script" not in script_text({"text": "</script><b>"})
    assert json.loads(script_text({"text": "</p>"}).replace("<\\/", "</")) == {"text": "</p>"}


@pytest.mark.skipif(shutil.which("node") is None, reason="needs node to read the script")
def test_the_script_of_the_game_can_be_read_by_a_browser() -> None:
    """Its syntax holds, and it asks nothing of the network."""
    script = Path(demo.__file__).parent / "assets" / "crew.js"
    subprocess.run(["node", "--check", str(script)], check=True)
    text = script.read_text(encoding="utf-8")
    assert not any(word in text for word in ("fetch", "XMLHttpRequest", "import(", "innerHTML", "eval"))
