"""Nutrient balance: how much of the feed's nitrogen and phosphorus is in fish, water, solids, crops, or gone."""

import math
from collections.abc import Sequence
from typing import Annotated

from waterleaf.calc.common import GRAMS_PER_KILOGRAM, HUNDRED_PERCENT
from waterleaf.calc.feed.purchase import PROTEIN_PER_NITROGEN
from waterleaf.calc.feed.ration import BedArea, FeedFed, LiveGain
from waterleaf.calc.quantity import Quantity, cite, relation

FishProtein = Annotated[
    float,
    Quantity("p_fish", "percent", "protein in the live fish", 10, 25, basis="whole fish hold about 16 % (from memory)"),
]
FishProteinMass = Annotated[float, Quantity("P_fish", "kg", "protein gained by the fish", 0.00001, 1_000_000)]
FeedPhosphorus = Annotated[float, Quantity("x_feed", "percent", "phosphorus in the feed", 0.1, 4)]
FishPhosphorus = Annotated[float, Quantity("x_fish", "percent", "phosphorus in the live fish", 0.05, 2)]
Fed = Annotated[float, Quantity("N_feed", "g", "nutrient in the feed", 0.0001, 1e10)]
Kept = Annotated[float, Quantity("N_fish", "g", "nutrient kept by the fish", 0.0001, 1e10)]
Part = Annotated[float, Quantity("N_part", "g", "nutrient in a part", 0, 1e10)]
Waste = Annotated[float, Quantity("N_out", "g", "nutrient that leaves the fish", 0.0001, 1e10)]
StockedNutrient = Annotated[float, Quantity("N_in", "g", "nutrient in the fish stocked", 0, 1e10)]
DeadNutrient = Annotated[float, Quantity("N_dead", "g", "nutrient in the dead fish", 0, 1e10)]
HarvestNutrient = Annotated[float, Quantity("N_harv", "g", "nutrient in the fish harvested", 0, 1e10)]
LostNutrient = Annotated[float, Quantity("N_lost", "g", "nutrient lost to the surroundings")]
PartShare = Annotated[float, Quantity("s", "percent", "share of the feed's nutrient", 0, 1000)]
SolidsPart = Annotated[
    float,
    Quantity(
        "f", "percent", "share of the waste that is in solids", 0, 100,
        basis="published: 7 to 32 % of the nitrogen and 30 to 84 % of the phosphorus",
    ),
]
InSolids = Annotated[float, Quantity("N_sol", "g", "nutrient in the solids", 0, 1e10)]
Dissolved = Annotated[float, Quantity("N_dis", "g", "nutrient dissolved by the fish", 0, 1e10)]
Mineralised = Annotated[
    float,
    Quantity("u", "percent", "share of the nutrient that is set free", 0, 100, basis="published: 10 to 60 %"),
]
Drawn = Annotated[float, Quantity("q", "percent", "share of the free nutrient that is drawn off clear", 0, 100)]
SetFree = Annotated[float, Quantity("N_free", "g", "nutrient set free from the solids", 0, 1e10)]
Returned = Annotated[float, Quantity("N_ret", "g", "nutrient returned to the loop", 0, 1e10)]
UptakeRate = Annotated[float, Quantity("u", "g/m^2/day", "nutrient taken up by a square metre of crop", 0.0001, 20)]
DailyUptake = Annotated[float, Quantity("U", "g/day", "nutrient taken up by the crop", 0.0001, 1_000_000)]
Shares = Annotated[Sequence[float], Quantity("s", "percent", "shares accounted for", 0, 100, many=1)]
Missing = Annotated[float, Quantity("s_miss", "percent", "share not accounted for")]


@relation(cite("arithmetic", "share of a mass", "definition"))
def feed_phosphorus(*, feed_fed: FeedFed, phosphorus: FeedPhosphorus) -> Fed:
    """Phosphorus that comes in with an amount of feed.

    Parameters
    ----------
    feed_fed : feed [kg]
    phosphorus : phosphorus on the label [percent]

    Returns
    -------
    Phosphorus [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Phosphorus as the element. Fertiliser bags print phosphate, P2O5, of which 44 % is phosphorus.

    Examples
    --------
    >>> feed_phosphorus(feed_fed=20.0, phosphorus=1.0)
    200.0
    """
    return feed_fed * GRAMS_PER_KILOGRAM * phosphorus / HUNDRED_PERCENT


@relation(cite("fao77", "chapter 2: crude protein is nitrogen times 6.25"))
def fish_nitrogen(*, gain: LiveGain, fish_protein: FishProtein) -> Kept:
    """Nitrogen that fish keep in the live weight they gain.

    Parameters
    ----------
    gain : live weight gained [kg]
    fish_protein : protein in the live fish [percent]

    Returns
    -------
    Nitrogen kept [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Whole fish hold about 16 % protein (from memory), so it is an argument. Fish keep 20 to 50 % of the nitrogen and 15
    to 65 % of the phosphorus of their feed (Schneider 2005).

    Examples
    --------
    >>> round(fish_nitrogen(gain=0.588, fish_protein=16.0), 1)
    15.1
    """
    protein: FishProteinMass = gain * fish_protein / HUNDRED_PERCENT
    return protein * GRAMS_PER_KILOGRAM / PROTEIN_PER_NITROGEN


@relation(cite("arithmetic", "share of a mass", "definition"))
def fish_phosphorus(*, gain: LiveGain, phosphorus: FishPhosphorus) -> Kept:
    """Phosphorus that fish keep in the live weight they gain.

    Parameters
    ----------
    gain : live weight gained [kg]
    phosphorus : phosphorus in the live fish [percent]

    Returns
    -------
    Phosphorus kept [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> fish_phosphorus(gain=12.0, phosphorus=0.5)
    60.0
    """
    return gain * GRAMS_PER_KILOGRAM * phosphorus / HUNDRED_PERCENT


@relation(cite("moraes2016", "phosphorus and nitrogen kept by trout, of the feed"))
def nutrient_share(*, part: Part, fed: Fed) -> PartShare:
    """Share of the feed's nutrient that a part holds, such as the fish or the crop.

    Parameters
    ----------
    part : nutrient in the part [g]
    fed : nutrient in the feed [g]

    Returns
    -------
    Share [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Shares of nitrogen and shares of phosphorus must not be added to each other.

    Examples
    --------
    >>> round(nutrient_share(part=9.32, fed=24.75), 1)  # Moraes 2016 prints 38 % of the phosphorus
    37.7
    """
    return HUNDRED_PERCENT * part / fed


@relation(cite("moraes2016", "phosphorus and nitrogen exported with the effluent"))
def nutrient_waste(*, fed: Fed, kept: Kept) -> Waste:
    """Nutrient that leaves the fish again, dissolved or in solids.

    Parameters
    ----------
    fed : nutrient in the feed [g]
    kept : nutrient kept by the fish [g]

    Returns
    -------
    Nutrient that leaves the fish [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Not all of it is ammonia: part is in faeces and uneaten feed.

    Examples
    --------
    >>> round(nutrient_waste(fed=24.75, kept=9.32), 2)  # Moraes 2016
    15.43
    """
    return fed - kept


@relation(cite("cage_balance2021", "table 2, losses of carbon, nitrogen and phosphorus from 20 cages"))
def nutrient_lost(
    *, fed: Fed, stocked: StockedNutrient, dead: DeadNutrient, harvested: HarvestNutrient
) -> LostNutrient:
    """Nutrient lost to the water over a whole cycle, with the fish that came, died and were harvested.

    Parameters
    ----------
    fed : nutrient in the feed [g]
    stocked : nutrient in the fish stocked [g]
    dead : nutrient in the dead fish taken out [g]
    harvested : nutrient in the fish harvested [g]

    Returns
    -------
    Nutrient lost [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(nutrient_lost(fed=412190.0, stocked=44490.0, dead=17400.0, harvested=203010.0))  # printed 236.27 kg C
    236270
    """
    return fed + stocked - dead - harvested


@relation(cite("cripps2000", "7 to 32 % of the nitrogen and 30 to 84 % of the phosphorus of the load is in solids"))
def nutrient_in_solids(*, waste: Waste, solids_part: SolidsPart) -> InSolids:
    """Nutrient of the waste that is in solids.

    Parameters
    ----------
    waste : nutrient that leaves the fish [g]
    solids_part : share of it that is in solids [percent]

    Returns
    -------
    Nutrient in solids [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> nutrient_in_solids(waste=36.0, solids_part=20.0)
    7.2
    """
    return waste * solids_part / HUNDRED_PERCENT


@relation(cite("cripps2000", "what is not in solids is dissolved"))
def nutrient_dissolved(*, waste: Waste, solids_part: SolidsPart) -> Dissolved:
    """Nutrient of the waste that is dissolved in the water.

    Parameters
    ----------
    waste : nutrient that leaves the fish [g]
    solids_part : share of it that is in solids [percent]

    Returns
    -------
    Nutrient dissolved [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> nutrient_dissolved(waste=36.0, solids_part=25.0)
    27.0
    """
    solids: InSolids = nutrient_in_solids(waste=waste, solids_part=solids_part)
    return waste - solids


@relation(cite("delaide2018", "10 to 60 % of each nutrient set free by digestion of sludge"))
def nutrient_returned(*, in_solids: InSolids, mineralised: Mineralised, drawn: Drawn) -> Returned:
    """Nutrient that a mineralisation tank gives back to the loop with its clear water.

    Parameters
    ----------
    in_solids : nutrient in the solids that go into the tank [g]
    mineralised : share of it that is set free into the water [percent]
    drawn : share of the freed nutrient that is drawn off, the rest staying with the settled sludge [percent]

    Returns
    -------
    Nutrient returned [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Keep the air on. A tank that goes without oxygen makes hydrogen sulphide, which numbs the nose before it kills, and
    methane, which burns; its water must not go back to fish. Never lean into or enter such a tank.

    Examples
    --------
    >>> nutrient_returned(in_solids=40.0, mineralised=50.0, drawn=80.0)
    16.0
    """
    free: SetFree = in_solids * mineralised / HUNDRED_PERCENT
    return free * drawn / HUNDRED_PERCENT


@relation(cite("uvi_slides", "removal by romaine lettuce: nitrogen 0.83, phosphorus 0.17 g a square metre a day"))
def plant_uptake(*, bed_area: BedArea, uptake_rate: UptakeRate) -> DailyUptake:
    """Nutrient, nitrogen or phosphorus, that the crop of a bed takes out of the water in a day.

    Parameters
    ----------
    bed_area : growing area of the beds [m^2]
    uptake_rate : nutrient taken up by a square metre of crop [g/m^2/day]

    Returns
    -------
    Nutrient [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(plant_uptake(bed_area=214.0, uptake_rate=0.17), 1)
    36.4
    """
    return bed_area * uptake_rate


@relation(cite("strauch2018", "phosphorus found again: 12 % in water, 54 % in carcass, 14 % in sludge"))
def unaccounted_share(*, shares: Shares) -> Missing:
    """Share of a nutrient that a balance does not find again.

    Parameters
    ----------
    shares : shares found in the several parts, shape (n,) [percent]

    Returns
    -------
    Share not accounted for; below zero, more was found than was fed [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Some of what is missing was never measured, such as gas; some is error of measuring. Say so, and do not call all
    of it loss.

    Examples
    --------
    >>> unaccounted_share(shares=[12.0, 54.0, 14.0])
    20.0
    """
    return HUNDRED_PERCENT - math.fsum(shares)
