"""Figures of a tasting: what guessing alone would do, and every mark of liking."""

import math
from collections import Counter
from typing import Any

from waterleaf.calc.sugar.statistics import t_quantile
from waterleaf.trial.figures import FAINT, INK, WARM, WATER, name_places, svg
from waterleaf.trial.tasting import ALTERNATIVES, Choice, Liked


def choice_figure(part: Choice) -> str:
    """How often guessing panels reach each number, the numbers that count as a finding, and this panel."""
    from scipy import stats

    people, chance = part.answered, 1 / ALTERNATIVES[part.test]
    reached = part.larger if part.test == "preference" else part.right
    needed = people + 1 if part.needed is None else part.needed

    def counts(number: int) -> bool:
        return number >= needed or (part.test == "preference" and people - number >= needed)

    def draw(axes: Any) -> None:
        numbers = range(people + 1)
        axes.bar(
            numbers, [100 * stats.binom.pmf(number, people, chance) for number in numbers],
            color=[WARM if counts(number) else FAINT for number in numbers], width=0.8,
        )  # fmt: skip
        axes.axvline(reached, color=INK, linewidth=1.6, linestyle="--")
        axes.annotate(
            "this panel", (reached, 0.97), xycoords=("data", "axes fraction"), xytext=(4, 0),
            textcoords="offset points", va="top", color=INK,
        )  # fmt: skip
        axes.set_xlabel("people who chose the same one" if part.test == "preference" else "right answers")
        axes.set_ylabel("panels that guess, %")
        axes.set_xlim(-0.6, people + 0.6)

    return svg(part.test, draw, size=(4.6, 2.2))


def choice_alternative(part: Choice) -> str:
    """The figure of a choice in words."""
    reached = part.larger if part.test == "preference" else part.right
    middle = part.answered / ALTERNATIVES[part.test]
    needs = "no number counts as a finding" if part.needed is None else f"from {part.needed} on it counts as a finding"
    return (
        f"Bars of what {part.answered} guessing people reach, highest near {middle:.0f}; {needs}. This panel: "
        f"{reached}."
    )


def liking_figure(part: Liked) -> str:
    """Every mark as a disc, larger where more people gave it, and the mean of each product with its interval."""

    def draw(axes: Any) -> None:
        for place, marks in enumerate(part.marks):
            for mark, count in Counter(marks).items():
                axes.plot([place], [mark], "o", color=WATER, alpha=0.45, markersize=4 + 2.2 * math.sqrt(count))
        fitted = part.fit
        if fitted is not None and fitted.testable:
            for name, mean, variance in zip(fitted.methods, fitted.means, fitted.covariance.diagonal(), strict=True):
                half = t_quantile(0.975, fitted.error_freedom) * math.sqrt(variance)
                style = {"color": WARM, "markersize": 7, "capsize": 4, "linewidth": 1.4}
                axes.errorbar([part.products.index(name) + 0.22], [mean], yerr=[half], fmt="D", **style)
        name_places(axes, part.products)
        axes.set_xlim(-0.6, len(part.products) - 0.4)
        axes.set_ylim(0.5, 9.5)
        axes.set_yticks(range(1, 10))
        axes.set_ylabel("mark, 9 like extremely")

    return svg("liking", draw, size=(4.6, 2.6))


def liking_alternative(part: Liked) -> str:
    """The figure of liking in words."""
    told = [
        f"{product} from {min(marks)} to {max(marks)}, mean {sum(marks) / len(marks):.1f}"
        for product, marks in zip(part.products, part.marks, strict=True) if marks
    ]  # fmt: skip
    return f"Marks of liking by product: {'; '.join(told)}."
