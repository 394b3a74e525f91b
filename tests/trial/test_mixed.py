"""The mixed model agrees with unit means where both are right, and steps back where it is not sound."""

import pytest
from test_analysis import OATS, SCALE, analysed
from trial_plans import plan

from waterleaf.trial.analysis import analyse
from waterleaf.trial.intake import Reading
from waterleaf.trial.layout import lay_out

UNEQUAL = {"soil": [[5.0, 5.3], [4.2, 4.5, 4.1, 4.4], [5.9]], "raft": [[6.0, 6.4, 6.1], [7.2], [5.1, 5.4, 5.2, 5.3]]}


def test_oats_by_the_mixed_model_are_tested_on_whole_plots() -> None:
    """Row TP06: F 1.48534 on 2 and 10, p 0.272387, from all 72 sub-plots and not from their means."""
    found = analysed(OATS, design="blocked", test="mixed")
    assert found.mixed is not None
    assert found.mixed_leads
    assert (found.mixed.freedom, found.mixed.ratio) == (10, pytest.approx(1.48534, rel=1e-3))
    assert found.main_p == pytest.approx(0.272387, abs=1e-3)
    assert {pair.statement for pair in found.pairs} == {"could_not_tell"}


def test_with_equal_numbers_of_readings_the_two_agree() -> None:
    """Difference and standard error of every pair, unit means beside the mixed model."""
    found = analysed(OATS, design="blocked")
    assert found.mixed is not None and found.fit is not None
    assert not found.mixed_leads
    for one, two in ((0, 1), (0, 2), (1, 2)):
        assert found.mixed.difference(one, two) == pytest.approx(found.fit.difference(one, two), rel=1e-3)


def test_with_unequal_numbers_a_unit_with_more_readings_weighs_more() -> None:
    """The mixed model leads, keeps the freedom of the units, and parts from plain unit means."""
    made = plan(methods=["soil", "raft"], units_each=3, readings=4, response=SCALE, test="mixed")
    units = lay_out(made)
    left = {method: iter(rows) for method, rows in UNEQUAL.items()}
    readings = [
        Reading(unit.code, n, value, value, "") for unit in units for n, value in enumerate(next(left[unit.method]), 1)
    ]
    found = analyse(made, units, readings, margin_stands=True)
    assert found.mixed is not None and found.fit is not None
    assert found.mixed_leads
    assert found.pairs[0].freedom == 4
    assert found.mixed.means[0] != pytest.approx(found.fit.means[0], abs=1e-3)


def test_where_units_do_not_differ_at_all_unit_means_lead() -> None:
    """A spread between units of nought would let the plants in by the back door; the box on page one tells."""
    same = [[4.0, 5.0, 6.0, 7.0], [7.0, 4.0, 5.0, 6.0], [6.0, 7.0, 4.01, 5.0]]
    found = analysed({"soil": same, "raft": [[value + 1 for value in plot] for plot in same]}, test="mixed")
    assert found.mixed is not None and found.mixed.trouble
    assert not found.mixed_leads
    assert any("Unit means lead in its place" in note for note in found.notes)
    assert found.fit is not None and found.main_p == found.fit.table[0].p
