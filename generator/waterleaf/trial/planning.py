"""What a plan can and cannot show, said in plain words before anything is planted."""

import math
from dataclasses import dataclass, replace
from typing import Final

from waterleaf.calc.claims.statement import WORDING, StatementKey, allowed_statement
from waterleaf.calc.sugar.units import design_effect, effective_sample
from waterleaf.trial import power, ranks, tasting_power
from waterleaf.trial.pairs import without_plan
from waterleaf.trial.plan import Plan
from waterleaf.working.units import with_unit

_FEW_FREEDOM: Final = 10  # common practice, no source
_DESIGNS: Final = {
    "random": "completely random: any unit may get any method",
    "blocked": "randomised blocks: every block holds each method once",
    "latin": "Latin square: every row and every column holds each method once",
    "paired": "pairs: in each pair both methods stand side by side, in random order",
}


@dataclass(frozen=True, slots=True)
class Outlook:
    """What the planner found: numbers, and sentences to go with them."""

    error_freedom: int
    power: float | None
    main_test_power: float | None
    needed: int | None
    detectable: float | None
    strongest: tuple[StatementKey, ...]
    sentences: tuple[str, ...]
    warnings: tuple[str, ...]


def named_test(plan: Plan) -> str:
    """The main test that the plan names, in words."""
    if plan.test == "ranks":
        return _named_rank_test(plan)
    if plan.test == "mixed":
        return "mixed model, units drawn by chance"
    if plan.test == "welch":
        return "Welch's t test" if len(plan.methods) == 2 else "Welch's one-way analysis of variance"
    if plan.design == "paired":
        return "paired t test"
    if plan.design == "random" and len(plan.methods) == 2:
        return "Student's t test"
    kinds = {"random": "one-way analysis of variance", "blocked": "analysis of variance with blocks"}
    return kinds.get(plan.design, "analysis of variance with rows and columns")


def _named_rank_test(plan: Plan) -> str:
    if len(plan.methods) > 2:
        return "Friedman's rank test" if plan.design == "blocked" else "Kruskal and Wallis's rank test"
    return "Wilcoxon's rank sum test" if plan.design == "random" else "Wilcoxon's signed-rank test"


def amount(value: float, plan: Plan) -> str:
    """A number of the response with its unit."""
    return with_unit(plain(value, 3), plan.response.unit)


def plain(value: float, digits: int) -> str:
    """A number to so many figures, whole where it is large, with a true minus and never with a power of ten."""
    if not math.isfinite(value) or value == 0:
        return f"{value:g}".replace("-", "−")
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{decimals}f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", "−")


def measured(value: float, plan: Plan, more: int = 1) -> str:
    """A number that came out of readings: so many decimals more than the instrument shows, the same for all of a kind.

    What would be printed as nought and is none keeps one figure: an end of an interval must show its sign.
    """
    if not math.isfinite(value):
        return plain(value, 3)
    decimals = max(0, math.ceil(-math.log10(plan.response.step) - 1e-9)) + more
    text = f"{value:.{decimals}f}"
    if float(text) == 0:
        return plain(value, 1) if abs(value) > 1e-9 else text.replace("-", "")
    return text.replace("-", "−")


def measured_amount(value: float, plan: Plan) -> str:
    """A number that came out of readings, with its unit."""
    return with_unit(measured(value, plan), plan.response.unit)


def span(low: float, high: float, plan: Plan) -> str:
    """An interval of what was measured, with its unit."""
    return with_unit(f"{measured(low, plan)} to {measured(high, plan)}", plan.response.unit)


def examine(plan: Plan) -> Outlook:
    """Everything that can be said about a plan before there are data."""
    shape = power.shape_of(plan)
    if not plan.replicated:
        return Outlook(
            0, None, None, None if plan.shared_supply else power.units_needed(plan), None,
            ("observed_not_tested",), tuple(_about_units(plan)), tuple(_unreplicated(plan)),
        )  # fmt: skip
    deviation = power.deviation_of_unit_mean(plan)
    outlook = Outlook(
        shape.error_freedom,
        power.plan_power(plan),
        power.main_test_power(shape, plan.smallest_difference, deviation),
        power.units_needed(plan),
        None if plan.test == "ranks" else power.detectable_difference(shape, deviation, plan.power),
        strongest_statements(plan),
        (),
        (),
    )
    return replace(
        outlook,
        sentences=(*_about_units(plan), *_about_power(plan, outlook)),
        warnings=tuple(_warnings(plan, outlook)),
    )


def strongest_statements(plan: Plan) -> tuple[StatementKey, ...]:
    """Statements that the analysis may come to, for a very large difference and for none, by the relation itself."""
    methods = float(len(plan.methods))
    freedom = float(power.shape_of(plan).error_freedom) if plan.replicated else 0.0
    found: list[StatementKey] = []
    for distance in (100.0, 0.0):
        key = allowed_statement(
            units=float(plan.independent_units), groups=methods, difference=distance * plan.smallest_difference,
            standard_error=plan.smallest_difference / 100 if freedom else 0.0, freedom=freedom,
            margin=plan.smallest_difference, significance=plan.significance,
        )  # fmt: skip
        key = without_plan(key, distance, plan, margin_stands=True)
        if plan.test == "ranks" and key == "higher_by_margin":
            key = "higher_here"
        if key not in found:
            found.append(key)
    return tuple(found)


def _about_units(plan: Plan) -> list[str]:
    methods, each = len(plan.methods), plan.units_each
    said = [
        f"Design: {_DESIGNS[plan.design]}.",
        f"{methods} methods with {each} {plan.unit}{'s' if each > 1 else ''} each: {methods * each} in all.",
    ]
    if plan.readings > 1:
        said.append(
            f"The {plan.unit} is the unit. The {plan.readings} plants measured on one {plan.unit} are sub-samples: "
            f"they share its water and its luck, so they sharpen the mean of that {plan.unit} and count once. "
            f"{methods * each * plan.readings} readings become {methods * each} means before anything is tested."
        )
        if plan.spread.between_units and plan.spread.within_unit:
            between, within = plan.spread.between_units**2, plan.spread.within_unit**2
            effect = design_effect(sub_samples=float(plan.readings), intraclass=between / (between + within))
            alone = effective_sample(all_sub_samples=float(each * plan.readings), design_effect=effect)
            said.append(
                f"By the spread you expect, the {each * plan.readings} readings of a method tell as much as "
                f"{alone:.1f} independent ones would."
            )
    return said


def _unreplicated(plan: Plan) -> list[str]:
    said = []
    if plan.shared_supply:
        said.append(
            f"All {plan.unit}s of one method hang on one supply. Whatever befalls that supply befalls them all, so "
            "each method has one independent unit, however many there seem to be."
        )
    else:
        said.append(
            f"Each method has one {plan.unit}. Whether two {plan.unit}s of the same method would differ as much as "
            "those of different methods do, nobody can tell from these data."
        )
    said.append(
        "Nothing can be tested. The report will describe what was seen and say: "
        f"{WORDING['observed_not_tested']} A second {plan.unit} of each method, with its own supply, would change that."
    )
    return said


def _about_power(plan: Plan, outlook: Outlook) -> list[str]:
    margin = amount(plan.smallest_difference, plan)
    aim = (
        f"two methods that do not differ are shown to be alike within {margin}"
        if plan.aim == "equivalence"
        else f"the main test notices two methods that differ by {margin}"
        if plan.test == "ranks"
        else f"two methods that differ by {margin} may be called different"
    )
    said = [
        f"Error has {outlook.error_freedom} degrees of freedom. Test: {named_test(plan)}, {plan.significance:g} %"
        + (f"; pairs by {plan.adjust.capitalize()}'s method." if len(plan.methods) > 2 else "."),
        f"If the spread is as you expect ({plan.spread.source}), the chance that {aim} is {outlook.power:.0f} %; "
        f"you wished for {plan.power:g} %.",
    ]
    if plan.test == "ranks":
        return [*said, "That chance is from a simulation with bell-shaped unit means."]
    if plan.aim == "difference" and len(plan.methods) > 2 and outlook.main_test_power is not None:
        said.append(
            f"The chance that the main test notices it is {outlook.main_test_power:.0f} %, with the other methods "
            "halfway."
        )
    if outlook.detectable is not None:
        said.append(
            f"With {plan.units_each} {plan.unit}s of each method, the smallest difference found with a chance of "
            f"{plan.power:g} % is {amount(outlook.detectable, plan)}."
        )
    return said


def _warnings(plan: Plan, outlook: Outlook) -> list[str]:
    said = []
    enough = outlook.power is not None and outlook.power >= plan.power
    if not enough and plan.design == "latin":
        said.append("The square is too small for the wish. Take randomised blocks, which can have more units.")
    elif not enough:
        needed = "more than any class has" if outlook.needed is None else f"{outlook.needed} of each method"
        said.append(
            f"Too few {plan.unit}s for the wish: it would take {needed}. Take more, settle for a larger difference, or "
            "say beforehand that the trial is for practice."
        )
    if plan.test == "ranks":
        pairs = len(plan.methods) * (len(plan.methods) - 1) / 2
        least = ranks.smallest_p(plan.design, plan.units_each)
        if least * pairs > plan.significance / 100:
            said.append(
                f"With {plan.units_each} {plan.unit}s of each method, ranks of one pair cannot give a p below "
                f"{least:.3f}, however far apart they lie{'; shared among all pairs it is larger still' * (pairs > 1)}."
                f" No pair can be called different at {plan.significance:g} %. Take more {plan.unit}s, or test: anova."
            )
    if outlook.error_freedom < _FEW_FREEDOM and plan.test != "ranks":
        said.append(
            f"{outlook.error_freedom} degrees of freedom for error are few: intervals will be wide. Ten or more is "
            "common advice (no source)."
        )
    if plan.readings == 1 and plan.spread.within_unit > plan.spread.between_units:
        said.append(f"One plant a {plan.unit} is a weak mean here: a few more plants cost less than more {plan.unit}s.")
    return said


def _at_most(key: StatementKey, plan: Plan) -> str:
    if plan.test == "ranks" and key == "higher_here":
        return "In this trial, cultivar and season one method tended to be higher, by ranks ({interval})."
    return WORDING[key]


def as_text(plan: Plan, outlook: Outlook) -> str:
    """The outlook as lines to read."""
    lines = [f"{plan.name}: {plan.question}", "", *outlook.sentences]
    if plan.replicated:
        lines += ["", "The analysis may come to say, at most:"]
        filled = {
            "margin": amount(plan.smallest_difference, plan), "difference": "so much", "interval": "with its interval"
        }  # fmt: skip
        lines += [f"  - {_at_most(key, plan).format_map(filled)}" for key in outlook.strongest]
    if plan.panel is not None:
        lines += ["", "Panel:", *(f"  - {said}" for said in tasting_power.outlook(plan, plan.panel))]
    if outlook.warnings:
        lines += ["", *(f"Take care: {warning}" for warning in outlook.warnings)]
    return "\n".join(lines)
