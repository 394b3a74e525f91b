"""How often trials with nothing to find claim to have found something: `python -m waterleaf.trial.simulate`.

Every run invents readings without any difference, as the instrument would show them, and puts them through the model of
the report. Rates are printed with three standard errors, to be held against the error rate of the plan.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from waterleaf.trial.analysis import point_of, unit_means
from waterleaf.trial.intake import Reading
from waterleaf.trial.layout import Unit
from waterleaf.trial.model import Fit, fit
from waterleaf.trial.plan import Plan
from waterleaf.trial.power import critical_t, shape_of
from waterleaf.trial.rehearse import Truth, invent_readings


@dataclass(frozen=True, slots=True)
class Rates:
    """Shares of runs: main test significant, some pair claimed, some shared interval beside the truth, wrong unit."""

    runs: int
    main: float
    claimed: float
    missed: float
    wrong_unit: float

    def margin(self, nominal: float) -> float:
        """Three standard errors of a share that is nominal."""
        return 3 * math.sqrt(nominal * (1 - nominal) / self.runs)


def rates(plan: Plan, units: Sequence[Unit], truth: Truth, runs: int, *, plants_too: bool = True) -> Rates:
    """The rates over a number of simulated trials with seeds 1, 2, 3 and so on."""
    level, reach = plan.significance / 100, critical_t(shape_of(plan))
    counts = [0, 0, 0, 0]
    for seed in range(1, runs + 1):
        data = invent_readings(plan, units, truth, seed)
        readings = [
            Reading(code, n, float(str(c["value"])), float(str(c["value"])), "") for (code, n), c in data.items()
        ]
        means = unit_means(units, readings)
        found = fit([point_of(mean.unit, mean.value) for mean in means], plan.methods, plan.design)
        main = _p(found) <= level
        beyond = [_beyond(found, one, two, reach, truth) for one, two in _places(len(found.methods))]
        counts[0] += main
        counts[1] += main and any(claim for claim, _ in beyond)
        counts[2] += any(miss for _, miss in beyond)
        if plants_too:
            plants = [point_of(mean.unit, value) for mean in means for value in mean.readings]
            counts[3] += _p(fit(plants, plan.methods, plan.design)) <= level
    return Rates(runs, *(count / runs for count in counts))


def _p(found: Fit) -> float:
    p = found.table[0].p
    return 1.0 if p is None else p


def _places(count: int) -> list[tuple[int, int]]:
    return [(one, two) for one in range(count) for two in range(one + 1, count)]


def _beyond(found: Fit, one: int, two: int, reach: float, truth: Truth) -> tuple[bool, bool]:
    """Whether a pair would be called different, and whether its interval lies beside the true difference."""
    gap, error = found.difference(one, two)
    true = truth.means[found.methods[one]] - truth.means[found.methods[two]]
    return abs(gap) > reach * error, abs(gap - true) > reach * error


def main(runs: int = 10_000) -> None:
    """Print the table for every design."""
    from importlib.resources import files

    from waterleaf.bank.marked_yaml import parse
    from waterleaf.trial.layout import lay_out
    from waterleaf.trial.plan import check_plan
    from waterleaf.trial.rehearse import null_truth

    text = files("waterleaf.trial").joinpath("new_trial.yaml").read_text(encoding="utf-8")
    start = parse(text.replace("{name}", "null").replace("{file}", "null.yaml").encode(), "new_trial.yaml")
    base = check_plan(start)
    # An instrument that compensates and shows fine steps: what is tried here is the analysis.
    response = base.response.model_copy(update={"compensates": True, "step": 0.001})
    designs: dict[str, dict[str, Any]] = {
        "random": {}, "blocked": {"design": "blocked"}, "latin": {"design": "latin", "units_each": 3},
        "paired": {"design": "paired", "methods": ("soil", "raft"), "units_each": 6},
    }  # fmt: skip
    print(f"{runs} null trials a design, shares in per cent: main test, some claim, some interval missed, wrong unit")
    for name, changes in designs.items():
        plan = base.model_copy(update={"response": response, **changes})
        found = rates(plan, lay_out(plan), null_truth(plan, 5.0), runs)
        shown = "  ".join(
            f"{100 * share:6.2f}" for share in (found.main, found.claimed, found.missed, found.wrong_unit)
        )
        print(f"{name:<8} {shown}   (5 within {100 * found.margin(0.05):.2f})", flush=True)


if __name__ == "__main__":
    main()
