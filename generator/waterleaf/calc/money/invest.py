"""Money, investment: what a trellis or a heater costs a year, and whether it pays.

Rates are per cent a year and times are whole years; money comes at the end of each year.
"""

import math
from collections.abc import Sequence
from typing import Annotated

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Quantity, cite, relation

Rate = Annotated[float, Quantity("r", "percent", "interest rate a year", 0.01, 60)]
Years = Annotated[float, Quantity("n", "", "number of years", 1, 60, whole=True)]
Growth = Annotated[float, Quantity("q", "", "growth factor of a year", 1, 2)]
InterestShare = Annotated[float, Quantity("j", "", "interest rate as a fraction", 0.0001, 0.6)]
Amount = Annotated[float, Quantity("S", "dollar", "amount paid later", 0.01, 1_000_000_000)]
PresentValue = Annotated[float, Quantity("PV", "dollar", "present value", 0, 1_000_000_000)]
YearlyAmount = Annotated[float, Quantity("S", "dollar", "amount at the end of each year", 0.01, 1_000_000_000)]
AnnuityFactor = Annotated[float, Quantity("F", "", "annuity factor", 0.5, 60)]
YearValues = Annotated[
    tuple[float, ...], Quantity("PV", "dollar", "present value of each year", 0, 1_000_000_000, many=1)
]
Outlay = Annotated[float, Quantity("I", "dollar", "outlay today", 0.01, 1_000_000_000)]
Salvage = Annotated[float, Quantity("R", "dollar", "resale value at the end", 0, 1_000_000_000)]
YearlyCost = Annotated[float, Quantity("C", "dollar", "cost at the end of each year", -1_000_000_000, 1_000_000_000)]
Savings = Annotated[float, Quantity("PV_s", "dollar", "present value of the savings", 0, 100_000_000_000)]
SalvageValue = Annotated[float, Quantity("PV_R", "dollar", "present value of the resale", 0, 1_000_000_000)]
NetPresentValue = Annotated[float, Quantity("NPV", "dollar", "net present value")]
Flows = Annotated[
    Sequence[float],
    Quantity("S", "dollar", "net cash flows of the years", -1_000_000_000, 1_000_000_000, many=1, fewest=1),
]
SavingRate = Annotated[float, Quantity("S", "dollar/year", "saving a year", 0.01, 1_000_000_000)]
Payback = Annotated[float, Quantity("T", "year", "payback time", 0)]
Life = Annotated[float, Quantity("T", "year", "years of use", 1, 60)]
Depreciation = Annotated[float, Quantity("D", "dollar/year", "depreciation a year", -1_000_000_000, 1_000_000_000)]


@relation(cite("agribusiness", "table 13.2, present value of 1 dollar"))
def present_value(*, amount: Amount, rate: Rate, years: Years) -> PresentValue:
    """What an amount paid later is worth today.

    Parameters
    ----------
    amount : amount paid at the end [dollar]
    rate : interest rate a year [percent]
    years : years until it is paid, a whole number

    Returns
    -------
    Present value [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(present_value(amount=1000.0, rate=5.0, years=4.0), 2)
    822.7
    """
    growth: Growth = 1 + rate / HUNDRED_PERCENT
    return amount / growth**years


@relation(cite("annuity_table", "present value of an ordinary annuity of 1 a period"))
def annuity_factor(*, rate: Rate, years: Years) -> AnnuityFactor:
    """Worth today of one dollar at the end of each of some years.

    Parameters
    ----------
    rate : interest rate a year [percent]
    years : number of years, a whole number

    Returns
    -------
    Annuity factor, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    At no interest it would be the number of years itself.

    Examples
    --------
    >>> round(annuity_factor(rate=10.0, years=10.0), 5)
    6.14457
    """
    interest: InterestShare = rate / HUNDRED_PERCENT
    growth: Growth = 1 + interest
    return (1 - growth**-years) / interest


@relation(cite("agribusiness", "discounting of yearly amounts"))
def present_values(*, yearly_amount: YearlyAmount, rate: Rate, years: Years) -> YearValues:
    """Worth today of each of a row of equal yearly amounts.

    Parameters
    ----------
    yearly_amount : amount at the end of each year [dollar]
    rate : interest rate a year [percent]
    years : number of years, a whole number

    Returns
    -------
    Present value of the amount of each year [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> [round(value, 2) for value in present_values(yearly_amount=110.0, rate=10.0, years=2.0)]
    [100.0, 90.91]
    """
    growth: Growth = 1 + rate / HUNDRED_PERCENT
    return tuple(yearly_amount / growth ** (number + 1) for number in range(int(years)))


@relation(
    cite("annuity_table", "amount times factor"),
    cite("brake_annual", "present value of yearly costs or returns"),
)
def annuity_value(*, yearly_amount: YearlyAmount, rate: Rate, years: Years) -> PresentValue:
    """What a row of equal yearly amounts is worth today.

    Parameters
    ----------
    yearly_amount : amount at the end of each year [dollar]
    rate : interest rate a year [percent]
    years : number of years, a whole number

    Returns
    -------
    Present value [dollar].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(annuity_value(yearly_amount=100.0, rate=10.0, years=2.0), 2)
    173.55
    """
    factor: AnnuityFactor = annuity_factor(rate=rate, years=years)
    return yearly_amount * factor


@relation(cite("capital_recovery", "worked answer"), cite("brake_annual", "annual capital recovery cost"))
def yearly_cost_of_outlay(*, outlay: Outlay, salvage: Salvage = 0.0, rate: Rate, years: Years) -> YearlyCost:
    """Yearly cost that stands for an outlay: depreciation and interest in one.

    Parameters
    ----------
    outlay : outlay today [dollar]
    salvage : resale value at the end [dollar]
    rate : interest rate a year [percent]
    years : years of use, a whole number

    Returns
    -------
    Cost at the end of each year [dollar]; a saving above it pays.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(yearly_cost_of_outlay(outlay=1000.0, salvage=100.0, rate=8.0, years=10.0), 2)
    142.13
    """
    factor: AnnuityFactor = annuity_factor(rate=rate, years=years)
    return (outlay - salvage) / factor + salvage * rate / HUNDRED_PERCENT


@relation(cite("agribusiness", "net present value model"))
def net_present_value(
    *, outlay: Outlay, yearly_amount: YearlyAmount, salvage: Salvage = 0.0, rate: Rate, years: Years,
) -> NetPresentValue:
    """Net present value of an outlay that brings the same amount every year.

    Parameters
    ----------
    outlay : outlay today [dollar]
    yearly_amount : saving or margin at the end of each year [dollar]
    salvage : resale value at the end [dollar]
    rate : interest rate a year [percent]
    years : years of use, a whole number

    Returns
    -------
    Net present value [dollar]; above zero the outlay earns more than the interest.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The sum does not judge safety: a heater near water needs its own protected circuit, as local codes ask.

    Examples
    --------
    >>> round(net_present_value(outlay=500.0, yearly_amount=150.0, rate=8.0, years=5.0), 2)
    98.91
    """
    savings: Savings = annuity_value(yearly_amount=yearly_amount, rate=rate, years=years)
    resale: SalvageValue = salvage / (1 + rate / HUNDRED_PERCENT) ** years
    return savings + resale - outlay


@relation(cite("agribusiness", "table 13.8"), procedure=True)
def net_present_value_of_flows(*, outlay: Outlay, flows: Flows, rate: Rate) -> NetPresentValue:
    """Net present value of an outlay that brings a different amount every year.

    Parameters
    ----------
    outlay : outlay today [dollar]
    flows : net cash flow at the end of each year, shape (n,) [dollar]
    rate : interest rate a year [percent]

    Returns
    -------
    Net present value [dollar].

    Raises
    ------
    OutOfRange : no cash flow given, or an argument outside its range.

    Examples
    --------
    >>> round(net_present_value_of_flows(outlay=100.0, flows=[60.0, 60.0], rate=10.0), 2)
    4.13
    """
    growth = 1 + rate / HUNDRED_PERCENT
    return math.fsum(flow / growth**year for year, flow in enumerate(flows, start=1)) - outlay


@relation(cite("agribusiness", "payback period of a grain store"), cite("apogee_payback", "cost over yearly saving"))
def simple_payback(*, outlay: Outlay, saving: SavingRate) -> Payback:
    """Years until the savings have paid an outlay back.

    Parameters
    ----------
    outlay : outlay today [dollar]
    saving : saving or margin a year [dollar/year]

    Returns
    -------
    Payback time [year].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Leaves out interest and everything after the payback: a short-lived thing may look better than a lasting one.

    Examples
    --------
    >>> simple_payback(outlay=500.0, saving=200.0)
    2.5
    """
    return outlay / saving


@relation(cite("agribusiness", "table 13.6"))
def straight_line_depreciation(*, outlay: Outlay, salvage: Salvage = 0.0, life: Life) -> Depreciation:
    """Value that a thing loses a year when the loss is spread evenly.

    Parameters
    ----------
    outlay : what it cost [dollar]
    salvage : resale value at the end [dollar]
    life : years of use [year]

    Returns
    -------
    Depreciation [dollar/year].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A house serves many crops: charge one crop only its part.

    Examples
    --------
    >>> straight_line_depreciation(outlay=1200.0, salvage=200.0, life=10.0)
    100.0
    """
    return (outlay - salvage) / life
