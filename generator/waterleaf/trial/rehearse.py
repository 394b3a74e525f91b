"""Made-up data for a plan, with a known truth, so that a class can go the whole way before the crop is ripe."""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from waterleaf.calc.sugar.refractometer import corrected_brix
from waterleaf.calc.taste.orders import shuffled
from waterleaf.marking.tableout import Cell
from waterleaf.trial.datatable import REHEARSAL, Key
from waterleaf.trial.layout import Unit
from waterleaf.trial.plan import Plan

_STORIES: Final = ("none", "one", "steps")
_COOLEST, _WARMEST = 16, 22


@dataclass(frozen=True, slots=True)
class Truth:
    """What the rehearsal was made from: the mean of every method, the effects of blocks, and the spreads."""

    means: dict[str, float]
    places: dict[str, float]
    between_units: float
    within_unit: float

    def data(self) -> dict[str, Any]:
        """The truth as plain data."""
        return {
            "invented": True,
            "means": self.means,
            "effects of blocks, rows and columns": self.places,
            "between units": self.between_units,
            "within a unit": self.within_unit,
        }


def bell(draw: random.Random) -> float:
    """A draw close to a standard normal one: twelve uniform numbers less six, the same on every computer."""
    return math.fsum(draw.random() for _ in range(12)) - 6


def invent_truth(plan: Plan, seed: int) -> Truth:
    """A truth that the class does not know: methods alike, or one apart, or in steps."""
    draw = random.Random(f"truth {plan.name} {seed}")
    low, high = plan.response.plausible or (plan.response.low, plan.response.high)
    base = low + (0.35 + 0.3 * draw.random()) * (high - low)
    story = _STORIES[int(draw.random() * len(_STORIES))]
    size = plan.smallest_difference * (1 + 2 * draw.random())
    order = shuffled(plan.methods, draw)
    if story == "none":
        lifts = dict.fromkeys(order, 0.0)
    elif story == "one":
        lifts = {method: size if number == 0 else 0.0 for number, method in enumerate(order)}
    else:
        lifts = {method: size * number / (len(order) - 1) for number, method in enumerate(order)}
    names = {
        "blocked": [f"block {number}" for number in range(1, plan.units_each + 1)],
        "paired": [f"block {number}" for number in range(1, plan.units_each + 1)],
        "latin": [f"{line} {n}" for line in ("row", "column") for n in range(1, len(plan.methods) + 1)],
    }.get(plan.design, [])
    if plan.blocks:
        names = list(plan.blocks)
    places = {name: round(plan.smallest_difference * bell(draw), 3) for name in names}
    means = {method: round(base + lifts[method], 3) for method in plan.methods}
    return Truth(means, places, plan.spread.between_units, plan.spread.within_unit)


def invent_readings(plan: Plan, units: Sequence[Unit], truth: Truth, seed: int) -> dict[Key, dict[str, Cell]]:
    """A filled table: every reading as the instrument would show it, on the steps of its scale."""
    draw = random.Random(f"readings {plan.name} {seed}")
    found: dict[Key, dict[str, Cell]] = {}
    for unit in units:
        where = (unit.block, f"row {unit.row}", f"column {unit.column}")
        level = truth.means[unit.method] + math.fsum(truth.places.get(name, 0.0) for name in where)
        level += truth.between_units * bell(draw)
        for number in range(1, plan.readings + 1):
            cells: dict[str, Cell] = {"reader": REHEARSAL}
            value = level + truth.within_unit * bell(draw)
            if plan.needs_temperature:
                warmth = _COOLEST + int(draw.random() * (_WARMEST - _COOLEST + 1))
                cells["temperature"] = warmth
                value = _as_shown(value, float(warmth))
            cells["value"] = _on_scale(value, plan)
            found[unit.code, number] = cells
    return found


def _as_shown(true_value: float, temperature: float) -> float:
    """What an instrument without compensation shows for juice of a known strength."""
    near = max(0.0, true_value)
    return near - (corrected_brix(reading=near, temperature=temperature) - near)


def _on_scale(value: float, plan: Plan) -> float:
    response = plan.response
    steps = round((min(max(value, response.low), response.high) - response.low) / response.step)
    return round(response.low + steps * response.step, 6)
