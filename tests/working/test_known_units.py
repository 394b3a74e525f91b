"""The table of units holds what pint says, so that nothing changes where it is used instead."""

import json
import math

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.home import find_home
from waterleaf.known_units import known_units
from waterleaf.working import units

TABLE = json.loads(units.KNOWN.read_text(encoding="utf-8"))


def test_the_table_is_what_pint_says_of_the_bank_as_it_is() -> None:
    """To the last bit; `python -m waterleaf.known_units` writes it anew."""
    assert known_units(load_bank(find_home() / "question_bank")) == TABLE


def test_a_unit_that_is_not_in_the_table_is_asked_of_pint() -> None:
    """A family of one's own may use any unit: a furlong is 660 feet (computed from its definition, 220 yards)."""
    assert "furlong" not in TABLE["measures"]
    assert units.dimensions("furlong") == units.dimensions("m")
    assert units.factor("furlong", "ft") == pytest.approx(660, rel=1e-5)  # a survey foot is 2 ppm longer
    assert units.size("furlong").factor == pytest.approx(201.168, rel=1e-5)


def test_one_way_and_back_is_where_it_started() -> None:
    """Every pair of the table, both ways."""
    for unit, into in ((unit, into) for unit, found in TABLE["factors"].items() for into in found):
        assert math.isclose(units.factor(unit, into) * units.factor(into, unit), 1, rel_tol=1e-14), (unit, into)


@pytest.mark.parametrize("text", ["", "flurble", "3 kg", "10**10**10", "kg/"])
def test_what_is_no_unit_is_refused_or_pure(text: str) -> None:
    """Nothing at all is a pure number; nonsense is said to be no unit."""
    if not text:
        assert units.dimensions(text) == ()
    else:
        with pytest.raises(ValueError, match="is not a unit"):
            units.dimensions(text)
