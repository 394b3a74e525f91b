"""Readings of thousands of invented trials of one layout, drawn plant by plant, and the plans that they belong to."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from waterleaf.trial.analysis import Analysis, analyse, point_of
from waterleaf.trial.intake import Reading
from waterleaf.trial.layout import Unit, lay_out
from waterleaf.trial.model import Point
from waterleaf.trial.plan import Plan
from waterleaf.trial.rehearse import Truth

DESIGNS: Final[dict[str, dict[str, Any]]] = {
    "random": {"design": "random"},
    "blocked": {"design": "blocked", "units_each": 5},
    "latin": {"design": "latin", "units_each": 3},
    "paired": {"design": "paired", "methods": ("soil", "raft"), "units_each": 6},
}


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
        + math.fsum(truth.places.get(name, 0.0) for name in (unit.block, f"row {unit.row}", f"column {unit.column}"))
        for unit in units
    ])  # fmt: skip
    between = truth.between_units * draw.standard_normal((runs, len(units), 1))
    within = truth.within_unit * draw.standard_normal((runs, len(units), plan.readings))
    return Drawn(plan, units, truth, level[None, :, None] + between + within)


def real_trial(drawn: Drawn, number: int, counts: Sequence[int] | None = None) -> Analysis:
    """One of the trials through the analysis of the report; `counts` tells how many plants of each unit are left."""
    left = counts or [drawn.plan.readings] * len(drawn.units)
    readings = [
        Reading(unit.code, plant + 1, float(value), float(value), "")
        for unit, plants, count in zip(drawn.units, drawn.readings[number], left, strict=True)
        for plant, value in enumerate(plants[:count])
    ]
    return analyse(drawn.plan, drawn.units, readings, margin_stands=True)


def where_of(units: Sequence[Unit]) -> list[Point]:
    """Where each column of the values stands in the design."""
    return [point_of(unit, 0.0) for unit in units]


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
