"""Error rates where units have unequal numbers of readings, and where one tank with many plants stands for a method."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Final

import numpy as np

from waterleaf.calc.sugar.statistics import t_quantile
from waterleaf.trial import fast
from waterleaf.trial.drawn import DESIGNS, Drawn, base_plan, draw_trials, real_trial, three_errors, two_apart, where_of
from waterleaf.trial.fast_mixed import Left, fit_mixed_many
from waterleaf.trial.layout import Unit
from waterleaf.trial.lines import Line
from waterleaf.trial.plan import Plan

Loss = Callable[[Plan, Sequence[Unit]], list[int]]
# Standard deviations between units: that of the template, and a small one, where the mixed model often steps back.
SPREADS: Final = (0.4, 0.2)
_REAL_TRIALS: Final = 40


def scattered(plan: Plan, units: Sequence[Unit]) -> list[int]:
    """Readings lost here and there, whatever the method: from one left to all."""
    return [1 + (7 * place + 3) % plan.readings for place in range(len(units))]


def one_method(plan: Plan, units: Sequence[Unit]) -> list[int]:
    """The first method kept one reading a unit, the others all."""
    return [1 if unit.method == plan.methods[0] else plan.readings for unit in units]


LOSSES: Final[dict[str, Loss]] = {"scattered": scattered, "one method": one_method}


@dataclass(frozen=True, slots=True)
class Uneven:
    """Shares of trials: main test significant, intervals of one pair alone that miss the truth (mean over pairs, and
    of the pair where it happens most), and trials in which the mixed model steps back."""

    main: float
    missed: float
    worst: float
    back: float = 0.0


def left_of(drawn: Drawn, counts: Sequence[int]) -> Left:
    """The first so many plants of every unit, as the analysis takes them."""
    kept = np.arange(drawn.plan.readings) < np.array(counts)[:, None]
    means = np.where(kept, drawn.readings, 0.0).sum(axis=2) / np.array(counts)
    within = np.where(kept, (drawn.readings - means[:, :, None]) ** 2, 0.0).sum(axis=(1, 2))
    return Left(np.array(counts, dtype=float), means, within)


def uneven_rates(drawn: Drawn, counts: Sequence[int]) -> tuple[Uneven, Uneven]:
    """Trials without a difference, by unit means and by the mixed model."""
    plan, left = drawn.plan, left_of(drawn, counts)
    where = where_of(drawn.units)
    by_means = fast.fit_many(left.means, where, plan.methods, plan.design)
    by_model, back = fit_mixed_many(left, where, plan.methods, plan.design)
    return _rates(plan, by_means), _rates(plan, by_model, float(back.mean()))


def _rates(plan: Plan, many: fast.Many, back: float = 0.0) -> Uneven:
    level = plan.significance / 100
    alone = t_quantile(1 - level / 2, many.freedom)
    missed: Any = np.mean(np.abs(many.gaps) > alone * many.errors, axis=0)
    return Uneven(float((many.p <= level).mean()), float(missed.mean()), float(missed.max()), back)


def uneven_plan(design: str, between: float) -> Plan:
    """The plan of a design with so large a spread between units."""
    plan = base_plan().model_copy(update=DESIGNS[design])
    return plan.model_copy(update={"spread": plan.spread.model_copy(update={"between_units": between})})


def one_tank_plan(plants: int) -> Plan:
    """One tank of each method with many plants: replicated in the eye of whoever counts plants."""
    return base_plan().model_copy(update={"units_each": 1, "readings": plants})


def one_tank_rates(plants: int, runs: int) -> tuple[float, float]:
    """Share of one-tank trials in which the report tests anything at all, and in which plants taken for units would
    have been called different though no method differs."""
    plan = one_tank_plan(plants)
    drawn = draw_trials(plan, two_apart(plan, 5.0, 0.0), runs, 9)
    tested = [real_trial(drawn, number).tested for number in range(min(runs, _REAL_TRIALS))]
    where = [point for point in where_of(drawn.units) for _ in range(plants)]
    wrong = fast.fit_many(drawn.readings.reshape(runs, -1), where, plan.methods, plan.design).p
    return sum(tested) / len(tested), float((wrong <= plan.significance / 100).mean())


def lines(runs: int) -> Iterator[Line]:
    """The lines of the tables."""
    near = 100 * three_errors(0.05, runs)
    yield f"no difference, unequal numbers of readings a unit (5 within {near:.2f})"
    yield "  design, readings lost, spread between units: unit means: main test, interval missed, worst pair; mixed"
    yield "  model: the same, and how often it steps back to unit means"
    for design in DESIGNS:
        for name in LOSSES:
            for between in SPREADS:
                yield partial(_uneven, design, name, between, runs)
    yield "no difference, one tank a method: trials that the report tests, trials that plants for units would claim"
    for plants in (5, 20, 60):
        yield partial(_one_tank, plants, runs)


def _uneven(design: str, loss: str, between: float, runs: int) -> str:
    plan = uneven_plan(design, between)
    drawn = draw_trials(plan, two_apart(plan, 5.0, 0.0), runs, 5)
    means, model = uneven_rates(drawn, LOSSES[loss](plan, drawn.units))
    shown = (means.main, means.missed, means.worst, model.main, model.missed, model.worst, model.back)
    return f"  {design:<8} {loss:<10} {between}  " + "  ".join(f"{100 * share:6.2f}" for share in shown)


def _one_tank(plants: int, runs: int) -> str:
    tested, wrong = one_tank_rates(plants, runs)
    return f"  {plants:>3} plants a tank  {100 * tested:6.2f} {100 * wrong:6.2f}"
