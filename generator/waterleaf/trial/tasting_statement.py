"""What a tasting allows to be said, what it does not, and what a further panel would need."""

from waterleaf.calc.claims.many import family_wise_error
from waterleaf.calc.claims.statement import WORDING, allowed_difference_statement, allowed_preference_statement
from waterleaf.trial.panel import TITLES
from waterleaf.trial.statement import Statement
from waterleaf.trial.tasting import Choice, Liked, Part, Ranked, Tasting
from waterleaf.trial.tasting_power import chance_to_find, points


def make_tasting_statement(tasting: Tasting) -> Statement:
    """The three lists of a tasting."""
    return Statement(
        tuple(line for part in tasting.parts for line in may_say(part, tasting)),
        tuple(_may_not(tasting)),
        tuple(_further(tasting)),
    )


def percent(share: float) -> str:
    """A chance as a per cent with two figures."""
    return "less than 0.01 %" if share < 0.0001 else f"{100 * share:.2g} %"


def signed(number: float) -> str:
    """A number with two decimals, a true minus, and no minus before nought."""
    return f"{round(number, 2) + 0.0:.2f}".replace("-", "−")


def may_say(part: Part, tasting: Tasting) -> list[str]:
    """The sentences of one test."""
    title = TITLES[part.test]
    if part.p is None:
        return [f"{title}: too few usable answers to test anything."]
    if isinstance(part, Choice):
        return [f"{title}: {line}" for line in _of_choice(part, part.p, tasting.plan.significance)]
    if isinstance(part, Ranked):
        return [f"{title}: {line}" for line in _of_ranking(part)]
    return [f"{title}: {line}" for line in _of_liking(part)]


def _of_choice(part: Choice, p: float, significance: float) -> list[str]:
    first, second = part.products[0], part.products[1]
    if part.test == "preference":
        key = allowed_preference_statement(p_value=p, significance=significance)
        if key != "preferred_by_panel":
            return [f"{WORDING[key]} {part.larger} of {part.answered} chose {part.favourite}; p = {p:.3f}, two-sided."]
        named = WORDING[key].format(number=part.larger, panel=part.answered).removeprefix("Preferred")
        return [f"{part.favourite} was preferred{named.rstrip('.')}; a panel without preference splits so unevenly "
                f"in {percent(p)} of cases."]  # fmt: skip
    said = []
    key = allowed_difference_statement(p_value=p, significance=significance)
    rarely = f"{part.right} of {part.answered} were right; guessing alone does as well in {percent(p)} of panels"
    if key == "could_be_told_apart":
        said.append(f"The panel told {first} and {second} apart ({rarely}). Which is better was not asked.")
    else:
        said.append(f"{WORDING[key]} ({rarely[0].upper()}{rarely[1:]}.)")
    if part.similar is not None and part.similar.shown:
        said.append(
            f"{first} and {second} were similar to this panel: fewer than {part.similar.within:g} % of such people "
            f"tell them apart, a limit fixed beforehand ({part.right} right, at most {part.similar.most} allowed)."
        )
    elif part.similar is not None:
        said.append(f"That the two are alike within {part.similar.within:g} % was to be tested: it was not shown.")
    return said


def _of_ranking(part: Ranked) -> list[str]:
    said = []
    for pair in part.pairs:
        better, worse = (pair.first, pair.second) if pair.difference < 0 else (pair.second, pair.first)
        if pair.found:
            said.append(f"This panel placed {better} before {worse} (rank sums {abs(pair.difference):g} apart).")
        else:
            said.append(f"{pair.first} and {pair.second}: no order was established with this panel.")
    return said


def _of_liking(part: Liked) -> list[str]:
    said = []
    shared = " for all pairs together" if len(part.products) > 2 else ""
    name = f"{100 - part.significance:g} % interval{shared}"
    for pair in part.pairs:
        first, second, low, high = pair.first, pair.second, pair.low, pair.high
        if pair.difference < 0:
            first, second, low, high = second, first, -high, -low
        interval = f"{name} {signed(low)} to {signed(high)}"
        if part.found(pair):
            by = f"{abs(pair.difference):.1f} points of nine ({interval})"
            said.append(f"This panel liked {first} more than {second}, by {by}.")
        else:
            said.append(f"{first} and {second}: this panel could not tell a difference in liking ({interval} points).")
    if not part.agree:
        said.append("The rank test beside it does not come to the same end: report both, and lean on neither.")
    return said


def _may_not(tasting: Tasting) -> list[str]:
    plan, tests = tasting.plan, tasting.panel.tests
    said = []
    if any(isinstance(part, Choice) and part.test != "preference" for part in tasting.parts):
        said.append("That one tastes better, sweeter or fresher, from a test of difference: nobody was asked that.")
        if not any(isinstance(part, Choice) and part.similar and part.similar.shown for part in tasting.parts):
            said.append("That the two taste the same. A panel that finds nothing has not shown that there is nothing.")
    if {"preference", "ranking", "liking"} & set(tests):
        said.append("That customers will like one more: these people are a class, not a sample of those who buy.")
    said.append(
        f"Anything about a way of growing, unless the cups held produce of several {plan.unit}s of each. Cups from one "
        f"{plan.unit} speak of that {plan.unit}."
    )
    said.append("Healthier, safer, more nutritious, scientifically proven: nothing of the kind was asked.")
    if len(tests) > 1:
        chance = family_wise_error(comparisons=float(len(tests)), significance=plan.significance)
        said.append(
            f"That one finding among {len(tests)} tests stands as firmly as if it were the only test: by chance alone "
            f"some test would succeed in up to {chance:.0f} % of sessions."
        )
    return said


def _further(tasting: Tasting) -> list[str]:
    plan, panel = tasting.plan, tasting.panel
    said = []
    for part in tasting.parts:
        people = part.answered if isinstance(part, Choice) else part.people
        chance = chance_to_find(part.test, panel, people, plan.significance)
        what = (
            f"a share of {panel.share_to_find:g} %" if isinstance(part, Choice)
            else f"{points(panel.mark_to_find)} of liking (marks straying by {panel.mark_spread:g})"
        )  # fmt: skip
        said.append(f"{TITLES[part.test]}: with {people} people the chance to find {what} was {chance:.0f} %.")
    said.append(f"Other people, another harvest, and cups from more {plan.unit}s: does it hold beyond this day?")
    return said
