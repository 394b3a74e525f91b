"""Proof by simulation: does each analysis keep its error rate, cover the truth, and find what its plan says it finds.

`python -m waterleaf.trial.simulate` prints the tables; a number behind it sets how many trials, 10 000 unless told.

Readings are drawn for the frozen layout, plant by plant, and become unit means as in a report. All trials of a kind are
analysed at once by `fast`; `real_trial` puts single ones of the same trials through the analysis of the report, so that
the two can be held to each other.
"""

import math
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from waterleaf.calc.sugar import t_quantile
from waterleaf.trial import fast, power
from waterleaf.trial.analysis import Analysis, analyse, point_of
from waterleaf.trial.intake import Reading
from waterleaf.trial.layout import Unit, lay_out
from waterleaf.trial.model import Point
from waterleaf.trial.pairs import places
from waterleaf.trial.plan import Plan
from waterleaf.trial.rehearse import Truth

DESIGNS: Final[dict[str, dict[str, Any]]] = {
    "random": {"design": "random"},
    "blocked": {"design": "blocked", "units_each": 5},
    "latin": {"design": "latin", "units_each": 3},
    "paired": {"design": "paired", "methods": ("soil", "raft"), "units_each": 6},
}


@dataclass(frozen=True, slots=True)
class Rates:
    """Shares of trials.

    Main test significant; some pair claimed, as a report would; some interval that all pairs share beside the truth;
    some interval of one pair alone beside the truth, averaged over pairs; the main test on plants taken for units.
    """

    runs: int
    main: float
    claimed: float
    missed: float
    missed_alone: float
    wrong_unit: float

    def margin(self, nominal: float) -> float:
        """Three standard errors of a share that is nominal."""
        return three_errors(nominal, self.runs)


def three_errors(nominal: float, runs: int) -> float:
    """Three standard errors of a share."""
    return 3 * math.sqrt(nominal * (1 - nominal) / runs)


@dataclass(frozen=True, slots=True)
class Drawn:
    """Readings of many trials of one layout, shape (trials, units, plants)."""

    plan: Plan
    units: tuple[Unit, ...]
    truth: Truth
    readings: Any

    @property
    def means(self) -> Any:
        """The unit means, shape (trials, units)."""
        return self.readings.mean(axis=2)


def draw_trials(plan: Plan, truth: Truth, runs: int, seed: int) -> Drawn:
    """Readings with the truth's means, place effects and spreads, bell-shaped."""
    draw, units = np.random.default_rng(seed), lay_out(plan)
    level = np.array([
        truth.means[unit.method]
        + sum(truth.places.get(name, 0.0) for name in (unit.block, f"row {unit.row}", f"column {unit.column}"))
        for unit in units
    ])  # fmt: skip
    between = truth.between_units * draw.standard_normal((runs, len(units), 1))
    within = truth.within_unit * draw.standard_normal((runs, len(units), plan.readings))
    return Drawn(plan, units, truth, level[None, :, None] + between + within)


def real_trial(drawn: Drawn, number: int) -> Analysis:
    """One of the trials through the analysis of the report."""
    readings = [
        Reading(unit.code, plant + 1, float(value), float(value), "")
        for unit, plants in zip(drawn.units, drawn.readings[number], strict=True)
        for plant, value in enumerate(plants)
    ]
    return analyse(drawn.plan, drawn.units, readings, margin_stands=True)


def rates(drawn: Drawn, *, plants_too: bool = True) -> Rates:
    """The rates over trials that are analysed by unit means."""
    plan, level = drawn.plan, drawn.plan.significance / 100
    many = fast.fit_many(drawn.means, where_of(drawn.units), plan.methods, plan.design)
    reach = power.critical_t(power.shape_of(plan))
    alone = t_quantile(1 - level / 2, many.freedom)
    true = np.array([
        drawn.truth.means[plan.methods[one]] - drawn.truth.means[plan.methods[two]]
        for one, two in places(len(plan.methods))
    ])  # fmt: skip
    main = many.p <= level
    claimed = main & np.any(np.abs(many.gaps) > reach * many.errors, axis=1)
    beside = np.abs(many.gaps - true)
    wrong = wrong_unit_p(drawn) <= level if plants_too else np.zeros(1)
    return Rates(
        len(main),
        float(main.mean()),
        float(claimed.mean()),
        float(np.any(beside > reach * many.errors, axis=1).mean()),
        float((beside > alone * many.errors).mean()),
        float(wrong.mean()),
    )


def where_of(units: Sequence[Unit]) -> list[Point]:
    """Where each column of the values stands in the design."""
    return [point_of(unit, 0.0) for unit in units]


def wrong_unit_p(drawn: Drawn) -> Any:
    """p of the main test, had every plant been taken for a unit."""
    plan, count = drawn.plan, drawn.plan.readings
    where = [point for point in where_of(drawn.units) for _ in range(count)]
    values = drawn.readings.reshape(len(drawn.readings), -1)
    return fast.fit_many(values, where, plan.methods, plan.design).p


def rank_p(drawn: Drawn) -> Any:
    """p of the main rank test on unit means; shape (trials,)."""
    plan, means = drawn.plan, drawn.means
    order = [[place for place, unit in enumerate(drawn.units) if unit.method == method] for method in plan.methods]
    values = np.stack([means[:, places_of] for places_of in order], axis=2)
    return fast.unblocked_ranks(values) if plan.design == "random" else fast.blocked_ranks(values)


def two_apart(plan: Plan, mean: float, distance: float) -> Truth:
    """The first two methods so far apart, the others halfway: the truth that power is computed for."""
    means = dict.fromkeys(plan.methods, mean + distance / 2)
    means |= {plan.methods[0]: mean, plan.methods[1]: mean + distance}
    places_at = {f"block {n}": 0.7 * (-1) ** n for n in range(1, plan.units_each + 1)}
    return Truth(means, places_at, plan.spread.between_units, plan.spread.within_unit)


def base_plan() -> Plan:
    """The plan that a class starts from, with an instrument that compensates: what is tried here is the analysis."""
    from importlib.resources import files

    from waterleaf.bank.marked_yaml import parse
    from waterleaf.trial.plan import check_plan

    text = files("waterleaf.trial").joinpath("new_trial.yaml").read_text(encoding="utf-8")
    text = text.replace("{name}", "null").replace("{file}", "null.yaml")
    plan = check_plan(parse(text.encode(), "new_trial.yaml"))
    return plan.model_copy(update={"response": plan.response.model_copy(update={"compensates": True, "step": 0.001})})


def main(runs: int = 10_000) -> None:
    """Print the tables."""
    from waterleaf.trial import tasting_simulate

    print(f"{runs} trials a line, shares in per cent, with three standard errors of the nominal share")
    print(
        "no difference: main test, some claim, shared interval missed, single interval missed, plants for units, ranks"
    )
    for name, changes in DESIGNS.items():
        plan = base_plan().model_copy(update=changes)
        drawn = draw_trials(plan, two_apart(plan, 5.0, 0.0), runs, 1)
        found = rates(drawn)
        ranked = float(np.mean(rank_p(drawn) <= 0.05)) if name != "latin" else math.nan
        shares = (found.main, found.claimed, found.missed, found.missed_alone, found.wrong_unit, ranked)
        shown = "  ".join(f"{100 * share:6.2f}" for share in shares)
        print(f"  {name:<8} {shown}   (5 within {100 * found.margin(0.05):.2f})", flush=True)
    print("a difference: planned power of the main test, found; planned chance of the claim, found; interval missed")
    for name, changes in DESIGNS.items():
        plan = base_plan().model_copy(update=changes)
        shape, deviation = power.shape_of(plan), power.deviation_of_unit_mean(plan)
        distance = 3 * deviation
        found = rates(draw_trials(plan, two_apart(plan, 5.0, distance), runs, 2), plants_too=False)
        planned = power.main_test_power(shape, distance, deviation)
        claim = power.claim_power(shape, distance, deviation)
        near = 100 * three_errors(planned / 100, runs)
        print(
            f"  {name:<8} {planned:6.2f} {100 * found.main:6.2f} (within {near:.2f})   {claim:6.2f} "
            f"{100 * found.claimed:6.2f}   {100 * found.missed:6.2f}", flush=True,
        )  # fmt: skip
    tasting_simulate.table(runs)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
