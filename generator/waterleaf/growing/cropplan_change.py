"""What would have to change: what a crop that gets no space would have to earn or need before it gets some, and what
more market for a crop that fills its own would bring."""

from dataclasses import dataclass, replace
from typing import Final

from waterleaf.growing.cropplan import Candidate, CropPlan, margin_of
from waterleaf.working.units import convert

_STEP: Final = 1e-3
_LEAST: Final = 1e-4


@dataclass(frozen=True, slots=True)
class Entry:
    """A crop without space: what it would have to earn more, a square metre and week, and what else would let it in.

    `price` is the price that it has and `needed` the one that would do, for a `unit`; `labour` and `lamp` are the
    needs that would do where the rest stays as it is, or nothing where no need is low enough.
    """

    crop: str
    gap: float
    price: float
    needed: float
    unit: str
    labour: float | None
    lamp: float | None


@dataclass(frozen=True, slots=True)
class Market:
    """A crop that fills its market: the area that it may take, and what a square metre more to sell would bring."""

    crop: str
    area: float
    more: float


def entries(plan: CropPlan) -> list[Entry]:
    """Every crop without space beyond what is promised, the one that is nearest to the plan first."""
    found = [
        _entry(plan, place) for place, (one, area) in enumerate(zip(plan.candidates, plan.areas, strict=True))
        if area - one.least < _LEAST and one.largest - one.least > _LEAST
    ]  # fmt: skip
    return sorted(found, key=lambda entry: entry.gap)


def markets(plan: CropPlan) -> list[Market]:
    """Every crop that takes all the area whose harvest can be sold, where more to sell would bring something."""
    found = []
    for place, (one, area) in enumerate(zip(plan.candidates, plan.areas, strict=True)):
        if one.largest - area < _LEAST:
            more = _gain(plan, place, replace(one, largest=one.largest + _STEP)) / _STEP
            if more > _LEAST:
                found.append(Market(one.name, area, more))
    return found


def _gain(plan: CropPlan, place: int, changed: Candidate) -> float:
    """What the plan earns more a week with one crop changed."""
    candidates = (*plan.candidates[:place], changed, *plan.candidates[place + 1 :])
    supplies = tuple(worth.available for worth in plan.worths)
    return margin_of(candidates, supplies) - margin_of(plan.candidates, supplies)


def _entry(plan: CropPlan, place: int) -> Entry:
    one, r = plan.candidates[place], plan.reckoning
    # A hair of it by force costs what it earns too little.
    gap = max(0.0, -_gain(plan, place, replace(one, least=one.least + _STEP)) / _STEP)
    name = f"crops.{one.name}"
    sold = 1 - r.value(f"{name}.loss") / 100
    by_weight = r.known(f"{name}.yield")
    amount = r.value(f"{name}.{'yield' if by_weight else 'density'}") * sold
    price = r.value(f"{name}.{'price_by_weight' if by_weight else 'price'}")
    needed = price + gap * r.value(f"{name}.weeks_in_bed") / amount if amount > 0 else float("inf")
    _, labour, lamp = plan.worths
    return Entry(
        one.name, gap, price, needed, "kg" if by_weight else "head", _enough(one.labour, gap, labour.more),
        _enough(one.lamp, gap, lamp.more),
    )


def _enough(need: float, gap: float, worth: float) -> float | None:
    """The need at which the crop would pay for itself, by what one unit of the limit is worth."""
    if worth <= _LEAST or need - gap / worth < 0:
        return None
    return need - gap / worth


def price_line(entry: Entry) -> tuple[str, str]:
    """The price that a crop has, and the one that would let it in."""
    told = []
    for price in (entry.price, entry.needed):
        pound = f" (${convert(price, 'dollar/kg', 'dollar/lb'):.2f} per lb)" if entry.unit == "kg" else ""
        told.append(f"${price:.2f} per {entry.unit}{pound}")
    return told[0], told[1]
