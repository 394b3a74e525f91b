"""A plan is checked before anything is planted, and cannot be changed quietly afterwards."""

import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from scipy import stats
from trial_plans import plan, write_plan

from waterleaf.commands.trial import plan_trial, start_trial
from waterleaf.faults import Faults
from waterleaf.trial import power
from waterleaf.trial.frozen import differences, fingerprint, freeze, frozen_path, thaw
from waterleaf.trial.layout import lay_out
from waterleaf.trial.plan import load_plan
from waterleaf.trial.planning import as_text, examine

DESIGNS: dict[str, dict[str, Any]] = {
    "random": {},
    "blocked": {"design": "blocked", "units_each": 5},
    "latin": {"design": "latin", "units_each": 3},
    "paired": {"design": "paired", "methods": ["soil", "raft"], "units_each": 6},
}


def test_start_lays_down_a_plan_that_is_sound(tmp_path: Path) -> None:
    """The template passes its own check, and a file that is there is not touched."""
    start_trial(tmp_path / "spring lettuce")
    assert load_plan(tmp_path / "spring lettuce.yaml").name == "spring-lettuce"
    with pytest.raises(Faults, match="is there already"):
        start_trial(tmp_path / "spring lettuce.yaml")


def test_every_fault_stands_with_its_line(tmp_path: Path) -> None:
    """All faults at once, each with file, line and field."""
    path = write_plan(tmp_path / "p.yaml", unit="plant", sead=4)
    with pytest.raises(Faults) as caught:
        load_plan(path)
    lines = path.read_text(encoding="utf-8").splitlines()
    for field in ("unit", "sead"):
        number = next(i for i, line in enumerate(lines, start=1) if line.startswith(f"{field}:"))
        assert any(str(fault).startswith(f"p.yaml:{number}: {field}: ") for fault in caught.value.faults)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"design": "paired"}, "paired takes two methods"),
        ({"design": "latin"}, "a Latin square of 3 methods has 3 units"),
        ({"design": "latin", "methods": ["a", "b"]}, "no room for error"),
        ({"blocks": ["north", "south"]}, "random has no blocks"),
        ({"design": "blocked", "blocks": ["north", "south"]}, "2 names for 4 blocks"),
        ({"methods": ["raft", "Raft"]}, "stands twice"),
        ({"test": "welch"}, "Write adjust: holm"),
        ({"smallest_difference": 0.01}, "could not be seen"),
        ({"units_each": 50, "methods": list("abcdefgh")}, None),
        ({"panel": {"tests": ["triangle"], "assessors": 12, "products": ["soil", "sand"]}}, "not among the methods"),
        (
            {"panel": {"tests": ["triangle"], "assessors": 12, "products": ["soil", "raft", "hydroponic"]}},
            "two products",
        ),
    ],
)
def test_fields_that_do_not_go_together_are_refused(changes: dict[str, Any], message: str | None) -> None:
    """What only shows when fields are read together; four hundred units are still allowed."""
    if message is None:
        assert plan(**changes).units_each == 50
        return
    with pytest.raises(Faults, match=message):
        plan(**changes)


def test_a_sugar_reading_has_one_unit_and_a_mass_has_no_other() -> None:
    """A unit that does not measure the response is refused."""
    with pytest.raises(Faults, match="degBx"):
        plan(response={"kind": "sugar", "name": "sugar", "unit": "percent", "high": 32, "step": 0.1})
    with pytest.raises(Faults, match="unit of mass"):
        plan(response={"kind": "mass", "name": "yield", "unit": "litre", "high": 900, "step": 1})


@pytest.mark.parametrize("design", DESIGNS)
def test_the_layout_comes_from_the_seed_and_keeps_the_design(design: str) -> None:
    """Same seed, same layout; every block, row and column holds each method once; codes differ in two places."""
    made = plan(**DESIGNS[design])
    units = lay_out(made)
    assert units == lay_out(made)
    assert units != lay_out(made.model_copy(update={"seed": made.seed + 1}))
    assert set(Counter(unit.method for unit in units).values()) == {made.units_each}
    for part in ("block", "row", "column"):
        groups = {getattr(unit, part) for unit in units if getattr(unit, part)}
        for group in groups:
            inside = sorted(unit.method for unit in units if getattr(unit, part) == group)
            assert inside == sorted(made.methods)
    codes = [unit.code for unit in units]
    assert min(sum(a != b for a, b in zip(x, y, strict=True)) for x in codes for y in codes if x != y) > 1
    assert len(set(codes)) == len({unit.place for unit in units}) == len(units)


def test_every_arrangement_of_two_pairs_comes_up_equally_often() -> None:
    """The draw favours no side: over 400 seeds each of four arrangements within four standard errors of a quarter."""
    made = plan(design="paired", methods=["soil", "raft"], units_each=2)
    counts = Counter(
        tuple(unit.method for unit in lay_out(made.model_copy(update={"seed": seed}))) for seed in range(400)
    )
    assert len(counts) == 4
    assert max(abs(count - 100) for count in counts.values()) < 4 * (400 * 0.25 * 0.75) ** 0.5


def test_a_later_edit_is_named(tmp_path: Path) -> None:
    """A changed plan is told apart from the frozen one, and so is a changed frozen file."""
    path = write_plan(tmp_path / "p.yaml")
    made = load_plan(path)
    assert differences(thaw(path), made) == [
        "The plan was never frozen: nothing shows that it was made before the data."
    ]
    freeze(made, path, "2026-03-02")
    frozen = thaw(path)
    assert frozen is not None
    assert frozen.fingerprint == fingerprint(made, lay_out(made))
    assert differences(frozen, made) == []
    edited = load_plan(write_plan(path, significance=10, smallest_difference=0.2))
    assert differences(frozen, edited) == [
        "smallest_difference was 0.5 when frozen and is 0.2 now.",
        "significance was 5.0 when frozen and is 10.0 now.",
    ]
    with pytest.raises(Faults, match="another fingerprint"):
        freeze(edited, path, "2026-03-09")
    data = json.loads(frozen_path(path).read_text(encoding="utf-8"))
    data["plan"]["significance"] = 10.0
    frozen_path(path).write_text(json.dumps(data), encoding="utf-8")
    assert "The frozen plan itself was changed after it was frozen." in differences(thaw(path), made)


def test_a_broken_frozen_plan_is_refused(tmp_path: Path) -> None:
    """No traceback for a file that is not what it should be."""
    path = write_plan(tmp_path / "p.yaml")
    for text in ("{", "[]", '{"plan": {}}', "\x00"):
        frozen_path(path).write_text(text, encoding="utf-8")
        with pytest.raises(Faults, match="can be read"):
            thaw(path)


@pytest.mark.parametrize("changes", [{"units_each": 1}, {"shared_supply": True}])
def test_an_unreplicated_trial_is_told_that_nothing_can_be_tested(changes: dict[str, Any]) -> None:
    """One tank of each kind, or many on one supply, is one unit, however many plants are measured."""
    made = plan(readings=20, **changes)
    answers = examine(made)
    text = as_text(made, answers)
    assert answers.strongest == ("observed_not_tested",)
    assert answers.power is None
    assert "Nothing can be tested" in text
    assert "sub-samples" in text


def test_more_plants_never_replace_units() -> None:
    """Power rises with plants a tank only up to what the tanks alone allow."""
    few, many = plan(readings=5), plan(readings=200)
    bound = power.claim_power(power.shape_of(many), many.smallest_difference, many.spread.between_units)
    assert power.plan_power(few) < power.plan_power(many) < bound + 0.1


@pytest.mark.parametrize(
    ("groups", "each", "spread", "expected"),
    [(2, 64, 0.5, 80.146), (2, 26, 0.8, 80.749), (2, 17, 1.0, 80.704)],
)
def test_power_of_two_groups_agrees_with_the_published_sizes(
    groups: int, each: int, spread: float, expected: float
) -> None:
    """Cohen's cases for two means, recomputed from the noncentral t by another library."""
    shape = power.Shape("random", groups, each, 5.0)
    assert power.main_test_power(shape, spread, 1.0) == pytest.approx(expected, abs=0.001)
    assert power.claim_power(shape, spread, 1.0) == pytest.approx(expected, abs=0.001)


def test_power_of_blocks_uses_the_error_that_blocks_leave() -> None:
    """Four blocks of three leave six degrees of freedom; the curve is scipy's noncentral F."""
    shape = power.Shape("blocked", 3, 4, 5.0)
    assert shape.error_freedom == 6
    expected = 100 * stats.ncf.sf(stats.f.isf(0.05, 2, 6), 2, 6, 4 * 2 * 0.5**2)
    assert power.main_test_power(shape, 1.0, 1.0) == pytest.approx(expected, rel=1e-9)
    assert power.Shape("latin", 5, 5, 5.0).error_freedom == 12


def test_size_and_detectable_difference_agree_with_power() -> None:
    """The size found is the smallest that reaches the wish, and the detectable difference has just that power."""
    made = plan()
    needed = power.units_needed(made)
    assert needed is not None
    assert power.plan_power(made, needed) >= made.power > power.plan_power(made, needed - 1)
    shape = power.shape_of(made)
    found = power.detectable_difference(shape, 0.5, 80.0)
    assert found is not None
    assert power.claim_power(shape, found, 0.5) == pytest.approx(80.0, abs=1e-6)


def test_power_of_equivalence_grows_with_the_margin() -> None:
    """A simulated power that agrees with the normal limit where there are many units."""
    shape = power.Shape("paired", 2, 200, 5.0)
    error = (2 / 200) ** 0.5
    found = power.equivalence_power(shape, 0.3, 1.0, 7)
    limit = 100 * (2 * stats.norm.cdf(0.3 / error - stats.norm.isf(0.05)) - 1)
    assert found == pytest.approx(limit, abs=1.5)
    assert power.equivalence_power(shape, 0.2, 1.0, 7) < found < power.equivalence_power(shape, 0.4, 1.0, 7)


@pytest.mark.parametrize("design", DESIGNS)
def test_the_plan_command_says_what_it_found(design: str, tmp_path: Path) -> None:
    """Answer, layout and fingerprint for every design."""
    path = write_plan(tmp_path / "p.yaml", **DESIGNS[design])
    text = plan_trial(path, freeze_it=True, show_layout=True)
    assert "degrees of freedom" in text
    assert re.search(r"fingerprint [0-9a-f]{32}", text)
    assert "Nothing has changed since." in plan_trial(path, freeze_it=False, show_layout=False)
