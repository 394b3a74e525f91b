"""The page that matters: what may be said in one sentence, what may not, and what a further trial would need."""

import math
from dataclasses import dataclass
from typing import Final

from waterleaf.calc.claims.statement import WORDING
from waterleaf.trial import power
from waterleaf.trial.analysis import Analysis
from waterleaf.trial.pairs import Pair
from waterleaf.trial.plan import Plan
from waterleaf.trial.planning import amount, measured_amount, span

_HIGHER: Final = ("higher_here", "higher_by_margin")
_LOWER: Final = ("lower_here", "lower_by_margin")


@dataclass(frozen=True, slots=True)
class Statement:
    """The statement page in three lists."""

    may: tuple[str, ...]
    may_not: tuple[str, ...]
    further: tuple[str, ...]


def make_statement(analysis: Analysis, *, margin_stands: bool) -> Statement:
    """What the analysis allows, and no more."""
    plan = analysis.plan
    return Statement(
        tuple(_may(analysis)), tuple(_may_not(analysis, margin_stands)), tuple(_further(plan, analysis))
    )  # fmt: skip


def pair_sentence(pair: Pair, plan: Plan) -> str:
    """The statement of one pair, with its methods and numbers."""
    if plan.test == "ranks":
        return _rank_sentence(pair, plan)
    first, second = pair.first, pair.second
    low, high = pair.low, pair.high
    words = WORDING[pair.statement]
    if pair.statement in _LOWER:  # turned round, so that the sentence names the higher one first
        first, second, low, high = second, first, -high, -low
        words = words.replace("lower", "higher")
    filled = words.format(
        margin=amount(plan.smallest_difference, plan),
        difference=measured_amount(abs(pair.difference), plan),
        interval=f"{interval_name(plan)} {span(low, high, plan)}",
    )
    between = "above" if pair.statement in (*_HIGHER, *_LOWER) else "and"
    name = plan.response.name
    return f"{name[:1].upper()}{name[1:]}, {first} {between} {second}: {filled}"


def _rank_sentence(pair: Pair, plan: Plan) -> str:
    """What ranks allow: which method tended to read higher, and by about how much."""
    first, second, low, high = pair.first, pair.second, pair.low, pair.high
    if pair.statement in _LOWER:
        first, second, low, high = second, first, -high, -low
    name = plan.response.name
    if pair.statement not in (*_HIGHER, *_LOWER):
        return f"{name[:1].upper()}{name[1:]}, {first} and {second}: {WORDING['could_not_tell']}"
    interval = f"; {interval_name(plan)} {span(low, high, plan)}" if math.isfinite(low) else ""
    return (
        f"{name[:1].upper()}{name[1:]}, {first} above {second}: In this trial, cultivar and season {first} tended to "
        f"be higher, by ranks; middle difference {measured_amount(abs(pair.difference), plan)}{interval}."
    )


def interval_name(plan: Plan) -> str:
    """What the intervals of the pairs are called."""
    return f"{100 - plan.significance:g} % interval{' for all pairs together' if len(plan.methods) > 2 else ''}"


def _may(analysis: Analysis) -> list[str]:
    plan = analysis.plan
    if not analysis.tested:
        seen = []
        if analysis.fit is not None:
            seen = [
                f"{method}: mean {measured_amount(mean, plan)} of {_units_of(analysis, method)}."
                for method, mean in zip(analysis.fit.methods, analysis.fit.means, strict=True)
            ]
        return [WORDING["observed_not_tested"], *seen]
    return [pair_sentence(pair, plan) for pair in analysis.pairs]


def _units_of(analysis: Analysis, method: str) -> str:
    count = sum(mean.unit.method == method for mean in analysis.unit_means)
    return f"{count} {analysis.plan.unit}{'' if count == 1 else 's'}"


def _may_not(analysis: Analysis, margin_stands: bool) -> list[str]:
    plan = analysis.plan
    said = []
    if plan.response.kind == "sugar":
        said.append(
            "That anything is sweeter, or tastes better. A refractometer shows soluble solids; sweetness is for "
            "people to judge, in a panel that does not know what it tastes."
        )
    if not analysis.tested:
        said.append("That any method gives more or less than another, or that they are the same.")
    if analysis.tested and plan.aim != "equivalence":
        said.append("That any methods are alike: the plan did not set out to test that.")
    if any(pair.statement == "could_not_tell" for pair in analysis.pairs):
        said.append("That the methods are the same, where this trial could not tell them apart.")
    if analysis.pairs and not any(pair.statement in (*_HIGHER, *_LOWER) for pair in analysis.pairs):
        said.append("That one mean is higher than another, however far apart they look in the figure.")
    if not margin_stands:
        said.append("Anything about a margin: none was fixed beforehand in a frozen plan that still stands.")
    said.append(f"Anything about other varieties, seasons or places than {plan.variety}, this season, this place.")
    said.append("Healthier, more nutritious, scientifically proven: nothing of the kind was measured.")
    return said


def _further(plan: Plan, analysis: Analysis) -> list[str]:
    if not plan.replicated:
        return [
            f"At least two {plan.unit}s of every method, each with its own supply; `waterleaf trial plan` says "
            "how many for the power you want."
        ]
    if not analysis.tested or analysis.fit is None:
        return ["Usable readings of at least two units of every method. See what was held back and why."]
    deviation = math.sqrt(analysis.fit.error_square)
    said = [
        f"In this trial unit means spread by {measured_amount(deviation, plan)} about their method, known from "
        f"{analysis.fit.error_freedom} degrees of freedom only."
    ]
    if plan.design == "latin":
        return [*said, "A larger square, or blocks in their place, would find smaller differences."]
    again = plan.model_copy(
        update={"spread": plan.spread.model_copy(update={"between_units": deviation, "within_unit": 0.0})}
    )
    needed = power.units_needed(again)
    goal = "to show methods alike within" if plan.aim == "equivalence" else "to find a difference of"
    wished = f"{goal} {amount(plan.smallest_difference, plan)} with a chance of {plan.power:g} %"
    if needed is None:
        said.append(f"With such a spread, {wished} would take more than {power.MOST_EACH} {plan.unit}s of each method.")
    else:
        said.append(f"With such a spread, {wished} would take about {needed} {plan.unit}s of each method.")
    said.append("Another season or another place, to know whether what was seen here holds there.")
    return said
