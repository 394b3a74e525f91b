"""Criteria for ammonia that a federal agency recommended in 2013: yardsticks for natural waters, by year."""

from typing import Annotated, Final

from waterleaf.calc.quantity import Citation, Constant, Quantity, cite, relation

_OREGON: Final = cite("oregon2015", "tables 30(a) to 30(c), equations that adopt the federal criteria of 2013")
_EPA: Final = cite("epa2013", "17 acute and 1.9 chronic at pH 7 and 20 degrees Celsius")
_TOXICITY: Final = "a fit to toxicity tests, with its units folded into the coefficients"


def _fitted(value: float, name: str, source: Citation) -> Constant:
    """A coefficient of a fit, printed as the plain number it is."""
    return Constant(value, symbol=f"{value:f}", unit="", name=name, source=source)


SALMONID_LOW: Final = _fitted(
    0.275, "salmonid acute value, alkaline side", cite("south_dakota2009", "equation 1, waters with salmonid fish")
)
SALMONID_HIGH: Final = _fitted(
    39.0, "salmonid acute value, acid side", cite("south_dakota2009", "equation 1, waters with salmonid fish")
)
ACUTE_MIDPOINT: Final = _fitted(7.204, "pH in the middle of the acute curve", _OREGON)
ACUTE_SCALE: Final = _fitted(0.7249, "scale of the acute criterion", _OREGON)
ACUTE_LOW: Final = _fitted(0.0114, "acute criterion, alkaline side", _OREGON)
ACUTE_HIGH: Final = _fitted(1.6181, "acute criterion, acid side", _OREGON)
ACUTE_MUSSEL: Final = _fitted(23.12, "acute value of the most sensitive mussel at 20 degrees", _OREGON)
ACUTE_CAP: Final = _fitted(51.93, "highest acute value where there are no salmonids", _OREGON)
ACUTE_SLOPE: Final = _fitted(0.036, "temperature slope of the acute criterion", _OREGON)
CHRONIC_MIDPOINT: Final = _fitted(7.688, "pH in the middle of the chronic curve", _OREGON)
CHRONIC_SCALE: Final = _fitted(0.8876, "scale of the chronic criterion", _OREGON)
CHRONIC_LOW: Final = _fitted(0.0278, "chronic criterion, alkaline side", _OREGON)
CHRONIC_HIGH: Final = _fitted(1.1994, "chronic criterion, acid side", _OREGON)
CHRONIC_MUSSEL: Final = _fitted(2.126, "chronic value of the most sensitive mussel at 20 degrees", _OREGON)
CHRONIC_SLOPE: Final = _fitted(0.028, "temperature slope of the chronic criterion", _OREGON)
CHRONIC_COLD: Final = _fitted(7.0, "temperature below which the chronic criterion stays level", _OREGON)
CRITERION_TEMPERATURE: Final = _fitted(20.0, "temperature to which the criteria are normalised", _OREGON)
FOUR_DAY_RATIO: Final = _fitted(2.5, "four-day average over the criterion", cite("epa2013", "highest four-day average"))

CriterionTemperature = Annotated[
    float, Quantity("T", "degC", "water temperature", 0, 30, basis="the state's tables run from 0 to 30")
]
CriterionAcidity = Annotated[
    float, Quantity("pH", "", "pH of the water", 6.5, 9, basis="the criteria are printed for pH 6.5 to 9")
]
SalmonidValue = Annotated[float, Quantity("C_S", "mg/L", "acute value for salmonid fish", 0)]
AcuteShape = Annotated[float, Quantity("s_a", "", "pH part of the acute criterion", 0)]
AcuteWarmth = Annotated[float, Quantity("w_a", "mg/L", "temperature part of the acute criterion", 0)]
GeneralValue = Annotated[float, Quantity("C_G", "mg/L", "acute value for all other life", 0)]
AcuteCriterion = Annotated[float, Quantity("CMC", "mg/L", "acute criterion, total ammonia as nitrogen", 0)]
ChronicShape = Annotated[float, Quantity("s_c", "", "pH part of the chronic criterion", 0)]
ChronicWarmth = Annotated[float, Quantity("w_c", "mg/L", "temperature part of the chronic criterion", 0)]
ChronicCriterion = Annotated[float, Quantity("CCC", "mg/L", "chronic criterion, total ammonia as nitrogen", 0)]
FourDayLimit = Annotated[float, Quantity("L_4", "mg/L", "highest four-day average, total ammonia as nitrogen", 0)]


@relation(_OREGON, cite("south_dakota2009", "equation 1, waters with salmonid fish"), _EPA, empirical=_TOXICITY)
def acute_ammonia_criterion(*, temperature: CriterionTemperature, ph: CriterionAcidity) -> AcuteCriterion:
    """Acute criterion of 2013 for total ammonia where trout or salmon live, a one-hour average.

    Parameters
    ----------
    temperature : water temperature [degC]
    ph : pH of the water

    Returns
    -------
    Criterion, total ammonia as nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    For natural waters with mussels, not for tanks; a yardstick here. Criteria of 1986 and 1999 differ: name the year.

    Examples
    --------
    >>> round(acute_ammonia_criterion(temperature=20.0, ph=7.0), 1)  # printed as 17
    16.8
    """
    salmonids: SalmonidValue = SALMONID_LOW / (1 + 10 ** (ACUTE_MIDPOINT - ph)) + SALMONID_HIGH / (
        1 + 10 ** (ph - ACUTE_MIDPOINT)
    )
    shape: AcuteShape = ACUTE_LOW / (1 + 10 ** (ACUTE_MIDPOINT - ph)) + ACUTE_HIGH / (1 + 10 ** (ph - ACUTE_MIDPOINT))
    warmth: AcuteWarmth = ACUTE_MUSSEL * 10 ** (ACUTE_SLOPE * (CRITERION_TEMPERATURE - temperature))
    others: GeneralValue = ACUTE_SCALE * shape * warmth
    return min(salmonids, others)


@relation(_OREGON, _EPA, empirical=_TOXICITY)
def acute_ammonia_criterion_without_salmonids(
    *, temperature: CriterionTemperature, ph: CriterionAcidity
) -> AcuteCriterion:
    """Acute criterion of 2013 for total ammonia where no trout or salmon live, a one-hour average.

    Parameters
    ----------
    temperature : water temperature [degC]
    ph : pH of the water

    Returns
    -------
    Criterion, total ammonia as nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(acute_ammonia_criterion_without_salmonids(temperature=10.0, ph=8.0), 2)
    8.77
    """
    shape: AcuteShape = ACUTE_LOW / (1 + 10 ** (ACUTE_MIDPOINT - ph)) + ACUTE_HIGH / (1 + 10 ** (ph - ACUTE_MIDPOINT))
    warmth: AcuteWarmth = min(ACUTE_CAP, ACUTE_MUSSEL * 10 ** (ACUTE_SLOPE * (CRITERION_TEMPERATURE - temperature)))
    return ACUTE_SCALE * shape * warmth


@relation(_OREGON, _EPA, empirical=_TOXICITY)
def chronic_ammonia_criterion(*, temperature: CriterionTemperature, ph: CriterionAcidity) -> ChronicCriterion:
    """Chronic criterion of 2013 for total ammonia, a thirty-day average.

    Parameters
    ----------
    temperature : water temperature [degC]
    ph : pH of the water

    Returns
    -------
    Criterion, total ammonia as nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The temperature counts from 20 degrees. Some copies print 10 there, which gives half the criterion.

    Examples
    --------
    >>> round(chronic_ammonia_criterion(temperature=20.0, ph=7.0), 2)  # printed as 1.9
    1.89
    """
    shape: ChronicShape = CHRONIC_LOW / (1 + 10 ** (CHRONIC_MIDPOINT - ph)) + CHRONIC_HIGH / (
        1 + 10 ** (ph - CHRONIC_MIDPOINT)
    )
    warmth: ChronicWarmth = CHRONIC_MUSSEL * 10 ** (
        CHRONIC_SLOPE * (CRITERION_TEMPERATURE - max(temperature, CHRONIC_COLD))
    )
    return CHRONIC_SCALE * shape * warmth


@relation(cite("epa2013", "highest four-day average"), empirical=_TOXICITY)
def four_day_ammonia_limit(*, temperature: CriterionTemperature, ph: CriterionAcidity) -> FourDayLimit:
    """Highest average over four days that the chronic criterion of 2013 allows.

    Parameters
    ----------
    temperature : water temperature [degC]
    ph : pH of the water

    Returns
    -------
    Total ammonia, as nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(four_day_ammonia_limit(temperature=20.0, ph=7.0), 2)
    4.72
    """
    chronic: ChronicCriterion = chronic_ammonia_criterion(temperature=temperature, ph=ph)
    return FOUR_DAY_RATIO * chronic
