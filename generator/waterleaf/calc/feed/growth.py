"""Growth of fish: rates by three yardsticks, and the days to a weight by each of them."""

import math
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

FirstWeight = Annotated[float, Quantity("W_1", "g", "weight of a fish at the start", 0.001, 30_000)]
LastWeight = Annotated[float, Quantity("W_2", "g", "weight of a fish at the end", 0.001, 30_000)]
GrowthDays = Annotated[float, Quantity("t", "day", "days of growth", 1, 2000)]
SpecificGrowth = Annotated[
    float,
    Quantity(
        "SGR", "percent/day", "specific growth rate", 0.01, 50,
        basis="from large fish in cool water to fry that gain half their weight in 3 days",
    ),
]
CompoundGain = Annotated[float, Quantity("i", "percent/day", "compound daily gain", 0.01, 70)]
AbsoluteGrowth = Annotated[float, Quantity("ADG", "g/day", "absolute growth", 0.001, 100)]
WaterTemperature = Annotated[float, Quantity("T", "degC", "mean water temperature", 4, 36)]
ThermalGrowth = Annotated[float, Quantity("TGC", "", "thermal growth coefficient", 0.05, 10)]

_CUBE_ROOTS: Final = "the coefficient is quoted as a pure number: cube roots of grams over degree days, times 1,000"

THERMAL_SCALE: Final = Constant(
    1000, symbol="1000", unit="", name="scale of the thermal growth coefficient",
    source=cite("iwama1981", "the coefficient is quoted times 1,000", "definition"),
)


@relation(cite("lugert2016", "specific growth rate, percentage increase in size a day"))
def specific_growth_rate(*, start_weight: FirstWeight, end_weight: LastWeight, days: GrowthDays) -> SpecificGrowth:
    """Specific growth rate: the difference of the natural logarithms of two weights, in percent a day.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    end_weight : mean weight of a fish at the end [g]
    days : days between the two weighings [day]

    Returns
    -------
    Specific growth rate [percent/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The rate falls as fish grow, so the rate from first to last weight is not the mean of the rates of short intervals:
    say which of the two is meant. Natural logarithms, not logarithms to base ten.

    Examples
    --------
    >>> round(specific_growth_rate(start_weight=50.0, end_weight=900.0, days=168.0), 3)
    1.72
    """
    return HUNDRED_PERCENT * math.log(end_weight / start_weight) / days


@relation(
    cite("arithmetic", "compound growth", "definition"), empirical="compounding counts the days as a pure number"
)
def compound_daily_gain(*, start_weight: FirstWeight, end_weight: LastWeight, days: GrowthDays) -> CompoundGain:
    """Percentage by which a fish must grow on each single day to come from one weight to another.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    end_weight : mean weight of a fish at the end [g]
    days : days between the two weighings [day]

    Returns
    -------
    Compound gain [percent/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A little above the specific growth rate. Neither is the whole gain divided by the days.

    Examples
    --------
    >>> round(compound_daily_gain(start_weight=1.0, end_weight=1.5, days=3.0), 1)  # half as much again in 3 days
    14.5
    """
    return float(HUNDRED_PERCENT * ((end_weight / start_weight) ** (1 / days) - 1))


@relation(cite("arithmetic", "the specific growth rate turned round", "definition"))
def weight_after_growth(*, start_weight: FirstWeight, growth_rate: SpecificGrowth, days: GrowthDays) -> LastWeight:
    """Weight of a fish after some days at a specific growth rate.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    growth_rate : specific growth rate [percent/day]
    days : days of growth [day]

    Returns
    -------
    Weight of a fish [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Only over a span in which the rate holds: carried on from fry to market size it overshoots many times over.

    Examples
    --------
    >>> round(weight_after_growth(start_weight=50.0, growth_rate=1.72, days=168.0))
    899
    """
    return start_weight * math.exp(growth_rate * days / HUNDRED_PERCENT)


@relation(cite("lugert2016", "absolute growth, gain a day"))
def absolute_growth(*, start_weight: FirstWeight, end_weight: LastWeight, days: GrowthDays) -> AbsoluteGrowth:
    """Weight gained by a fish on the mean day.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    end_weight : mean weight of a fish at the end [g]
    days : days between the two weighings [day]

    Returns
    -------
    Absolute growth [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(absolute_growth(start_weight=50.0, end_weight=900.0, days=168.0), 2)
    5.06
    """
    return (end_weight - start_weight) / days


@relation(
    cite("iwama1981", "model of growth with temperature", "memory"),
    cite("jobling2003", "assumptions and limits of the coefficient"), empirical=_CUBE_ROOTS,
)
def thermal_growth_coefficient(
    *, start_weight: FirstWeight, end_weight: LastWeight, temperature: WaterTemperature, days: GrowthDays
) -> ThermalGrowth:
    """Thermal growth coefficient: gain of the cube root of weight for each degree day, times 1,000.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    end_weight : mean weight of a fish at the end [g]
    temperature : mean water temperature [degC]
    days : days between the two weighings [day]

    Returns
    -------
    Thermal growth coefficient, a pure number by custom.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Assumes that growth rises steadily with temperature and that weight goes with the cube of length. Above the best
    temperature of a species growth falls, and the coefficient misleads (Jobling 2003). Some authors leave out the
    factor 1,000 or use 100: compare only like with like.

    Examples
    --------
    >>> round(thermal_growth_coefficient(start_weight=50.0, end_weight=900.0, temperature=28.0, days=168.0), 3)
    1.269
    """
    return float(THERMAL_SCALE * (end_weight ** (1 / 3) - start_weight ** (1 / 3)) / (temperature * days))


@relation(
    cite("iwama1981", "model of growth with temperature, turned round", "memory"),
    cite("jobling2003", "assumptions and limits of the coefficient"), empirical=_CUBE_ROOTS,
)
def weight_by_thermal_growth(
    *, start_weight: FirstWeight, thermal_growth: ThermalGrowth, temperature: WaterTemperature, days: GrowthDays
) -> LastWeight:
    """Weight of a fish after some days at a temperature, from its thermal growth coefficient.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    thermal_growth : thermal growth coefficient, times 1,000
    temperature : mean water temperature [degC]
    days : days of growth [day]

    Returns
    -------
    Weight of a fish [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(weight_by_thermal_growth(start_weight=50.0, thermal_growth=1.2694, temperature=28.0, days=168.0))
    900
    """
    return float((start_weight ** (1 / 3) + thermal_growth * temperature * days / THERMAL_SCALE) ** 3)


@relation(cite("arithmetic", "the specific growth rate turned round", "definition"))
def days_at_specific_growth(
    *, start_weight: FirstWeight, end_weight: LastWeight, growth_rate: SpecificGrowth
) -> GrowthDays:
    """Days to a weight at a specific growth rate.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    end_weight : weight wanted, such as market weight [g]
    growth_rate : specific growth rate over this span of weights [percent/day]

    Returns
    -------
    Days [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(days_at_specific_growth(start_weight=165.0, end_weight=300.0, growth_rate=1.993))
    30
    """
    return HUNDRED_PERCENT * math.log(end_weight / start_weight) / growth_rate


@relation(cite("arithmetic", "gain over gain a day", "definition"))
def days_at_absolute_growth(*, start_weight: FirstWeight, end_weight: LastWeight, growth: AbsoluteGrowth) -> GrowthDays:
    """Days to a weight at a steady gain a day.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    end_weight : weight wanted, such as market weight [g]
    growth : absolute growth over this span of weights [g/day]

    Returns
    -------
    Days [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> days_at_absolute_growth(start_weight=60.0, end_weight=500.0, growth=4.0)
    110.0
    """
    return (end_weight - start_weight) / growth


@relation(
    cite("iwama1981", "model of growth with temperature, turned round", "memory"),
    cite("jobling2003", "assumptions and limits of the coefficient"), empirical=_CUBE_ROOTS,
)
def days_at_thermal_growth(
    *, start_weight: FirstWeight, end_weight: LastWeight, thermal_growth: ThermalGrowth, temperature: WaterTemperature
) -> GrowthDays:
    """Days to a weight at a temperature, from the thermal growth coefficient.

    Parameters
    ----------
    start_weight : mean weight of a fish at the start [g]
    end_weight : weight wanted, such as market weight [g]
    thermal_growth : thermal growth coefficient, times 1,000
    temperature : mean water temperature [degC]

    Returns
    -------
    Days [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(days_at_thermal_growth(start_weight=50.0, end_weight=900.0, thermal_growth=1.2694, temperature=28.0))
    168
    """
    return float(THERMAL_SCALE * (end_weight ** (1 / 3) - start_weight ** (1 / 3)) / (thermal_growth * temperature))
