"""Proof by simulation: does each analysis keep its error rate, cover the truth, and find what its plan says it finds.

`python -m waterleaf.trial.simulate` prints the tables; a number behind it sets how many trials, 10 000 unless told, and
`--workers` who shares the work, as in every command that has it.

Readings are drawn for the frozen layout, plant by plant, and become unit means as in a report. All trials of a kind are
analysed at once by `fast`; `drawn.real_trial` puts single ones of the same trials through the analysis of the report,
so that the two can be held to each other.
"""

import argparse
import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any, Final

import numpy as np

from waterleaf.calc.sugar.statistics import t_quantile
from waterleaf.faults import Faults
from waterleaf.sharing import OPTION
from waterleaf.trial import fast, power
from waterleaf.trial.drawn import DESIGNS, Drawn, base_plan, draw_trials, three_errors, two_apart, where_of
from waterleaf.trial.lines import Line, print_lines
from waterleaf.trial.pairs import places
from waterleaf.trial.rules_simulate import by_method

# Below this many trials a line the start of other processes costs more than they save.
_WORTH_SHARING: Final = 2000


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


def wrong_unit_p(drawn: Drawn) -> Any:
    """p of the main test, had every plant been taken for a unit."""
    plan, count = drawn.plan, drawn.plan.readings
    where = [point for point in where_of(drawn.units) for _ in range(count)]
    values = drawn.readings.reshape(len(drawn.readings), -1)
    return fast.fit_many(values, where, plan.methods, plan.design).p


def rank_p(drawn: Drawn) -> Any:
    """p of the main rank test on unit means; shape (trials,)."""
    values = by_method(drawn)
    return fast.unblocked_ranks(values) if drawn.plan.design == "random" else fast.blocked_ranks(values)


def lines(runs: int) -> Iterator[Line]:
    """The lines of all tables."""
    from waterleaf.trial import rules_simulate, tasting_simulate, uneven_simulate

    yield f"{runs} trials a line, shares in per cent, with three standard errors of the nominal share"
    shares = "main test, some claim, shared interval missed, single interval missed, plants for units, ranks"
    yield f"no difference: {shares}"
    for name in DESIGNS:
        yield partial(_without_difference, name, runs)
    yield "a difference: planned power of the main test, found; planned chance of the claim, found; interval missed"
    for name in DESIGNS:
        yield partial(_with_difference, name, runs)
    yield from uneven_simulate.lines(runs)
    yield from rules_simulate.lines(runs)
    yield from tasting_simulate.lines(runs)


def _without_difference(name: str, runs: int) -> str:
    plan = base_plan().model_copy(update=DESIGNS[name])
    drawn = draw_trials(plan, two_apart(plan, 5.0, 0.0), runs, 1)
    found = rates(drawn)
    ranked = float(np.mean(rank_p(drawn) <= 0.05)) if name != "latin" else math.nan
    shares = (found.main, found.claimed, found.missed, found.missed_alone, found.wrong_unit, ranked)
    shown = "  ".join(f"{100 * share:6.2f}" for share in shares)
    return f"  {name:<8} {shown}   (5 within {100 * found.margin(0.05):.2f})"


def _with_difference(name: str, runs: int) -> str:
    plan = base_plan().model_copy(update=DESIGNS[name])
    shape, deviation = power.shape_of(plan), power.deviation_of_unit_mean(plan)
    distance = 3 * deviation
    found = rates(draw_trials(plan, two_apart(plan, 5.0, distance), runs, 2), plants_too=False)
    planned = power.main_test_power(shape, distance, deviation)
    claim = power.claim_power(shape, distance, deviation)
    near = 100 * three_errors(planned / 100, runs)
    return (
        f"  {name:<8} {planned:6.2f} {100 * found.main:6.2f} (within {near:.2f})   {claim:6.2f} "
        f"{100 * found.claimed:6.2f}   {100 * found.missed:6.2f}"
    )


def main() -> None:
    """Read the words of the command, and print the tables."""
    reader = argparse.ArgumentParser(prog="python -m waterleaf.trial.simulate", description="Print the error rates.")
    reader.add_argument("runs", nargs="?", type=int, default=10_000, help="trials a line, %(default)s unless told")
    reader.add_argument(OPTION, help="how many processes, or tcp://host:port of a Dask scheduler on a network of yours")
    words = reader.parse_args()
    try:
        print_lines(lines(words.runs), words.workers, "processes" if words.runs >= _WORTH_SHARING else "here")
    except Faults as faults:
        reader.error(str(faults))


if __name__ == "__main__":
    from waterleaf.trial import simulate

    simulate.main()  # under its own name, by which other processes find the functions that make the lines
