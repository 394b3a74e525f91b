"""Diet: blending feeds by square and by linear programme, and checking a claim against the fatty acids."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation

LowContent = Annotated[float, Quantity("p_low", "percent", "content of the poorer ingredient", 0, 99)]
HighContent = Annotated[float, Quantity("p_high", "percent", "content of the richer ingredient", 1, 100)]
Target = Annotated[float, Quantity("p", "percent", "content wished in the blend", 0.5, 99.5)]
HighParts = Annotated[float, Quantity("a_high", "percent", "parts of the richer ingredient")]
LowParts = Annotated[float, Quantity("a_low", "percent", "parts of the poorer ingredient")]
HighShare = Annotated[float, Quantity("w_high", "percent", "share of the richer ingredient", 0, 100)]
FirstShare = Annotated[float, Quantity("w_1", "percent", "share of the first ingredient", 0, 100)]
FirstContent = Annotated[float, Quantity("p_1", "percent", "content of the first ingredient", 0, 100)]
SecondContent = Annotated[float, Quantity("p_2", "percent", "content of the second ingredient", 0, 100)]
BlendContent = Annotated[float, Quantity("p", "percent", "content of the blend", 0, 100)]
Masses = Annotated[Sequence[float], Quantity("m", "kg", "masses of the ingredients", 0, 1_000_000, many=1)]
Contents = Annotated[Sequence[float], Quantity("p", "percent", "contents of the ingredients", 0, 100, many=1)]
FirstPrice = Annotated[float, Quantity("c_1", "dollar/kg", "price of the first ingredient", 0, 1000)]
SecondPrice = Annotated[float, Quantity("c_2", "dollar/kg", "price of the second ingredient", 0, 1000)]
BlendPrice = Annotated[float, Quantity("c", "dollar/kg", "price of the blend", 0, 1000)]
Prices = Annotated[Sequence[float], Quantity("c", "dollar/kg", "prices of the ingredients", 0, 1000, many=1)]
Nutrients = Annotated[
    Sequence[Sequence[float]],
    Quantity("p", "percent", "contents, one list for each nutrient", 0, 100, many=2),
]
Least = Annotated[Sequence[float], Quantity("l", "percent", "least content of each nutrient", 0, 100, many=1)]
Most = Annotated[Sequence[float], Quantity("u", "percent", "largest content of each nutrient", 0, 100, many=1)]
LargestShares = Annotated[
    Sequence[float], Quantity("w_max", "percent", "largest share of each ingredient", 0, 100, many=1)
]


@relation(cite("pearson_square", "the square: parts on the diagonals, 14 % from corn and soybean meal"))
def pearson_share(*, low_content: LowContent, target: Target, high_content: HighContent) -> HighShare:
    """Share of the richer of two ingredients that brings a blend to a wished content, by the Pearson square.

    Parameters
    ----------
    low_content : content of the poorer ingredient, such as its protein [percent]
    target : content wished in the blend [percent]
    high_content : content of the richer ingredient [percent]

    Returns
    -------
    Share of the richer ingredient; the poorer one is the rest [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The wished content must lie between the two: a share below 0 or above 100 % says that it does not. All contents on
    one basis, as fed or dry. The parts stand on the diagonals: what is left of the poor one gives the rich one.

    Examples
    --------
    >>> round(pearson_share(low_content=10.0, target=14.0, high_content=45.0), 2)  # corn and soybean meal
    11.43
    """
    high_parts: HighParts = target - low_content
    low_parts: LowParts = high_content - target
    return HUNDRED_PERCENT * high_parts / (high_parts + low_parts)


@relation(cite("montana_pearson", "example 3, protein of supplement and of grain"))
def blend_content(
    *, first_share: FirstShare, first_content: FirstContent, second_content: SecondContent
) -> BlendContent:
    """Content of a blend of two ingredients, such as its protein.

    Parameters
    ----------
    first_share : share of the first ingredient; the second is the rest [percent]
    first_content : content of the first ingredient [percent]
    second_content : content of the second ingredient [percent]

    Returns
    -------
    Content of the blend [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Crude protein says nothing of the amino acids: a blend of the right protein may still stunt fish. A home-made blend
    also lacks vitamins; feed fish a complete feed unless a nutritionist has checked the recipe.

    Examples
    --------
    >>> blend_content(first_share=50.0, first_content=54.0, second_content=24.0)  # soybean meal and corn gluten feed
    39.0
    """
    return (first_share * first_content + (HUNDRED_PERCENT - first_share) * second_content) / HUNDRED_PERCENT


@relation(cite("arithmetic", "weighted mean of prices", "definition"))
def blend_price(*, first_share: FirstShare, first_price: FirstPrice, second_price: SecondPrice) -> BlendPrice:
    """Price of a blend of two ingredients.

    Parameters
    ----------
    first_share : share of the first ingredient; the second is the rest [percent]
    first_price : price of the first ingredient [dollar/kg]
    second_price : price of the second ingredient [dollar/kg]

    Returns
    -------
    Price of the blend [dollar/kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> blend_price(first_share=25.0, first_price=2.0, second_price=0.4)
    0.8
    """
    return (first_share * first_price + (HUNDRED_PERCENT - first_share) * second_price) / HUNDRED_PERCENT


@relation(cite("arithmetic", "mean weighted by mass", "definition"), procedure=True)
def content_of_blend(*, masses: Masses, contents: Contents) -> BlendContent:
    """Content of a blend of any number of ingredients, weighted by their masses.

    Parameters
    ----------
    masses : mass of each ingredient, shape (n,) [kg]
    contents : content of each ingredient, shape (n,) [percent]

    Returns
    -------
    Content of the blend [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range, lists of different lengths, or no mass at all.

    Examples
    --------
    >>> content_of_blend(masses=[60.0, 40.0], contents=[10.0, 12.0])  # corn and soyhulls
    10.8
    """
    same_length(masses=masses, contents=contents)
    total = math.fsum(masses)
    if total == 0:
        raise OutOfRange("masses: all are zero. Give at least one ingredient a mass.")
    return math.fsum(mass * content for mass, content in zip(masses, contents, strict=True)) / total


@dataclass(frozen=True, slots=True)
class SquareRow:
    """One ingredient of a Pearson square: its content, its parts, its share of the blend."""

    ingredient: str
    content: float
    parts: float
    share: float


SquareTable = Annotated[tuple[SquareRow, ...], Quantity("", "", "Pearson square")]


@relation(cite("pearson_square", "the value in the middle must lie between the two on the left"), procedure=True)
def pearson_square(*, low_content: LowContent, target: Target, high_content: HighContent) -> SquareTable:
    """Pearson square as a table, refused where the wished content does not lie between the two ingredients.

    Parameters
    ----------
    low_content : content of the poorer ingredient [percent]
    target : content wished in the blend [percent]
    high_content : content of the richer ingredient [percent]

    Returns
    -------
    Two rows: ingredient, content [percent], parts, share [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or a target that the two cannot reach.

    Examples
    --------
    >>> [(row.parts, round(row.share, 2)) for row in pearson_square(low_content=10.0, target=14.0, high_content=45.0)]
    [(4.0, 11.43), (31.0, 88.57)]
    """
    if not low_content < target < high_content:
        raise OutOfRange(
            f"target: {target:g} percent does not lie between {low_content:g} and {high_content:g} percent. "
            "Give a target between the two, or another ingredient."
        )
    share = pearson_share(low_content=low_content, target=target, high_content=high_content)
    return (
        SquareRow("richer", high_content, target - low_content, share),
        SquareRow("poorer", low_content, high_content - target, 100 - share),
    )


@dataclass(frozen=True, slots=True)
class BlendRow:
    """One ingredient of a least-cost blend: its number, share, and part of the price of a kilogram of blend."""

    ingredient: str
    share: float
    cost: float


BlendTable = Annotated[tuple[BlendRow, ...], Quantity("", "", "least-cost blend")]


@relation(cite("dantzig1963", "the diet problem as a linear programme", "memory"), procedure=True)
def least_cost_blend(
    *, prices: Prices, contents: Nutrients, least: Least, most: Most, largest_shares: LargestShares
) -> BlendTable:
    """Cheapest blend of ingredients that keeps every nutrient and every share within its limits.

    Parameters
    ----------
    prices : price of each ingredient, shape (n,) [dollar/kg]
    contents : content of each nutrient in each ingredient, shape (k, n) [percent]
    least : least content of each nutrient in the blend, shape (k,) [percent]
    most : largest content of each nutrient in the blend, shape (k,) [percent]
    largest_shares : largest share of each ingredient, shape (n,) [percent]

    Returns
    -------
    One row for each ingredient: number, share [percent], cost in a kilogram of blend [dollar]; the last row is the sum.

    Raises
    ------
    OutOfRange : an argument outside its valid range, lists of different lengths, or limits that no blend meets.

    Notes
    -----
    Solved by scipy (HiGHS). The programme knows only the limits it is given: without limits on fibre, salt, amino acids
    or an ingredient that fish refuse, the cheapest blend may be unfit to feed.

    Examples
    --------
    >>> rows = least_cost_blend(prices=[0.3, 0.9], contents=[[10.0, 45.0]], least=[14.0], most=[100.0],
    ...                         largest_shares=[100.0, 100.0])
    >>> [round(row.share, 2) for row in rows]
    [88.57, 11.43, 100.0]
    """
    from scipy.optimize import linprog  # slow to load, and only this procedure needs it

    same_length(prices=prices, largest_shares=largest_shares, **{f"contents {i}": c for i, c in enumerate(contents, 1)})
    same_length(contents=contents, least=least, most=most)
    found = linprog(
        prices,
        A_ub=[[-value for value in nutrient] for nutrient in contents] + [list(nutrient) for nutrient in contents],
        b_ub=[-limit for limit in least] + list(most),
        A_eq=[[1.0] * len(prices)],
        b_eq=[1.0],
        bounds=[(0.0, share / 100) for share in largest_shares],
        method="highs",
    )
    if not found.success:
        raise OutOfRange("contents: no blend of these keeps every limit. Widen a limit or add an ingredient.")
    shares = [float(share) for share in found.x]
    rows = [
        BlendRow(str(number), 100 * share, share * price)
        for number, (share, price) in enumerate(zip(shares, prices, strict=True), start=1)
    ]
    return (*rows, BlendRow("all", math.fsum(row.share for row in rows), math.fsum(row.cost for row in rows)))


def same_length(**lists: Sequence[object]) -> None:
    """Refuse lists that should match but do not."""
    if len({len(items) for items in lists.values()}) > 1:
        counts = ", ".join(f"{name.replace('_', ' ')} {len(items)}" for name, items in lists.items())
        raise OutOfRange(f"{next(iter(lists))}: the lists differ in length ({counts}). Give lists of one length.")
