"""Fuel: how much of it a heat takes, and what the heat costs."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation

HeatNeeded = Annotated[float, Quantity("E", "kWh", "heat needed", 0.001, 1_000_000_000)]
HeatContent = Annotated[float, Quantity("e", "kWh/fuel_unit", "heat in a unit of the fuel as it is sold", 0.1, 20_000)]
Efficiency = Annotated[
    float,
    Quantity(
        "η", "percent", "efficiency of the burner", 10, 500,
        basis="burners reach 60 to 98 %; a heat pump gives 200 to 500 %",
    ),
]
FuelAmount = Annotated[float, Quantity("n", "fuel_unit", "fuel needed, in the unit it is sold by", 0)]
FuelPrice = Annotated[float, Quantity("c", "dollar/fuel_unit", "price of a unit of the fuel", 0.001, 100_000)]
FuelCost = Annotated[float, Quantity("K", "dollar", "cost of the fuel", 0)]
HeatPrice = Annotated[float, Quantity("c_heat", "dollar/kWh", "price of a kilowatt hour of heat", 0)]


@relation(
    cite("arithmetic", "heat over heat content and efficiency", "definition"),
    cite("fuel_costs2010", "80 % efficiency"),
)
def fuel_needed(*, heat_needed: HeatNeeded, heat_content: HeatContent, efficiency: Efficiency) -> FuelAmount:
    """Fuel that gives a heat, in the unit in which the fuel is sold.

    Parameters
    ----------
    heat_needed : heat that the house or the water needs [kWh]
    heat_content : heat in one unit of the fuel, be it gallon, therm, ton or cord [kWh/fuel_unit]
    efficiency : share of that heat which reaches the house [percent]

    Returns
    -------
    Fuel needed [fuel_unit].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Dividing by the efficiency, not multiplying. Burners in a closed house make carbon monoxide: flue, fresh air and an
    alarm as the local code asks.

    Examples
    --------
    >>> fuel_needed(heat_needed=400.0, heat_content=25.0, efficiency=80.0)
    20.0
    """
    return heat_needed * HUNDRED_PERCENT / (heat_content * efficiency)


@relation(cite("arithmetic", "amount times price", "definition"))
def fuel_cost(
    *, heat_needed: HeatNeeded, heat_content: HeatContent, efficiency: Efficiency, fuel_price: FuelPrice
) -> FuelCost:
    """Cost of the fuel that gives a heat.

    Parameters
    ----------
    heat_needed : heat that the house or the water needs [kWh]
    heat_content : heat in one unit of the fuel as it is sold [kWh/fuel_unit]
    efficiency : share of that heat which reaches the house [percent]
    fuel_price : price of one unit of the fuel [dollar/fuel_unit]

    Returns
    -------
    Cost [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> fuel_cost(heat_needed=400.0, heat_content=25.0, efficiency=80.0, fuel_price=2.5)
    50.0
    """
    fuel: FuelAmount = fuel_needed(heat_needed=heat_needed, heat_content=heat_content, efficiency=efficiency)
    return fuel * fuel_price


@relation(cite("fuel_costs2010", "cost of a million Btu"))
def heat_price(*, fuel_price: FuelPrice, heat_content: HeatContent, efficiency: Efficiency) -> HeatPrice:
    """Price of a kilowatt hour of heat from a fuel.

    Parameters
    ----------
    fuel_price : price of one unit of the fuel as it is sold [dollar/fuel_unit]
    heat_content : heat in that unit [kWh/fuel_unit]
    efficiency : share of that heat which reaches the house [percent]

    Returns
    -------
    Price of heat [dollar/kWh].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Round at the end: printed comparisons that round the gallons of a million Btu first are off by a percent.

    Examples
    --------
    >>> heat_price(fuel_price=2.0, heat_content=25.0, efficiency=80.0)
    0.1
    """
    return fuel_price * HUNDRED_PERCENT / (heat_content * efficiency)


FuelPrices = Annotated[
    Sequence[float], Quantity("c", "dollar/fuel_unit", "prices of the fuels", 0.001, 100_000, many=1)
]
HeatContents = Annotated[
    Sequence[float], Quantity("e", "kWh/fuel_unit", "heat in a unit of each fuel", 0.1, 20_000, many=1)
]
Efficiencies = Annotated[Sequence[float], Quantity("η", "percent", "efficiencies", 10, 500, many=1)]


@dataclass(frozen=True, slots=True)
class FuelRow:
    """One fuel of a comparison: its place in the list, how much is needed, its cost, and the price of its heat."""

    fuel: int
    amount: float
    cost: float
    heat_price: float


FuelTable = Annotated[tuple[FuelRow, ...], Quantity("", "", "fuels, cheapest heat first")]


@relation(cite("fuel_costs2010", "comparison of fuel costs"), procedure=True)
def fuel_comparison(
    *, heat_needed: HeatNeeded, fuel_prices: FuelPrices, heat_contents: HeatContents, efficiencies: Efficiencies
) -> FuelTable:
    """Fuels compared by what one heat costs with each, cheapest first.

    Parameters
    ----------
    heat_needed : heat that the house or the water needs [kWh]
    fuel_prices : price of a unit of each fuel, shape (n,) [dollar/fuel_unit]
    heat_contents : heat in a unit of each fuel, shape (n,) [kWh/fuel_unit]
    efficiencies : efficiency with each fuel, shape (n,) [percent]

    Returns
    -------
    A row for each fuel, cheapest first: its number in the lists, amount, cost, price of heat.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or lists of unlike length.

    Examples
    --------
    >>> [row.fuel for row in fuel_comparison(heat_needed=100.0, fuel_prices=[3.0, 0.15], heat_contents=[26.8, 1.0],
    ...                                      efficiencies=[80.0, 100.0])]
    [1, 2]
    """
    for name, values in (("heat_contents", heat_contents), ("efficiencies", efficiencies)):
        if len(values) != len(fuel_prices):
            raise OutOfRange(f"{name}: {len(values)} given for {len(fuel_prices)} prices. Give one for each fuel.")
    rows = []
    for number, (price, content, efficiency) in enumerate(
        zip(fuel_prices, heat_contents, efficiencies, strict=True), start=1
    ):
        amount = heat_needed * 100 / (content * efficiency)
        rows.append(FuelRow(number, amount, amount * price, price * 100 / (content * efficiency)))
    return tuple(sorted(rows, key=lambda row: (row.heat_price, row.fuel)))
