"""Made-up answers of a panel, with a known truth: who can tell, which is preferred, how well each product is liked."""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from waterleaf.calc.taste.orders import shuffled
from waterleaf.trial.panel import CHOICES, AnswerKey, Cups
from waterleaf.trial.plan import Panel, Plan
from waterleaf.trial.rehearse import bell


@dataclass(frozen=True, slots=True)
class PanelTruth:
    """What invented answers are made from.

    Share of people who tell the first two products apart, share who prefer the first of them, mean liking of every
    product in points of nine, how far one person's marks stray, and how far people's own levels differ.
    """

    tell_apart: float
    prefer_first: float
    liking: dict[str, float]
    stray: float
    levels: float = 1.0

    def data(self) -> dict[str, Any]:
        """The truth as plain data."""
        return {
            "share who tell apart": self.tell_apart,
            "share who prefer the first": self.prefer_first,
            "liking": self.liking,
            "marks stray by": self.stray,
        }


def invent_panel_truth(plan: Plan, panel: Panel, seed: int) -> PanelTruth:
    """A truth that the class does not know: in one case of three the products are all one to the panel."""
    draw = random.Random(f"panel truth {plan.name} {seed}")
    if draw.random() < 1 / 3:
        return no_difference(panel)
    order = shuffled(panel.products, draw)
    size = panel.mark_to_find * (0.8 + 0.8 * draw.random())
    lifts = {product: size * (place / (len(order) - 1) - 0.5) for place, product in enumerate(order)}
    liking = {product: round(6.0 + lifts[product], 2) for product in panel.products}
    lean = 0.15 + 0.15 * draw.random()
    first_better = liking[panel.products[0]] > liking[panel.products[1]]
    prefer = 0.5 + (lean if first_better else -lean)
    return PanelTruth(round(0.25 + 0.5 * draw.random(), 2), round(prefer, 2), liking, panel.mark_spread)


def no_difference(panel: Panel) -> PanelTruth:
    """The truth in which nobody can tell any products apart."""
    return PanelTruth(0.0, 0.5, dict.fromkeys(panel.products, 6.0), panel.mark_spread)


def invent_answers(
    plan: Plan, panel: Panel, cups: Sequence[Cups], truth: PanelTruth, seed: int
) -> dict[AnswerKey, str | int]:
    """An answer for every row of the table."""
    draw = random.Random(f"answers {plan.name} {seed}")
    level = {person: truth.levels * bell(draw) for person in range(1, panel.assessors + 1)}
    found: dict[AnswerKey, str | int] = {}
    for one in cups:
        if one.test in CHOICES:
            shown = " ".join(map(str, one.codes))
            found[one.assessor, one.test, shown] = str(one.codes[_chosen(panel, one, truth, draw)])
            continue
        feelings = [truth.liking[product] + truth.stray * bell(draw) for product in one.products]
        for code, feeling in zip(one.codes, feelings, strict=True):
            if one.test == "ranking":
                given = 1 + sum(other > feeling for other in feelings)
            else:
                given = min(9, max(1, math.floor(level[one.assessor] + feeling + 0.5)))
            found[one.assessor, one.test, str(code)] = given
    return found


def _chosen(panel: Panel, one: Cups, truth: PanelTruth, draw: random.Random) -> int:
    """The place of the cup that an assessor names."""
    if one.test == "preference":
        wanted = panel.products[0] if draw.random() < truth.prefer_first else panel.products[1]
        return one.products.index(wanted)
    if draw.random() >= truth.tell_apart:
        return int(draw.random() * len(one.products))
    if one.test == "duo_trio":
        return one.products.index(one.reference)
    return next(place for place, product in enumerate(one.products) if one.products.count(product) == 1)
