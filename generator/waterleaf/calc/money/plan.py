"""Money, planning: which crops to grow where beds, hours and lamp light are short."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation

Margins = Annotated[
    Sequence[float],
    Quantity("g", "dollar/m^2/week", "gross margins of the crops", -100_000, 100_000, many=1, fewest=1),
]
LabourNeeds = Annotated[
    Sequence[float], Quantity("a", "hour/m^2/week", "labour needs of the crops", 0, 1000, many=1, fewest=1)
]
LightNeeds = Annotated[
    Sequence[float], Quantity("b", "mol/m^2/day", "lamp light needs of the crops", 0, 1000, many=1, fewest=1)
]
LargestAreas = Annotated[
    Sequence[float], Quantity("A_max", "m^2", "areas whose harvest can be sold", 0, 10_000_000, many=1, fewest=1)
]
WholeArea = Annotated[float, Quantity("A", "m^2", "bed area", 0.01, 10_000_000)]
HoursSupply = Annotated[float, Quantity("h", "hour/week", "labour to be had", 0.01, 10_000_000)]
LightSupply = Annotated[float, Quantity("Q", "mol/day", "lamp light to be had", 0, 1_000_000_000)]
PlanAreas = Annotated[tuple[float, ...], Quantity("A", "m^2", "areas of the crops", 0, 10_000_000, many=1)]
PlanMargin = Annotated[float, Quantity("GM", "dollar/week", "gross margin of the plan")]


@dataclass(frozen=True, slots=True)
class LimitRow:
    """One limit of a plan: how much there is, how much is used, and what one unit more would bring a week."""

    limit: str
    unit: str
    available: float
    used: float
    left: float
    shadow_price: float
    price_unit: str


PlanLimits = Annotated[tuple[LimitRow, ...], Quantity("", "", "limits and shadow prices of the plan")]


@dataclass(frozen=True, slots=True)
class _Plan:
    """The best plan: areas, margin, and the worth of one unit more of each limit."""

    areas: tuple[float, ...]
    margin: float
    needs: tuple[tuple[float, ...], ...]
    prices: tuple[float, ...]
    market_prices: tuple[float, ...]


def _best_plan(
    margins: Sequence[float], labour_needs: Sequence[float], light_needs: Sequence[float],
    largest_areas: Sequence[float], supplies: Sequence[float],
) -> _Plan:
    """Solve the linear programme; refuse lists of unequal length."""
    from scipy.optimize import linprog  # slow to load, and only this topic needs it

    crops = len(margins)
    for name, values in (
        ("labour_needs", labour_needs), ("light_needs", light_needs), ("largest_areas", largest_areas)
    ):
        if len(values) != crops:
            raise OutOfRange(f"{name}: {len(values)} value(s) for {crops} crop(s). Give one for each crop.")
    needs = ((1.0,) * crops, tuple(labour_needs), tuple(light_needs))
    found = linprog(
        [-margin for margin in margins], A_ub=needs, b_ub=list(supplies),
        bounds=[(0.0, largest) for largest in largest_areas], method="highs",
    )
    # The solver looks for a least cost, so that its marginals are the worth of a unit with the sign turned.
    return _Plan(
        areas=tuple(float(area) for area in found.x),
        margin=0.0 - float(found.fun),
        needs=needs,
        prices=tuple(0.0 - float(price) for price in found.ineqlin.marginals),
        market_prices=tuple(0.0 - float(price) for price in found.upper.marginals),
    )


@relation(cite("lpsolve_farm", "farmer's problem of wheat and barley"), procedure=True)
def crop_plan_areas(
    *, margins: Margins, labour_needs: LabourNeeds, light_needs: LightNeeds, largest_areas: LargestAreas,
    bed_area: WholeArea, labour_supply: HoursSupply, light_supply: LightSupply,
) -> PlanAreas:
    """Areas of the crops that together earn the largest gross margin.

    Parameters
    ----------
    margins : gross margin of each crop, shape (n,) [dollar/m^2/week]
    labour_needs : labour of each crop, shape (n,) [hour/m^2/week]
    light_needs : lamp light of each crop on top of the sun, shape (n,) [mol/m^2/day]
    largest_areas : area of each crop whose harvest can be sold, shape (n,) [m^2]
    bed_area : bed area to be had [m^2]
    labour_supply : labour to be had [hour/week]
    light_supply : lamp light to be had, all beds together [mol/day]

    Returns
    -------
    Area of each crop [m^2].

    Raises
    ------
    OutOfRange : an argument outside its range, or lists of unequal length.

    Notes
    -----
    Linear: twice the area brings twice the margin. A crop whose margin is below zero is left out. Where two plans earn
    the same, one of them is given.

    Examples
    --------
    >>> [round(area, 6) for area in crop_plan_areas(
    ...     margins=[6.0, 4.0], labour_needs=[0.5, 0.25], light_needs=[0.0, 0.0], largest_areas=[100.0, 100.0],
    ...     bed_area=100.0, labour_supply=30.0, light_supply=1.0)]
    [20.0, 80.0]
    """
    return _best_plan(
        margins, labour_needs, light_needs, largest_areas, (bed_area, labour_supply, light_supply)
    ).areas


@relation(cite("lpsolve_farm", "farmer's problem of wheat and barley"), procedure=True)
def crop_plan_margin(
    *, margins: Margins, labour_needs: LabourNeeds, light_needs: LightNeeds, largest_areas: LargestAreas,
    bed_area: WholeArea, labour_supply: HoursSupply, light_supply: LightSupply,
) -> PlanMargin:
    """Largest gross margin that beds, hours and lamp light allow.

    Parameters
    ----------
    margins : gross margin of each crop, shape (n,) [dollar/m^2/week]
    labour_needs : labour of each crop, shape (n,) [hour/m^2/week]
    light_needs : lamp light of each crop on top of the sun, shape (n,) [mol/m^2/day]
    largest_areas : area of each crop whose harvest can be sold, shape (n,) [m^2]
    bed_area : bed area to be had [m^2]
    labour_supply : labour to be had [hour/week]
    light_supply : lamp light to be had, all beds together [mol/day]

    Returns
    -------
    Gross margin of the best plan [dollar/week].

    Raises
    ------
    OutOfRange : an argument outside its range, or lists of unequal length.

    Examples
    --------
    >>> round(crop_plan_margin(
    ...     margins=[6.0, 4.0], labour_needs=[0.5, 0.25], light_needs=[0.0, 0.0], largest_areas=[100.0, 100.0],
    ...     bed_area=100.0, labour_supply=30.0, light_supply=1.0), 6)
    440.0
    """
    return _best_plan(
        margins, labour_needs, light_needs, largest_areas, (bed_area, labour_supply, light_supply)
    ).margin


@relation(cite("lpsolve_farm", "farmer's problem of wheat and barley"), procedure=True)
def crop_plan_limits(
    *, margins: Margins, labour_needs: LabourNeeds, light_needs: LightNeeds, largest_areas: LargestAreas,
    bed_area: WholeArea, labour_supply: HoursSupply, light_supply: LightSupply,
) -> PlanLimits:
    """Use and shadow price of each limit of the best plan: beds, labour, lamp light, then the market of each crop.

    Parameters
    ----------
    margins : gross margin of each crop, shape (n,) [dollar/m^2/week]
    labour_needs : labour of each crop, shape (n,) [hour/m^2/week]
    light_needs : lamp light of each crop on top of the sun, shape (n,) [mol/m^2/day]
    largest_areas : area of each crop whose harvest can be sold, shape (n,) [m^2]
    bed_area : bed area to be had [m^2]
    labour_supply : labour to be had [hour/week]
    light_supply : lamp light to be had, all beds together [mol/day]

    Returns
    -------
    Rows: limit, unit, available, used, left, shadow price and its unit.

    Raises
    ------
    OutOfRange : an argument outside its range, or lists of unequal length.

    Notes
    -----
    The shadow price is what one unit more would bring a week, as long as the same limits stay tight; a limit with
    something left is worth nothing more. Where three limits meet in one plan, the prices are not the only ones.

    Examples
    --------
    >>> [(row.limit, round(row.shadow_price, 6)) for row in crop_plan_limits(
    ...     margins=[6.0, 4.0], labour_needs=[0.5, 0.25], light_needs=[0.0, 0.0], largest_areas=[100.0, 100.0],
    ...     bed_area=100.0, labour_supply=30.0, light_supply=1.0)][:2]
    [('beds', 2.0), ('labour', 8.0)]
    """
    supplies = (bed_area, labour_supply, light_supply)
    plan = _best_plan(margins, labour_needs, light_needs, largest_areas, supplies)
    used = [math.fsum(need * area for need, area in zip(row, plan.areas, strict=True)) for row in plan.needs]
    names = (
        ("beds", "m^2", "dollar/m^2/week"), ("labour", "hour/week", "dollar/hour"),
        ("lamp light", "mol/day", "dollar*day/mol/week"),
    )
    rows = [
        LimitRow(name, unit, supply, use, supply - use, price, price_unit)
        for (name, unit, price_unit), supply, use, price in zip(names, supplies, used, plan.prices, strict=True)
    ]
    rows += [
        LimitRow(f"market of crop {number}", "m^2", largest, area, largest - area, price, "dollar/m^2/week")
        for number, (largest, area, price) in enumerate(
            zip(largest_areas, plan.areas, plan.market_prices, strict=True), start=1
        )
    ]
    return tuple(rows)
