"""Money, break-even: the price, the weight and the number of heads at which a crop pays its costs."""

from typing import Annotated

from waterleaf.calc.crops.picking import Sold
from waterleaf.calc.money.margin import HeadPrice, KilogramPrice, Revenue, TotalCost
from waterleaf.calc.quantity import Quantity, cite, relation

HeadCost = Annotated[float, Quantity("c", "dollar/head", "variable cost of a head", 0, 20)]
HeadFixed = Annotated[float, Quantity("k", "dollar/head", "fixed cost a head", 0, 100)]
HeadMargin = Annotated[float, Quantity("m", "dollar/head", "gross margin a head", -20, 1000)]
GainedMargin = Annotated[
    float,
    Quantity(
        "m", "dollar/head", "gross margin a head", 0.0001, 1000,
        basis="a head sold at or below its variable cost never pays the fixed costs",
    ),
]
HeadNet = Annotated[float, Quantity("e", "dollar/head", "net return a head", -120, 1000)]
SomeFixed = Annotated[float, Quantity("K", "dollar", "fixed cost", 1, 1_000_000_000)]
BreakEvenHeads = Annotated[float, Quantity("N", "head", "heads that break even", 0, 1_000_000_000_000)]


@relation(
    cite("higgins_breakeven", "price less variable cost a unit"),
    cite("penn_breakeven", "go on while receipts exceed variable cost"),
)
def unit_margin(*, price: HeadPrice, variable_cost: HeadCost) -> HeadMargin:
    """What one head leaves for fixed costs and profit.

    Parameters
    ----------
    price : price of a head [dollar/head]
    variable_cost : variable cost of a head [dollar/head]

    Returns
    -------
    Gross margin a head [dollar/head].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Above zero: growing on this season loses less than stopping, even where the net return is below zero.

    Examples
    --------
    >>> unit_margin(price=1.5, variable_cost=0.5)
    1.0
    """
    return price - variable_cost


@relation(cite("arithmetic", "price less all cost of a unit", "definition"))
def unit_net_return(*, price: HeadPrice, variable_cost: HeadCost, fixed_cost: HeadFixed) -> HeadNet:
    """What one head leaves after all costs.

    Parameters
    ----------
    price : price of a head [dollar/head]
    variable_cost : variable cost of a head [dollar/head]
    fixed_cost : fixed cost spread over the heads [dollar/head]

    Returns
    -------
    Net return a head [dollar/head].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> unit_net_return(price=1.5, variable_cost=0.5, fixed_cost=0.75)
    0.25
    """
    margin: HeadMargin = unit_margin(price=price, variable_cost=variable_cost)
    return margin - fixed_cost


@relation(cite("smith_budget", "total cost over expected yield"), cite("penn_breakeven", "break-even price"))
def break_even_price(*, total_cost: TotalCost, sold: Sold) -> KilogramPrice:
    """Price at which a harvest just pays its costs.

    Parameters
    ----------
    total_cost : all costs of the crop [dollar]
    sold : weight that is sold, losses taken off [kg]

    Returns
    -------
    Break-even price [dollar/kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> break_even_price(total_cost=760.0, sold=190.0)
    4.0
    """
    return total_cost / sold


@relation(cite("smith_budget", "total cost over price"), cite("penn_breakeven", "break-even yield"))
def break_even_yield(*, total_cost: TotalCost, price: KilogramPrice) -> Sold:
    """Weight that must be sold to pay the costs.

    Parameters
    ----------
    total_cost : all costs of the crop [dollar]
    price : price of a kilogram [dollar/kg]

    Returns
    -------
    Weight to be sold [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> break_even_yield(total_cost=760.0, price=5.0)
    152.0
    """
    return total_cost / price


@relation(cite("higgins_breakeven", "fixed cost over margin a unit"))
def heads_to_cover(*, fixed_cost: SomeFixed, unit_margin: GainedMargin) -> BreakEvenHeads:
    """Heads whose margins together pay a fixed cost.

    Parameters
    ----------
    fixed_cost : fixed cost to be paid [dollar]
    unit_margin : gross margin a head, above zero [dollar/head]

    Returns
    -------
    Heads, before rounding up [head].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> heads_to_cover(fixed_cost=9000.0, unit_margin=1.0)
    9000.0
    """
    return fixed_cost / unit_margin


@relation(cite("higgins_breakeven", "fixed cost over price less variable cost a unit"))
def break_even_units(*, fixed_cost: SomeFixed, price: HeadPrice, variable_cost: HeadCost) -> BreakEvenHeads:
    """Heads that must be sold to pay the fixed costs.

    Parameters
    ----------
    fixed_cost : fixed cost of the season [dollar]
    price : price of a head, above its variable cost [dollar/head]
    variable_cost : variable cost of a head [dollar/head]

    Returns
    -------
    Heads, before rounding up [head].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or a price that does not cover the variable cost.

    Examples
    --------
    >>> break_even_units(fixed_cost=9000.0, price=1.5, variable_cost=0.5)
    9000.0
    """
    margin: HeadMargin = unit_margin(price=price, variable_cost=variable_cost)
    return heads_to_cover(fixed_cost=fixed_cost, unit_margin=margin)


@relation(cite("higgins_breakeven", "break-even units times price"))
def break_even_revenue(*, fixed_cost: SomeFixed, price: HeadPrice, variable_cost: HeadCost) -> Revenue:
    """Revenue at which the fixed costs are just paid.

    Parameters
    ----------
    fixed_cost : fixed cost of the season [dollar]
    price : price of a head, above its variable cost [dollar/head]
    variable_cost : variable cost of a head [dollar/head]

    Returns
    -------
    Revenue [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or a price that does not cover the variable cost.

    Examples
    --------
    >>> break_even_revenue(fixed_cost=9000.0, price=1.5, variable_cost=0.5)
    13500.0
    """
    heads: BreakEvenHeads = break_even_units(fixed_cost=fixed_cost, price=price, variable_cost=variable_cost)
    return heads * price
