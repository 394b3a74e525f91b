"""What a panel can find: exact for choices, noncentral curves for liking, simulation for rankings."""

import functools
import math
from typing import Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.taste.difference import panel_power
from waterleaf.calc.taste.share import largest_correct_for_similarity
from waterleaf.trial import power
from waterleaf.trial.panel import CHOICES, TITLES
from waterleaf.trial.plan import DIFFERENCE_TESTS, Panel, PanelTest, Plan
from waterleaf.trial.tasting import ALTERNATIVES, needed

_ISO_SIMILAR: Final = 30


def chance_to_find(test: PanelTest, panel: Panel, people: int, significance: float) -> float:
    """Chance in percent that so many people find what the plan says they should."""
    if test in CHOICES:
        level = significance / 2 if test == "preference" else significance
        try:
            return panel_power(
                assessors=float(people), alternatives=ALTERNATIVES[test], discriminators=panel.share_to_find,
                significance=level,
            )  # fmt: skip
        except OutOfRange:
            return 0.0
    if people < 2:
        return 0.0
    shape = power.Shape("blocked", len(panel.products), people, significance)
    if test == "liking":
        # A mark is a whole number: rounding adds a twelfth to the variance of what is felt.
        return power.claim_power(shape, panel.mark_to_find, math.sqrt(panel.mark_spread**2 + 1 / 12))
    return _ranking_power(shape, panel.mark_to_find / panel.mark_spread)


@functools.cache
def _ranking_power(shape: power.Shape, effect: float) -> float:
    if shape.methods == 2:  # the sign test: how often the better one comes first
        from scipy import stats

        first = float(stats.norm.cdf(effect / math.sqrt(2)))
        least = needed("preference", float(shape.units_each), shape.significance) if shape.units_each > 2 else None
        return 100 * float(stats.binom.sf(least - 1, shape.units_each, first)) if least else 0.0
    return power.rank_power(shape, effect, 1.0, 1)


def points(number: float) -> str:
    """So many points of the scale, in words."""
    return f"{number:g} point{'' if number == 1 else 's'}"


def outlook(plan: Plan, panel: Panel) -> list[str]:
    """For every test of the panel: what counts as a finding, and the chance to get there."""
    said = []
    for test in panel.tests:
        chance = chance_to_find(test, panel, panel.assessors, plan.significance)
        counts, found = _counts(test, plan, panel), _found(test, panel, chance)
        said.append(f"{TITLES[test]}, {panel.assessors} assessors: {counts}. {found}")
    if panel.similar_within is not None:
        within = panel.similar_within
        said += [_similar(test, plan, panel, within) for test in panel.tests if test in DIFFERENCE_TESTS]
    if len(panel.tests) > 1:
        each = f"Each test has its own {plan.significance:g} %."
        said.append(f"{each} The more tests, the more chances of a false alarm.")
    return said


def _counts(test: PanelTest, plan: Plan, panel: Panel) -> str:
    if test not in CHOICES:
        two = len(panel.products) == 2
        if test == "ranking":
            name = "exact test of two places, two-sided" if two else "Friedman's test of rank sums"
        else:
            name = "each person's difference of two marks" if two else "marks with each person as a block"
        return f"{name}, {plan.significance:g} %"
    least = needed(test, float(panel.assessors), plan.significance) if panel.assessors > 2 else None
    if least is None:
        return "too few to show anything, even if all agree"
    what = "must agree, to whichever side" if test == "preference" else "right answers are needed"
    return f"{least} {what}"


def _found(test: PanelTest, panel: Panel, chance: float) -> str:
    if test in CHOICES:
        who = "lean to one of them" if test == "preference" else "truly tell the two apart"
        return f"If {panel.share_to_find:g} % of people {who}, the chance to find it is {chance:.0f} %."
    how = ", by simulation" if test == "ranking" and len(panel.products) > 2 else ""
    return (
        f"If liking differs by {points(panel.mark_to_find)} and marks stray by {panel.mark_spread:g}, the chance to "
        f"find it is {chance:.0f} %{how}."
    )


def _similar(test: PanelTest, plan: Plan, panel: Panel, within: float) -> str:
    start = f"{TITLES[test]}, to show the two alike within {within:g} %"
    try:
        most = largest_correct_for_similarity(
            assessors=float(panel.assessors), alternatives=ALTERNATIVES[test], discriminators=within,
            miss_risk=plan.significance,
        )  # fmt: skip
    except OutOfRange:
        return f"{start}: too few assessors, whatever they answer."
    few = " Fewer than 30 assessors seldom suffice." if panel.assessors < _ISO_SIMILAR else ""
    return f"{start}: at most {most:.0f} right answers.{few}"
