"""Draws are sensible, different, and the same everywhere."""

import json
import os
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.bank.models import Given
from waterleaf.draw import NoDraw, bands_touch, check_room, distinct_draws, draw, draw_with, on_grid
from waterleaf.exercise import pose

BANK = load_bank(Path(__file__).parents[1] / "question_bank")
FAMILIES = [pytest.param(family, id=key) for key, family in BANK.items()]

ELSEWHERE = """
import json, sys
from pathlib import Path
from waterleaf.bank.builder import load_bank
from waterleaf.draw import draw
bank = load_bank(Path(sys.argv[1]))
print(json.dumps([[key, n, draw(f, n).texts, draw(f, n).words] for key, f in bank.items() for n in range(3)]))
"""


@pytest.mark.parametrize("seed", ["0", "4711"])
def test_draws_are_the_same_in_another_process(seed: str) -> None:
    """Neither the process, nor its hash seed, nor locale nor time zone changes a value."""
    environment = {**os.environ, "PYTHONHASHSEED": seed, "LC_ALL": "C", "TZ": "Pacific/Auckland"}
    root = Path(__file__).parents[1]
    environment["PYTHONPATH"] = str(root / "generator")
    ran = subprocess.run(
        [sys.executable, "-c", ELSEWHERE, str(root / "question_bank")],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    here = [[key, n, draw(f, n).texts, draw(f, n).words] for key, f in BANK.items() for n in range(3)]
    assert json.loads(ran.stdout) == json.loads(json.dumps(here))


def test_unchanged_first_draws_of_the_oldest_family() -> None:
    """A change here changes every sheet ever printed: raise the family's version instead."""
    texts = [draw(BANK["feed/daily_feed"], number).texts for number in range(3)]
    assert texts == [
        {"bed_area": "51.0", "feed_ratio": "50", "meals": "3"},
        {"bed_area": "27.0", "feed_ratio": "56", "meals": "2"},
        {"bed_area": "21.0", "feed_ratio": "50", "meals": "3"},
    ]


@pytest.mark.parametrize("family", FAMILIES)
def test_a_class_never_holds_two_equal_draws(family: Family) -> None:
    """Two hundred sheets, two hundred sets of numbers."""
    found = list(distinct_draws(family, 7, 200))
    assert len({drawn.fingerprint for drawn in found}) == 200


def test_more_sheets_than_a_range_can_fill_are_refused_at_once() -> None:
    """And not when the last draw that there is has been printed."""
    with pytest.raises(NoDraw, match="its ranges hold 8502 different draws, 10000 are wanted"):
        check_room(BANK["feed/daily_feed"], 10_000)


@pytest.mark.parametrize("family", FAMILIES)
def test_values_lie_on_their_grid(family: Family) -> None:
    """Each drawn number is a whole number of steps from the start of its range."""
    for number in range(50):
        drawn = draw(family, number)
        for name, spec in family.file.given.items():
            if isinstance(spec, Given):
                steps = (Decimal(drawn.texts[name]) - Decimal(repr(spec.from_))) / Decimal(repr(spec.step))
                assert steps == int(steps), (name, drawn.texts[name])
                assert spec.from_ <= drawn.values[name] <= spec.to
            else:
                assert all(spec.low <= value <= spec.high for value in drawn.values[name])


@pytest.mark.parametrize("family", FAMILIES)
def test_no_slip_is_ever_marked_right(family: Family) -> None:
    """In both unit systems the wrong turns lie clear of the key."""
    for number in range(40):
        drawn = draw(family, number)
        for system in ("metric", "us"):
            keys = pose(drawn, system).keys  # type: ignore[arg-type]
            for slip in family.slips:
                wrong = family.slip_value(slip, keys, system)  # type: ignore[arg-type]
                assert wrong is None or not bands_touch(family.parts[slip.file.of], keys[slip.file.of], wrong), (
                    slip.file.turn
                )


@given(
    low=st.integers(0, 1000),
    steps=st.integers(0, 10_000),
    step=st.sampled_from([0.1, 0.25, 0.5, 1, 5, 0.05]),
    share=st.floats(0, 1, exclude_max=True),
)
def test_grid_values_are_exact_decimals(low: int, steps: int, step: float, share: float) -> None:
    """No 0.30000000000000004 on a sheet."""
    high = float(Decimal(low) + steps * Decimal(repr(step)))
    value, text = on_grid(low, high, step, share)
    assert float(text) == value
    assert len(text.partition(".")[2]) <= 2
    assert low <= value <= high


def test_a_family_without_room_says_so() -> None:
    """When every draw is thrown back, the reason is named."""
    family = BANK["feed/daily_feed"]
    narrow = Family(family.key, family.topic, family.file, family.parts, family.slips, ())
    with pytest.raises(NoDraw, match=r"feed/daily_feed: .*outside the valid range"):
        draw_with(narrow, {"bed_area": 0.0})


def test_own_values_replace_drawn_ones() -> None:
    """An exercise can be posed with the class's own numbers."""
    drawn = draw_with(BANK["feed/daily_feed"], {"bed_area": 20.0, "feed_ratio": 60.0})
    assert drawn.keys["feed"] == 1200.0
    assert drawn.texts["bed_area"] == "20"
