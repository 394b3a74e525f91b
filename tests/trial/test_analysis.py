"""The analysis agrees with certified and published results, keeps its error rate, and counts units, not plants."""

import math
from collections.abc import Sequence
from importlib.resources import files
from typing import Any

import pytest
from trial_plans import plan

from waterleaf.trial.analysis import Analysis, analyse
from waterleaf.trial.checks import look
from waterleaf.trial.intake import Reading
from waterleaf.trial.layout import Unit, lay_out
from waterleaf.trial.model import Point, fit
from waterleaf.trial.statement import make_statement

SCALE = {"kind": "score", "name": "score", "low": -100, "high": 1000, "step": 0.01}

PLANT_GROWTH = {  # Dobson 1983, as shipped with R and pydataset
    "ctrl": [4.17, 5.58, 5.18, 6.11, 4.50, 4.61, 5.17, 4.53, 5.33, 5.14],
    "trt1": [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69],
    "trt2": [6.31, 5.12, 5.54, 5.50, 5.37, 5.29, 4.92, 6.15, 5.80, 5.26],
}
SLEEP = {  # Student 1908
    "first": [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0],
    "second": [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4],
}
# Plot means of four vines each, blocks east, north, west; Maindonald and Braun, kiwishade.
KIWI = {
    "none": [99.025, 104.025, 97.5575],
    "Aug2Dec": [105.555, 103.595, 100.55],
    "Dec2Feb": [88.92, 93.6975, 87.145],
    "Feb2May": [95.88, 92.035, 90.4075],
}
# Yates 1935, split plots of oats: four sub-plots on each whole plot, blocks I to VI.
OATS = {
    "Victory": [[111, 130, 157, 174], [61, 91, 97, 100], [68, 64, 112, 86], [74, 89, 81, 122], [62, 90, 100, 116],
                [53, 74, 118, 113]],
    "Golden rain": [[117, 114, 161, 141], [70, 108, 126, 149], [60, 102, 89, 96], [64, 103, 132, 133],
                    [80, 82, 94, 126], [89, 82, 86, 104]],
    "Marvellous": [[105, 140, 118, 156], [96, 124, 121, 144], [89, 129, 132, 124], [70, 89, 104, 117],
                   [63, 70, 109, 99], [97, 99, 119, 121]],
}  # fmt: skip
# OrchardSprays: treatment, decrease @ row, column.
ORCHARD = (
    "D57@11 E95@21 B8@31 H69@41 G92@51 F90@61 C15@71 A2@81 C84@12 B6@22 H127@32 D36@42 E51@52 A2@62 F69@72 G71@82 "
    "F87@13 H72@23 A5@33 E39@43 D22@53 C16@63 G72@73 B4@83 H130@14 A4@24 E114@34 C9@44 F20@54 G24@64 B10@74 D51@84 "
    "E43@15 D28@25 G60@35 A5@45 C17@55 B7@65 H81@75 F71@85 A12@16 C29@26 F44@36 G77@46 B4@56 D27@66 E47@76 H76@86 "
    "B8@17 G72@27 C13@37 F57@47 A4@57 H81@67 D20@77 E61@87 G80@18 F114@28 D39@38 B14@48 H86@58 E55@68 A3@78 C19@88"
)


def analysed(groups: dict[str, Sequence[Any]], **changes: Any) -> Analysis:
    """Published values put through the whole analysis, each unit in its block, with one or several readings."""
    each = len(next(iter(groups.values())))
    first = next(iter(groups.values()))[0]
    count = len(first) if isinstance(first, list) else 1
    made = plan(
        **{"methods": list(groups), "units_each": each, "readings": count, "response": SCALE,
           "smallest_difference": 0.5, **changes}
    )  # fmt: skip
    readings: list[Reading] = []
    left = {method: iter(values) for method, values in groups.items()}
    units = lay_out(made)
    for unit in units:
        found = next(left[unit.method])
        values = found if isinstance(found, list) else [found]
        readings += [Reading(unit.code, n, float(v), float(v), "") for n, v in enumerate(values, start=1)]
    return analyse(made, units, readings, margin_stands=True)


def nist(name: str) -> tuple[list[Point], dict[str, float]]:
    """A set of the NIST statistical reference datasets, from the scipy wheel, with its certified values."""
    lines = (files("scipy") / f"stats/tests/data/nist_anova/{name}.dat").read_text(encoding="utf-8").splitlines()
    words = [line.split() for line in lines]
    between = next(w for w in words if w[:1] == ["Between"])
    within = next(w for w in words if w[:1] == ["Within"])
    data = [w for w in words[60:] if len(w) == 2]
    certified = {"between": float(between[-3]), "within": float(within[-2]), "f": float(between[-1])}
    return [Point(float(value), group) for group, value in data], certified


@pytest.mark.parametrize(
    ("name", "relative"), [("SiRstv", 1e-9), ("AtmWtAg", 1e-9), ("SmLs01", 1e-9), ("SmLs04", 1e-8), ("SmLs07", 1e-3)]
)
def test_certified_analysis_of_variance(name: str, relative: float) -> None:
    """NIST's certified squares and F; the last set has thirteen constant leading digits, more than a float can keep."""
    points, certified = nist(name)
    assert len(points) in (25, 48, 189)
    found = fit(points, sorted({point.method for point in points}), "random")
    methods, error = found.table[0], found.table[-2]
    assert methods.squares == pytest.approx(certified["between"], rel=relative)
    assert error.squares == pytest.approx(certified["within"], rel=relative)
    assert methods.f_ratio == pytest.approx(certified["f"], rel=relative)


def test_plant_growth_agrees_with_published_results() -> None:
    """F, Tukey's intervals and p values, Levene, Shapiro: rows G1, G3 and G4."""
    found = analysed(PLANT_GROWTH)
    assert found.fit is not None
    assert found.fit.table[0].f_ratio == pytest.approx(4.84608786, rel=1e-8)
    assert found.main_p == pytest.approx(0.01590996, rel=1e-6)
    pairs = {(pair.first, pair.second): pair for pair in found.pairs}
    for (first, second), gap, low, high, p in (
        (("ctrl", "trt1"), 0.371, -0.32021605, 1.06221605, 0.39087114),
        (("ctrl", "trt2"), -0.494, -1.18521605, 0.19721605, 0.19799599),
        (("trt1", "trt2"), -0.865, -1.55621605, -0.17378395, 0.01200642),
    ):
        pair = pairs[first, second]
        assert (pair.difference, pair.low, pair.high) == pytest.approx((gap, low, high), abs=1e-6)
        assert pair.adjusted == pytest.approx(p, abs=1e-6)
    spread, shape, _ = look(found)
    assert spread.p == pytest.approx(0.34122662, abs=1e-7)
    assert shape.p == pytest.approx(0.43789860, abs=1e-6)


def test_only_the_pair_that_tukey_upholds_is_called_higher() -> None:
    """ctrl against trt2 is significant as a trial of two (G7) but not among three pairs, so it may not be said."""
    two = analysed({key: PLANT_GROWTH[key] for key in ("ctrl", "trt2")})
    assert two.main_p == pytest.approx(0.04685138, abs=1e-7)
    assert two.pairs[0].statement == "lower_here"
    found = analysed(PLANT_GROWTH)
    pairs = {(pair.first, pair.second): pair for pair in found.pairs}
    assert pairs["ctrl", "trt2"].statement == "could_not_tell"
    assert pairs["trt1", "trt2"].statement == "lower_here"
    said = make_statement(found, margin_stands=True)
    assert sum("higher by" in line for line in said.may) == 1
    assert any("trt2 above trt1" in line and "higher by 0.865" in line for line in said.may)


def test_welch_agrees_with_published_results() -> None:
    """Rows G6 and G9: two groups, and three."""
    two = analysed({key: PLANT_GROWTH[key] for key in ("trt1", "trt2")}, test="welch", adjust="holm")
    assert two.pairs[0].difference / two.pairs[0].error == pytest.approx(-3.01009854, rel=1e-8)
    assert two.pairs[0].freedom == pytest.approx(14.10356912, rel=1e-8)
    assert (two.pairs[0].low, two.pairs[0].high) == pytest.approx((-1.48091444, -0.24908556), abs=1e-7)
    assert two.main_p == pytest.approx(0.00929840, abs=1e-7)
    assert analysed(PLANT_GROWTH, test="welch", adjust="holm").main_p == pytest.approx(0.01739282, abs=1e-7)


def test_pairs_agree_with_student() -> None:
    """Student's own sleep data, as pairs."""
    found = analysed(SLEEP, design="paired")
    assert found.pairs[0].difference / found.pairs[0].error == pytest.approx(-4.06212768, rel=1e-8)
    assert found.pairs[0].freedom == 9
    assert found.main_p == pytest.approx(0.00283289, abs=1e-8)


def test_blocks_agree_with_kiwishade() -> None:
    """Rows TP01, TP03 and TP04: plot means in three blocks, F, error, and Tukey's least difference."""
    found = analysed(KIWI, design="blocked")
    assert found.fit is not None
    assert found.fit.table[0].f_ratio == pytest.approx(22.21119126, rel=1e-6)
    assert found.main_p == pytest.approx(0.00119422, abs=1e-8)
    assert found.fit.table[-2].squares == pytest.approx(31.39208646, rel=1e-6)
    pair = found.pairs[0]
    assert pair.error == pytest.approx(1.86762138, rel=1e-6)
    assert pair.high - pair.difference == pytest.approx(6.46516652, rel=1e-4)


def test_a_latin_square_agrees_with_orchard_sprays() -> None:
    """Treatments, rows and columns of the eight-by-eight square."""
    points = [Point(float(item[1:-3]), item[0], row=int(item[-2]), column=int(item[-1])) for item in ORCHARD.split()]
    found = fit(points, "ABCDEFGH", "latin")
    treatments, rows, columns, error, _ = found.table
    assert treatments.squares == pytest.approx(56159.984375, rel=1e-10)
    ratios = (treatments.f_ratio, rows.f_ratio, columns.f_ratio)
    assert ratios == pytest.approx((21.06670092, 1.78837599, 1.05304814), rel=1e-7)
    assert (error.freedom, error.mean_square) == (42, pytest.approx(380.83110119, rel=1e-9))


def test_oats_are_tested_on_whole_plots_not_on_sub_plots() -> None:
    """Row PR1, the right unit: p 0.272. The same readings taken for units would have printed a far smaller p."""
    found = analysed(OATS, design="blocked")
    assert found.fit is not None
    assert found.fit.table[0].f_ratio == pytest.approx(1.48534, rel=1e-5)
    assert found.fit.error_freedom == 10
    assert found.main_p == pytest.approx(0.272387, abs=1e-6)
    assert {pair.statement for pair in found.pairs} == {"could_not_tell"}
    assert found.wrong_unit is not None and found.wrong_unit.p is not None
    assert found.wrong_unit.p < found.main_p


def test_oats_on_the_wrong_unit_would_have_been_a_false_alarm() -> None:
    """Row PR2: with the sub-plot treatment taken out, sub-plots taken for units give F 3.809 on 61 for error."""
    plots = [plot for blocks in OATS.values() for plot in blocks]
    lift = [sum(plot[place] for plot in plots) / len(plots) for place in range(4)]
    groups = {
        variety: [[value - mean for value, mean in zip(plot, lift, strict=True)] for plot in blocks]
        for variety, blocks in OATS.items()
    }
    found = analysed(groups, design="blocked")
    assert found.wrong_unit is not None and found.wrong_unit.f_ratio is not None and found.wrong_unit.p is not None
    # Here the three degrees of freedom of the sub-plot treatment are still in the error: 64, not 61.
    assert found.wrong_unit.f_ratio * 61 / 64 == pytest.approx(3.809057, rel=1e-6)
    assert found.wrong_unit.p < 0.05
    assert found.main_p == pytest.approx(0.272387, abs=1e-6)
    assert {pair.statement for pair in found.pairs} == {"could_not_tell"}


@pytest.mark.parametrize("changes", [{"units_each": 1}, {"shared_supply": True}])
def test_an_unreplicated_trial_is_never_tested(changes: dict[str, Any]) -> None:
    """However far apart and however many plants: observed, not tested, and nothing is higher."""
    made = plan(readings=20, response=SCALE, **changes)
    units = lay_out(made)
    level = {"soil": 1.0, "hydroponic": 50.0, "raft": 900.0}
    readings = [Reading(u.code, n, level[u.method] + n / 100, level[u.method] + n / 100, "") for u in units
                for n in range(1, 21)]  # fmt: skip
    found = analyse(made, units, readings, margin_stands=True)
    said = make_statement(found, margin_stands=True)
    assert not found.tested
    assert found.pairs == ()
    assert said.may[0].startswith("Observed here, not tested")
    assert not any(word in line for line in said.may for word in ("sweeter", "higher", "lower", "better"))


def test_similar_is_said_only_by_an_equivalence_test_within_a_margin_that_stands() -> None:
    """The same data: similar with a frozen margin, could not tell without one or with a tight one."""
    groups = {"soil": [5.0, 5.1, 4.9, 5.05, 4.95], "raft": [5.02, 5.08, 4.93, 5.0, 4.99]}
    wide = analysed(groups, aim="equivalence")
    assert wide.pairs[0].alike_p < 0.05
    assert wide.pairs[0].statement == "similar_within_margin"
    tight = analysed(groups, smallest_difference=0.05, aim="equivalence")
    assert tight.pairs[0].alike_p > 0.05
    assert tight.pairs[0].statement == "could_not_tell"
    units = lay_out(wide.plan)
    readings = [Reading(m.unit.code, 1, m.value, m.value, "") for m in wide.unit_means]
    assert analyse(wide.plan, units, readings, margin_stands=False).pairs[0].statement == "could_not_tell"


def test_similar_is_never_said_where_the_plan_did_not_set_out_to_show_it() -> None:
    """The same data under a plan that looks for a difference: could not tell, and the page says why."""
    found = analysed({"soil": [5.0, 5.1, 4.9, 5.05, 4.95], "raft": [5.02, 5.08, 4.93, 5.0, 4.99]})
    assert found.pairs[0].statement == "could_not_tell"
    said = make_statement(found, margin_stands=True)
    assert not any("similar" in line for line in said.may)
    assert any("did not set out to test that" in line for line in said.may_not)


def test_no_report_ever_says_sweeter_from_a_refractometer() -> None:
    """Even a large and certain difference of soluble solids is a reading, not a taste."""
    response = {"kind": "sugar", "name": "soluble solids", "unit": "degBx", "high": 32, "step": 0.1}
    found = analysed({"soil": [4.0, 4.1, 4.2, 4.1], "raft": [7.0, 7.1, 7.2, 7.3]}, response=response)
    said = make_statement(found, margin_stands=True)
    assert "higher by more than" in said.may[0]
    assert not any("sweet" in line for line in said.may)
    assert any("sweeter" in line for line in said.may_not)


def test_readings_that_are_all_equal_are_not_a_result() -> None:
    """No spread, no test, and a note that says so."""
    found = analysed({"soil": [5.1] * 4, "raft": [5.1] * 4})
    assert not found.tested
    assert any("All readings are equal" in note for note in found.notes)


def test_missing_units_leave_a_sound_smaller_trial() -> None:
    """One unit lost: the pair of the broken block falls out, and a lost method is named."""
    whole = analysed(SLEEP, design="paired")
    units, made = lay_out(whole.plan), whole.plan
    kept = [Reading(m.unit.code, 1, m.value, m.value, "") for m in whole.unit_means[1:]]
    less = analyse(made, units, kept, margin_stands=True)
    assert less.pairs[0].freedom == 8
    only = [Reading(m.unit.code, 1, m.value, m.value, "") for m in whole.unit_means if m.unit.method == "first"]
    one = analyse(made, units, only, margin_stands=True)
    assert not one.tested
    assert any("No usable reading of second" in note for note in one.notes)
    assert analyse(made, units, [], margin_stands=True).fit is None


def test_methods_that_no_longer_meet_in_a_block_are_not_compared() -> None:
    """Two methods in the first blocks and the third alone in the others: their difference is that of the blocks."""
    made = plan(design="blocked", units_each=6, readings=1, response=SCALE)
    units = lay_out(made)
    early = {"block 1", "block 2", "block 3"}
    kept = [unit for unit in units if (unit.block in early) == (unit.method != "raft")]
    readings = [Reading(u.code, 1, float(n), float(n), "") for n, u in enumerate(kept)]
    found = analyse(made, units, readings, margin_stands=True)
    assert not found.tested
    assert any("no longer meet" in note for note in found.notes)


def test_unit_means_are_plain_means() -> None:
    """A unit with fewer readings still counts once, and the report is told."""
    unit = [Unit("AA3A", "tank 1", "soil"), Unit("CC4C", "tank 2", "raft")]
    made = plan(response=SCALE)
    readings = [Reading("AA3A", 1, 1.0, 1.0, ""), Reading("AA3A", 2, 2.0, 2.0, ""), Reading("CC4C", 1, 4.0, 4.0, "")]
    found = analyse(made, unit, readings, margin_stands=True)
    assert [mean.value for mean in found.unit_means] == [1.5, 4.0]
    assert any("not equally sure" in note for note in found.notes)
    assert math.isclose(sum(mean.value for mean in found.unit_means), 5.5)


def test_single_unit_groups_are_compared_only_by_the_spread_of_the_others() -> None:
    """One method left with a single unit: still a sound smaller trial, and Welch's test is refused with a note."""
    whole = analysed({"soil": [4.0, 4.1, 4.2, 4.3], "raft": [5.0, 5.2, 5.1, 5.4]})
    units = lay_out(whole.plan)
    first = next(unit for unit in units if unit.method == "soil")
    kept = [Reading(m.unit.code, 1, m.value, m.value, "") for m in whole.unit_means
            if m.unit.method == "raft" or m.unit == first]  # fmt: skip
    pooled = analyse(whole.plan, units, kept, margin_stands=True)
    assert pooled.pairs[0].freedom == 3
    welch = whole.plan.model_copy(update={"test": "welch", "adjust": "holm"})
    refused = analyse(welch, units, kept, margin_stands=True)
    assert not refused.tested
    assert any("Welch's test takes two or more" in note for note in refused.notes)
