"""Chemistry: ammonia, and how much of it harms fish. Filter, bases, salts and criteria are parts of this topic."""

import math
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.feed.ration import DailyFeed
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

_EMERSON: Final = cite("emerson1975", "equation for pKa and the fraction that follows from it")
_PH_BASIS: Final = "printed criteria and tables run from about pH 6.5 to 9"


AMMONIA_FACTOR: Final = Constant(
    0.092, symbol="k_N", unit="", name="ammonia nitrogen as a share of the protein fed",
    source=cite("hager2021", "worked example, 0.16 x 0.80 x 0.80 x 0.90 rounded to 0.092"), low=0.078, high=0.1024,
)
NITROGEN_IN_PROTEIN: Final = Constant(
    16, symbol="n_P", unit="percent", name="nitrogen in protein",
    source=cite("hager2021", "worked example, first of the four factors"),
)
KELVIN_OFFSET: Final = Constant(
    273.15, symbol="273.15", unit="K", name="absolute temperature of 0 degrees Celsius",
    source=cite("si2019", "definition of the degree Celsius", "definition"),
)
PKA_INTERCEPT: Final = Constant(0.09018, symbol="0.09018", unit="", name="first coefficient", source=_EMERSON)
PKA_SLOPE: Final = Constant(2729.92, symbol="2729.92", unit="K", name="second coefficient", source=_EMERSON)

Protein = Annotated[float, Quantity("p", "percent", "protein in the feed", 10, 70)]
NitrogenShare = Annotated[float, Quantity("n_P", "percent", "nitrogen in protein", 10, 20)]
AssimilatedShare = Annotated[float, Quantity("a_1", "percent", "share of the nitrogen that is assimilated", 40, 100)]
ExcretedShare = Annotated[float, Quantity("a_2", "percent", "share of that nitrogen that is excreted", 40, 100)]
AmmoniaShare = Annotated[float, Quantity("a_3", "percent", "share of the excreted nitrogen that is ammonia", 40, 100)]
AmmoniaFactor = Annotated[float, Quantity("k_N", "", "ammonia nitrogen as a share of the protein fed", 0, 1)]
AmmoniaLoad = Annotated[float, Quantity("P_N", "g/day", "total ammonia made a day, as nitrogen", 0.001, 1e6)]
WastedShare = Annotated[float, Quantity("u", "percent", "share of the nitrogen that the fish do not keep", 10, 100)]
WastedNitrogen = Annotated[float, Quantity("N_w", "g/day", "nitrogen that the fish do not keep", 0, 1e6)]
FreshTemperature = Annotated[
    float, Quantity("T", "degC", "water temperature", 0, 50, basis="the equation holds from 0 to 50 in fresh water")
]
AbsoluteTemperature = Annotated[float, Quantity("T_K", "K", "absolute temperature", 200, 400)]
Acidity = Annotated[float, Quantity("pH", "", "pH of the water", 5, 11, basis=_PH_BASIS)]
AmmoniaPka = Annotated[float, Quantity("pK_a", "", "acid constant of ammonium", 7, 12)]
UnionisedFraction = Annotated[float, Quantity("f", "", "un-ionised share of the total ammonia", 0, 1)]
TotalAmmonia = Annotated[float, Quantity("C_TAN", "mg/L", "total ammonia, as nitrogen", 0, 1000)]
UnionisedAmmonia = Annotated[float, Quantity("C_NH3", "mg/L", "un-ionised ammonia, as nitrogen", 0, 1000)]
UnionisedLimit = Annotated[float, Quantity("L_NH3", "mg/L", "highest un-ionised ammonia, as nitrogen", 0.001, 0.09)]
RaisedAmmonia = Annotated[float, Quantity("C_TAN", "mg/L", "total ammonia, as nitrogen", 0.1, 100)]
HighestAcidity = Annotated[float, Quantity("pH_max", "", "highest pH that keeps within the limit", 0, 14)]
AmmoniaRatio = Annotated[float, Quantity("R", "", "total ammonia over the un-ionised limit", 1)]


@relation(
    cite("hager2021", "worked example, 0.16 x 0.80 x 0.80 x 0.90"),
    cite("timmons_ebeling", "derivation of 0.092", "memory"),
)
def ammonia_factor(
    *, nitrogen_share: NitrogenShare = 16.0, assimilated_share: AssimilatedShare = 80.0,
    excreted_share: ExcretedShare = 80.0, ammonia_share: AmmoniaShare = 90.0,
) -> AmmoniaFactor:
    """Share of the protein fed that comes back as ammonia nitrogen, from its four parts.

    Parameters
    ----------
    nitrogen_share : nitrogen in protein [percent]
    assimilated_share : share of the nitrogen that is assimilated [percent]
    excreted_share : share of the assimilated nitrogen that is excreted [percent]
    ammonia_share : share of the excreted nitrogen that is ammonia [percent]

    Returns
    -------
    Ammonia nitrogen over protein, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The four default parts give 0.09216, which handbooks round to 0.092. One page drops two parts and gets 0.128.

    Examples
    --------
    >>> round(ammonia_factor(), 4)
    0.0922
    """
    wasted: WastedShare = assimilated_share * excreted_share / HUNDRED_PERCENT * ammonia_share / HUNDRED_PERCENT
    return nitrogen_share / HUNDRED_PERCENT * wasted / HUNDRED_PERCENT


@relation(cite("hager2021", "worked example: 2,000 g of 32 % feed"))
def ammonia_production(*, daily_feed: DailyFeed, protein: Protein) -> AmmoniaLoad:
    """Total ammonia that the fish make from a day's feed, counted as nitrogen.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    protein : protein in the feed [percent]

    Returns
    -------
    Total ammonia, as nitrogen [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sources differ for 1 kg of 32 % feed: 29.4 g by the factor 0.092 (default), 25 g by an old extension rule, 30.8 g
    as nitrogen by the route of the FAO.

    Examples
    --------
    >>> round(ammonia_production(daily_feed=2000.0, protein=32.0), 2)  # Hager et al. 2021 print 58.9
    58.88
    """
    return daily_feed * protein / HUNDRED_PERCENT * AMMONIA_FACTOR


@relation(cite("somerville2014", "appendix 4, nitrogen wasted from 200 g of feed", "memory"))
def wasted_nitrogen(*, daily_feed: DailyFeed, protein: Protein, wasted_share: WastedShare) -> WastedNitrogen:
    """Nitrogen of the feed that the fish do not keep, all forms together.

    Parameters
    ----------
    daily_feed : feed for the whole system [g/day]
    protein : protein in the feed [percent]
    wasted_share : share of the feed's nitrogen that the fish do not keep [percent]

    Returns
    -------
    Nitrogen [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Protein holds 16 % nitrogen, so 6.25 g of protein stand for 1 g. A share of 100 % gives all nitrogen in the feed.

    Examples
    --------
    >>> round(wasted_nitrogen(daily_feed=200.0, protein=32.0, wasted_share=61.0), 2)
    6.25
    """
    feed_nitrogen: WastedNitrogen = daily_feed * protein / HUNDRED_PERCENT * NITROGEN_IN_PROTEIN / HUNDRED_PERCENT
    return feed_nitrogen * wasted_share / HUNDRED_PERCENT


@relation(_EMERSON)
def ammonia_pka(*, temperature: FreshTemperature) -> AmmoniaPka:
    """Acid constant of ammonium in fresh water.

    Parameters
    ----------
    temperature : water temperature [degC]

    Returns
    -------
    pKa, a pure number.

    Raises
    ------
    OutOfRange : a temperature outside 0 to 50 degrees.

    Notes
    -----
    The equation wants the absolute temperature. A help page prints 2727.92 for 2729.92.

    Examples
    --------
    >>> round(ammonia_pka(temperature=25.0), 4)
    9.2464
    """
    absolute: AbsoluteTemperature = temperature + KELVIN_OFFSET
    return PKA_INTERCEPT + PKA_SLOPE / absolute


@relation(_EMERSON)
def un_ionised_fraction(*, temperature: FreshTemperature, ph: Acidity) -> UnionisedFraction:
    """Share of the total ammonia that is un-ionised, the form that harms fish.

    Parameters
    ----------
    temperature : water temperature [degC]
    ph : pH of the water

    Returns
    -------
    Fraction, a pure number between 0 and 1.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Fresh water; salt lowers the fraction a little. The table of Trussell (1972) lies up to 1.6 % away.

    Examples
    --------
    >>> round(un_ionised_fraction(temperature=24.0, ph=8.0), 4)  # extension table: .0502
    0.0502
    """
    pka: AmmoniaPka = ammonia_pka(temperature=temperature)
    return 1 / (1 + 10 ** (pka - ph))


@relation(_EMERSON, cite("ifas_fa16", "worked example: 1 mg/L at 24 degrees and pH 8.0"))
def un_ionised_ammonia(*, total_ammonia: TotalAmmonia, temperature: FreshTemperature, ph: Acidity) -> UnionisedAmmonia:
    """Un-ionised ammonia in water of a given total ammonia.

    Parameters
    ----------
    total_ammonia : total ammonia, as nitrogen [mg/L]
    temperature : water temperature [degC]
    ph : pH of the water

    Returns
    -------
    Un-ionised ammonia, as nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A pH raised by one unit makes the same total ammonia about ten times as harmful: add bases in small doses.

    Examples
    --------
    >>> round(un_ionised_ammonia(total_ammonia=1.0, temperature=24.0, ph=8.0), 4)
    0.0502
    """
    fraction: UnionisedFraction = un_ionised_fraction(temperature=temperature, ph=ph)
    return total_ammonia * fraction


@relation(_EMERSON)
def total_ammonia_limit(
    *, un_ionised_limit: UnionisedLimit, temperature: FreshTemperature, ph: Acidity
) -> TotalAmmonia:
    """Highest total ammonia that keeps the un-ionised part within a limit.

    Parameters
    ----------
    un_ionised_limit : highest un-ionised ammonia allowed, as nitrogen [mg/L]
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
    >>> round(total_ammonia_limit(un_ionised_limit=0.05, temperature=24.0, ph=8.0), 2)
    1.0
    """
    fraction: UnionisedFraction = un_ionised_fraction(temperature=temperature, ph=ph)
    return un_ionised_limit / fraction


@relation(_EMERSON)
def highest_ph(
    *, total_ammonia: RaisedAmmonia, un_ionised_limit: UnionisedLimit, temperature: FreshTemperature
) -> HighestAcidity:
    """Highest pH at which a given total ammonia stays within an un-ionised limit.

    Parameters
    ----------
    total_ammonia : total ammonia, as nitrogen [mg/L]
    un_ionised_limit : highest un-ionised ammonia allowed, as nitrogen [mg/L]
    temperature : water temperature [degC]

    Returns
    -------
    pH, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(highest_ph(total_ammonia=1.0, un_ionised_limit=0.05, temperature=24.0), 2)
    8.0
    """
    pka: AmmoniaPka = ammonia_pka(temperature=temperature)
    ratio: AmmoniaRatio = total_ammonia / un_ionised_limit
    return pka - math.log10(ratio - 1)


# The parts of the topic use the quantities above, so they can only be read now.
