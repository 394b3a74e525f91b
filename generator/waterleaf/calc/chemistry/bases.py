"""Bases that give alkalinity back, the potassium and calcium they bring, and the iron that has to be added."""

from typing import Annotated

from waterleaf.calc.chemistry.filter import MILLIGRAMS_PER_GRAM, AlkalinityDemand
from waterleaf.calc.chemistry.masses import (
    CALCIUM,
    CALCIUM_CARBONATE,
    CALCIUM_HYDROXIDE,
    POTASSIUM,
    POTASSIUM_BICARBONATE,
    POTASSIUM_CARBONATE,
    POTASSIUM_HYDROXIDE,
    SODIUM_BICARBONATE,
)
from waterleaf.calc.common import HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.quantity import Quantity, cite, relation
from waterleaf.calc.solids.load import SystemVolume

BaseShare = Annotated[float, Quantity("s", "percent", "share of the alkalinity that this base brings", 0.1, 100)]
BaseAlkalinity = Annotated[float, Quantity("A_b", "g/day", "alkalinity that this base brings a day", 0)]
WishedAlkalinity = Annotated[float, Quantity("a_2", "mg/L", "wished alkalinity, as calcium carbonate", 20, 500)]
PresentAlkalinity = Annotated[float, Quantity("a_1", "mg/L", "alkalinity now, as calcium carbonate", 0, 150)]
RaisingDays = Annotated[float, Quantity("t", "day", "days over which the alkalinity is raised", 1, 60)]
HydroxideDose = Annotated[float, Quantity("m_KOH", "g/day", "potassium hydroxide a day", 0.001, 1e7)]
LimeDose = Annotated[float, Quantity("m_Ca(OH)2", "g/day", "calcium hydroxide a day", 0.001, 1e7)]
SodaDose = Annotated[float, Quantity("m_NaHCO3", "g/day", "sodium bicarbonate a day", 0.001, 1e7)]
PotassiumBicarbonateDose = Annotated[
    float, Quantity("m_KHCO3", "g/day", "potassium bicarbonate a day", 0.001, 1e7)
]
PotassiumCarbonateDose = Annotated[float, Quantity("m_K2CO3", "g/day", "potassium carbonate a day", 0.001, 1e7)]
PotassiumSupply = Annotated[float, Quantity("m_K", "g/day", "potassium brought by the base a day", 0)]
CalciumSupply = Annotated[float, Quantity("m_Ca", "g/day", "calcium brought by the base a day", 0)]
IronConcentration = Annotated[float, Quantity("c_Fe", "mg/L", "wished rise of the iron", 0.1, 5)]
IronMass = Annotated[float, Quantity("m_Fe", "g", "iron to add", 0.001, 1e6)]
IronContent = Annotated[float, Quantity("w_Fe", "percent", "iron in the product, from its label", 1, 30)]
ProductMass = Annotated[float, Quantity("m_p", "g", "product to add", 0.001, 1e7)]


@relation(cite("arithmetic", "mass from concentration and volume", "definition"))
def alkalinity_to_add(
    *, wished_alkalinity: WishedAlkalinity, present_alkalinity: PresentAlkalinity, system_volume: SystemVolume,
    raising_days: RaisingDays,
) -> AlkalinityDemand:
    """Alkalinity to add each day so that the water reaches a wished alkalinity after some days.

    Parameters
    ----------
    wished_alkalinity : wished alkalinity, as calcium carbonate [mg/L]
    present_alkalinity : alkalinity now, as calcium carbonate [mg/L]
    system_volume : water in the whole system [m^3]
    raising_days : days over which the alkalinity is raised [day]

    Returns
    -------
    Alkalinity as calcium carbonate, on top of what nitrification uses up [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Slowly: a pH that jumps up turns harmless ammonia into the harmful form.

    Examples
    --------
    >>> alkalinity_to_add(wished_alkalinity=100.0, present_alkalinity=40.0, system_volume=10.0, raising_days=4.0)
    150.0
    """
    return (
        (wished_alkalinity - present_alkalinity) * system_volume * LITRES_PER_CUBIC_METRE / MILLIGRAMS_PER_GRAM
        / raising_days
    )


@relation(cite("iupac_weights", "one equivalent in KOH, two in CaCO3, by molar masses", "computed"))
def potassium_hydroxide_dose(*, alkalinity_demand: AlkalinityDemand, base_share: BaseShare = 100.0) -> HydroxideDose:
    """Potassium hydroxide that brings as much alkalinity as a mass of calcium carbonate.

    Parameters
    ----------
    alkalinity_demand : alkalinity needed in a day, as calcium carbonate [g/day]
    base_share : share of it that this base brings [percent]

    Returns
    -------
    Pure potassium hydroxide [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Burns skin and eyes: goggles and gloves, always the base into the water and never water onto the base, dissolved in
    a side tank and dripped in. The flakes sold hold some water: see the label.

    Examples
    --------
    >>> round(potassium_hydroxide_dose(alkalinity_demand=420.4))
    471
    """
    brought: BaseAlkalinity = alkalinity_demand * base_share / HUNDRED_PERCENT
    return brought * POTASSIUM_HYDROXIDE / (CALCIUM_CARBONATE / 2)


@relation(cite("iupac_weights", "two equivalents in Ca(OH)2 and in CaCO3, by molar masses", "computed"))
def calcium_hydroxide_dose(*, alkalinity_demand: AlkalinityDemand, base_share: BaseShare = 100.0) -> LimeDose:
    """Calcium hydroxide that brings as much alkalinity as a mass of calcium carbonate.

    Parameters
    ----------
    alkalinity_demand : alkalinity needed in a day, as calcium carbonate [g/day]
    base_share : share of it that this base brings [percent]

    Returns
    -------
    Pure calcium hydroxide [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Burns eyes and skin, and its dust the lungs: goggles, gloves and mask; slurried in a side tank and dripped in.

    Examples
    --------
    >>> round(calcium_hydroxide_dose(alkalinity_demand=420.4))
    311
    """
    brought: BaseAlkalinity = alkalinity_demand * base_share / HUNDRED_PERCENT
    return brought * (CALCIUM_HYDROXIDE / 2) / (CALCIUM_CARBONATE / 2)


@relation(cite("iupac_weights", "one equivalent in NaHCO3, two in CaCO3, by molar masses", "computed"))
def sodium_bicarbonate_dose(*, alkalinity_demand: AlkalinityDemand, base_share: BaseShare = 100.0) -> SodaDose:
    """Sodium bicarbonate that brings as much alkalinity as a mass of calcium carbonate.

    Parameters
    ----------
    alkalinity_demand : alkalinity needed in a day, as calcium carbonate [g/day]
    base_share : share of it that this base brings [percent]

    Returns
    -------
    Pure sodium bicarbonate [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Mild, but the sodium stays in the water and harms crops: for fish alone, or once in need.

    Examples
    --------
    >>> round(sodium_bicarbonate_dose(alkalinity_demand=420.4))
    706
    """
    brought: BaseAlkalinity = alkalinity_demand * base_share / HUNDRED_PERCENT
    return brought * SODIUM_BICARBONATE / (CALCIUM_CARBONATE / 2)


@relation(cite("iupac_weights", "one equivalent in KHCO3, two in CaCO3, by molar masses", "computed"))
def potassium_bicarbonate_dose(
    *, alkalinity_demand: AlkalinityDemand, base_share: BaseShare = 100.0
) -> PotassiumBicarbonateDose:
    """Potassium bicarbonate that brings as much alkalinity as a mass of calcium carbonate.

    Parameters
    ----------
    alkalinity_demand : alkalinity needed in a day, as calcium carbonate [g/day]
    base_share : share of it that this base brings [percent]

    Returns
    -------
    Pure potassium bicarbonate [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(potassium_bicarbonate_dose(alkalinity_demand=100.0), 1)
    200.1
    """
    brought: BaseAlkalinity = alkalinity_demand * base_share / HUNDRED_PERCENT
    return brought * POTASSIUM_BICARBONATE / (CALCIUM_CARBONATE / 2)


@relation(cite("iupac_weights", "two equivalents in K2CO3 and in CaCO3, by molar masses", "computed"))
def potassium_carbonate_dose(
    *, alkalinity_demand: AlkalinityDemand, base_share: BaseShare = 100.0
) -> PotassiumCarbonateDose:
    """Potassium carbonate that brings as much alkalinity as a mass of calcium carbonate.

    Parameters
    ----------
    alkalinity_demand : alkalinity needed in a day, as calcium carbonate [g/day]
    base_share : share of it that this base brings [percent]

    Returns
    -------
    Pure potassium carbonate [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Irritates eyes and skin: goggles and gloves.

    Examples
    --------
    >>> round(potassium_carbonate_dose(alkalinity_demand=100.0), 1)
    138.1
    """
    brought: BaseAlkalinity = alkalinity_demand * base_share / HUNDRED_PERCENT
    return brought * (POTASSIUM_CARBONATE / 2) / (CALCIUM_CARBONATE / 2)


@relation(cite("iupac_weights", "K in KOH by molar masses", "computed"))
def potassium_from_hydroxide(*, hydroxide_dose: HydroxideDose) -> PotassiumSupply:
    """Potassium that a dose of potassium hydroxide brings to the crop.

    Parameters
    ----------
    hydroxide_dose : pure potassium hydroxide [g/day]

    Returns
    -------
    Potassium [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(potassium_from_hydroxide(hydroxide_dose=236.0))
    164
    """
    return hydroxide_dose * POTASSIUM / POTASSIUM_HYDROXIDE


@relation(cite("iupac_weights", "K in KHCO3 by molar masses", "computed"))
def potassium_from_bicarbonate(*, bicarbonate_dose: PotassiumBicarbonateDose) -> PotassiumSupply:
    """Potassium that a dose of potassium bicarbonate brings to the crop.

    Parameters
    ----------
    bicarbonate_dose : pure potassium bicarbonate [g/day]

    Returns
    -------
    Potassium [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(potassium_from_bicarbonate(bicarbonate_dose=100.0), 2)
    39.05
    """
    return bicarbonate_dose * POTASSIUM / POTASSIUM_BICARBONATE


@relation(cite("iupac_weights", "Ca in Ca(OH)2 by molar masses", "computed"))
def calcium_from_hydroxide(*, lime_dose: LimeDose) -> CalciumSupply:
    """Calcium that a dose of calcium hydroxide brings to the crop.

    Parameters
    ----------
    lime_dose : pure calcium hydroxide [g/day]

    Returns
    -------
    Calcium [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(calcium_from_hydroxide(lime_dose=156.0))
    84
    """
    return lime_dose * CALCIUM / CALCIUM_HYDROXIDE


@relation(cite("uvi_nutrients", "2 mg/L of iron every three weeks"))
def iron_needed(*, system_volume: SystemVolume, iron_concentration: IronConcentration) -> IronMass:
    """Iron that raises the water of the whole system by a wished amount.

    Parameters
    ----------
    system_volume : water in the whole system [m^3]
    iron_concentration : wished rise of the iron [mg/L]

    Returns
    -------
    Iron, not product [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> iron_needed(system_volume=110.0, iron_concentration=2.0)
    220.0
    """
    return system_volume * LITRES_PER_CUBIC_METRE * iron_concentration / MILLIGRAMS_PER_GRAM


@relation(cite("uvi_nutrients", "2 mg/L of iron every three weeks"))
def iron_chelate_dose(
    *, system_volume: SystemVolume, iron_concentration: IronConcentration, iron_content: IronContent
) -> ProductMass:
    """Iron chelate that raises the iron in the whole system by a wished amount.

    Parameters
    ----------
    system_volume : water in the whole system [m^3]
    iron_concentration : wished rise of the iron [mg/L]
    iron_content : iron in the product, from its label [percent]

    Returns
    -------
    Product [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The dose is a mass of iron; the product holds only a part of it.

    Examples
    --------
    >>> iron_chelate_dose(system_volume=110.0, iron_concentration=2.0, iron_content=10.0)
    2200.0
    """
    iron: IronMass = iron_needed(system_volume=system_volume, iron_concentration=iron_concentration)
    return iron / iron_content * HUNDRED_PERCENT


@relation(cite("mediamatic", "9.6 g of iron in 137 g of product"))
def iron_content_of_product(*, iron_mass: IronMass, product_mass: ProductMass) -> IronContent:
    """Share of a product that is iron.

    Parameters
    ----------
    iron_mass : iron in the product [g]
    product_mass : product [g]

    Returns
    -------
    Share of iron [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(iron_content_of_product(iron_mass=9.6, product_mass=137.0), 1)
    7.0
    """
    return iron_mass / product_mass * HUNDRED_PERCENT
