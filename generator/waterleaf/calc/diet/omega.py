"""Fatty acids: the ratio of omega-6 to omega-3 of oils and blends, and what a label promises."""

import math
from collections.abc import Sequence
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.diet.blending import same_length
from waterleaf.calc.quantity import Quantity, cite, relation
from waterleaf.calc.solids.sludge import MILLIGRAMS_PER_GRAM

_NO_RATIO: Final = "without omega-3 the ratio has no value, it is not zero; sums of rounded acids may pass 100 %"

Acids = Annotated[Sequence[float], Quantity("x", "percent", "fatty acids of one family", 0, 100, many=1)]
SixParts = Annotated[Sequence[float], Quantity("x_6", "percent", "omega-6 fatty acids", 0, 100, many=1)]
ThreeParts = Annotated[Sequence[float], Quantity("x_3", "percent", "omega-3 fatty acids", 0, 100, many=1)]
AcidTotal = Annotated[float, Quantity("X", "percent", "total of the fatty acids", 0, 100)]
Omega6 = Annotated[float, Quantity("X_6", "percent", "omega-6 of the fatty acids", 0, 200)]
Omega3 = Annotated[float, Quantity("X_3", "percent", "omega-3 of the fatty acids", 0.001, 200, basis=_NO_RATIO)]
OmegaRatio = Annotated[float, Quantity("r", "", "omega-6 to omega-3", 0, 100_000)]
WishedRatio = Annotated[float, Quantity("r", "", "wished omega-6 to omega-3", 0.02, 100)]
FirstShare = Annotated[float, Quantity("w_1", "percent", "share of the first oil", 0, 100)]
SixFirst = Annotated[float, Quantity("a_6", "percent", "omega-6 of the first oil", 0, 100)]
ThreeFirst = Annotated[float, Quantity("a_3", "percent", "omega-3 of the first oil", 0, 100)]
SixSecond = Annotated[float, Quantity("b_6", "percent", "omega-6 of the second oil", 0, 100)]
ThreeSecond = Annotated[float, Quantity("b_3", "percent", "omega-3 of the second oil", 0, 100)]
SurplusFirst = Annotated[float, Quantity("e_1", "percent", "omega-6 that the first oil has too much")]
RoomSecond = Annotated[float, Quantity("e_2", "percent", "omega-6 that the second oil has room for")]
SecondShare = Annotated[float, Quantity("w_2", "percent", "share of the second oil", 0, 100)]
OilMasses = Annotated[Sequence[float], Quantity("m", "g", "masses of the oils", 0, 1_000_000, many=1)]
Serving = Annotated[float, Quantity("m", "g", "serving", 1, 5000)]
FatShare = Annotated[float, Quantity("f", "percent", "fat in the food", 0.01, 100)]
FatMass = Annotated[float, Quantity("F", "g", "fat", 0.0001, 5000)]
AcidsInFat = Annotated[
    float,
    Quantity(
        "k", "percent", "fatty acids in the fat", 50, 100,
        basis="published factors run from 0.56 for brain to 0.956 for oils",
    ),
]
AcidsMass = Annotated[float, Quantity("A", "g", "fatty acids", 0.0001, 5000)]
AcidShare = Annotated[float, Quantity("x", "percent", "the acid, of all fatty acids", 0.001, 100)]
AcidMass = Annotated[float, Quantity("a", "g", "the fatty acid", 0.000001, 5000)]
WishedMass = Annotated[float, Quantity("n", "g", "omega-3 wished", 0.01, 20)]
LabelMass = Annotated[float, Quantity("n_label", "mg", "omega-3 on the label", 1, 100_000)]
LabelPortion = Annotated[float, Quantity("m_label", "g", "food for which the label speaks", 1, 1000)]
FoodMass = Annotated[float, Quantity("m", "g", "food that holds it", 0.01, 1_000_000)]



@relation(cite("nrc1993", "sums of the omega-3 and omega-6 acids of fish oils"))
def fatty_acid_total(*, acids: Acids) -> AcidTotal:
    """Total of the fatty acids of one family.

    Parameters
    ----------
    acids : fatty acids of the family, shape (n,) [percent of all fatty acids]

    Returns
    -------
    Total [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Omega-6: linoleic, gamma-linolenic, arachidonic. Omega-3: alpha-linolenic, stearidonic, EPA, DPA, DHA. Oleic acid is
    neither. Spirulina is rich in gamma-linolenic acid, an omega-6; most samples hold no EPA and no DHA.

    Examples
    --------
    >>> round(fatty_acid_total(acids=[0.8, 3.0, 17.0, 1.6, 8.8]), 1)  # NRC 1993, omega-3 of anchovy oil: 31.2
    31.2
    """
    return math.fsum(acids)


@relation(cite("oils_table2024", "table 2, footnote 1: omega-6 over omega-3"))
def omega_ratio(*, omega6: Omega6, omega3: Omega3) -> OmegaRatio:
    """Ratio of omega-6 to omega-3 fatty acids.

    Parameters
    ----------
    omega6 : omega-6 of all fatty acids [percent]
    omega3 : omega-3 of all fatty acids, above zero [percent]

    Returns
    -------
    Ratio, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range; no omega-3 at all, for then there is no ratio.

    Notes
    -----
    Some authors print omega-3 to omega-6, the other way up. The ratio hides which omega-3: plant oils hold
    alpha-linolenic acid, which is not the EPA and DHA of fish.

    Examples
    --------
    >>> round(omega_ratio(omega6=50.3, omega3=6.54), 2)  # soybean oil
    7.69
    """
    return omega6 / omega3


@relation(cite("oils_table2024", "table 2, footnote 1: omega-6 over omega-3"))
def omega_ratio_of_acids(*, omega6_acids: SixParts, omega3_acids: ThreeParts) -> OmegaRatio:
    """Ratio of omega-6 to omega-3 from the single fatty acids of an oil.

    Parameters
    ----------
    omega6_acids : omega-6 acids, shape (n,) [percent of all fatty acids]
    omega3_acids : omega-3 acids, shape (m,) [percent of all fatty acids]

    Returns
    -------
    Ratio, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range; no omega-3 at all, for then there is no ratio.

    Notes
    -----
    Gamma-linolenic acid belongs to omega-6, alpha-linolenic to omega-3: one printed table mixes them up.

    Examples
    --------
    >>> round(omega_ratio_of_acids(omega6_acids=[1.1, 0.3], omega3_acids=[0.8, 4.9, 8.4]), 4)  # herring oil
    0.0993
    """
    omega6: Omega6 = math.fsum(omega6_acids)
    omega3: Omega3 = math.fsum(omega3_acids)
    return omega_ratio(omega6=omega6, omega3=omega3)


@relation(cite("arithmetic", "sums before the ratio", "definition"))
def blend_omega_ratio(
    *, first_share: FirstShare, first_omega6: SixFirst, first_omega3: ThreeFirst, second_omega6: SixSecond,
    second_omega3: ThreeSecond,
) -> OmegaRatio:
    """Ratio of omega-6 to omega-3 of a blend of two oils.

    Parameters
    ----------
    first_share : share of the first oil; the second is the rest [percent]
    first_omega6 : omega-6 of the first oil [percent]
    first_omega3 : omega-3 of the first oil [percent]
    second_omega6 : omega-6 of the second oil [percent]
    second_omega3 : omega-3 of the second oil [percent]

    Returns
    -------
    Ratio of the blend, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range; no omega-3 in the blend, for then there is no ratio.

    Notes
    -----
    Sums first, then the ratio: the mean of the two ratios is wrong, often many times over. Adding the fat of spirulina,
    which is rich in gamma-linolenic acid and so in omega-6, makes the ratio of soybean oil worse, not better.

    Examples
    --------
    >>> round(blend_omega_ratio(first_share=70.0, first_omega6=50.3, first_omega3=6.54, second_omega6=14.3,
    ...                         second_omega3=53.4), 2)  # soybean with flaxseed; the mean of the ratios would be 5.46
    1.92
    """
    omega6: Omega6 = (first_share * first_omega6 + (HUNDRED_PERCENT - first_share) * second_omega6) / HUNDRED_PERCENT
    omega3: Omega3 = (first_share * first_omega3 + (HUNDRED_PERCENT - first_share) * second_omega3) / HUNDRED_PERCENT
    return omega_ratio(omega6=omega6, omega3=omega3)


@relation(cite("arithmetic", "the ratio of a blend, turned round", "definition"))
def second_oil_share(
    *, first_omega6: SixFirst, first_omega3: ThreeFirst, second_omega6: SixSecond, second_omega3: ThreeSecond,
    wished_ratio: WishedRatio,
) -> SecondShare:
    """Share of a second oil that brings a blend to a wished ratio of omega-6 to omega-3.

    Parameters
    ----------
    first_omega6 : omega-6 of the first oil [percent]
    first_omega3 : omega-3 of the first oil [percent]
    second_omega6 : omega-6 of the second oil [percent]
    second_omega3 : omega-3 of the second oil [percent]
    wished_ratio : ratio wished, between those of the two oils

    Returns
    -------
    Share of the second oil [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A share below 0 or above 100 % says that the wished ratio does not lie between the two oils.

    Examples
    --------
    >>> round(second_oil_share(first_omega6=50.3, first_omega3=6.54, second_omega6=14.3, second_omega3=53.4,
    ...                        wished_ratio=2.0), 1)
    28.7
    """
    surplus: SurplusFirst = first_omega6 - wished_ratio * first_omega3
    room: RoomSecond = wished_ratio * second_omega3 - second_omega6
    return HUNDRED_PERCENT * surplus / (surplus + room)


@relation(cite("arithmetic", "sums before the ratio", "definition"), procedure=True)
def omega_ratio_of_oils(*, masses: OilMasses, omega6: SixParts, omega3: ThreeParts) -> OmegaRatio:
    """Ratio of omega-6 to omega-3 of any number of oils or foods together.

    Parameters
    ----------
    masses : mass of the fat of each, shape (n,) [g]
    omega6 : omega-6 of each, shape (n,) [percent]
    omega3 : omega-3 of each, shape (n,) [percent]

    Returns
    -------
    Ratio of the whole, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range, lists of different lengths, or no omega-3 in the whole.

    Examples
    --------
    >>> round(omega_ratio_of_oils(masses=[50.0, 50.0], omega6=[53.2, 14.3], omega3=[1.16, 53.4]), 2)  # corn, flaxseed
    1.24
    """
    same_length(masses=masses, omega6=omega6, omega3=omega3)
    total = math.fsum(masses) or 1.0
    six, three = (
        math.fsum(mass * part for mass, part in zip(masses, parts, strict=True)) / total for parts in (omega6, omega3)
    )
    return omega_ratio(omega6=six, omega3=three)


@relation(cite("arithmetic", "share of a mass", "definition"))
def fat_in_serving(*, serving: Serving, fat: FatShare) -> FatMass:
    """Fat in a serving of a food.

    Parameters
    ----------
    serving : mass of the serving [g]
    fat : fat in the food [percent]

    Returns
    -------
    Fat [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> fat_in_serving(serving=150.0, fat=4.0)
    6.0
    """
    return serving * fat / HUNDRED_PERCENT


@relation(cite("greenfield2003", "appendix 5, table A5.1 and the example of goat milk"))
def fatty_acids_in_fat(*, fat_mass: FatMass, acids_in_fat: AcidsInFat) -> AcidsMass:
    """Fatty acids in an amount of fat: fat also holds glycerol and matter that is no fatty acid.

    Parameters
    ----------
    fat_mass : fat [g]
    acids_in_fat : fatty acids in the fat of this kind of food [percent]

    Returns
    -------
    Fatty acids [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    95.6 for oils and nuts, 94.5 for milk and poultry, 90 for fatty fish, 70 for white fish, 80 for vegetables.

    Examples
    --------
    >>> round(fatty_acids_in_fat(fat_mass=4.5, acids_in_fat=94.5), 2)  # goat milk
    4.25
    """
    return fat_mass * acids_in_fat / HUNDRED_PERCENT


@relation(cite("greenfield2003", "appendix 5, from the profile of the fatty acids to grams in the food"))
def fatty_acid_in_serving(
    *, serving: Serving, fat: FatShare, acids_in_fat: AcidsInFat, acid_share: AcidShare
) -> AcidMass:
    """Grams of one fatty acid, or of one family, in a serving, from its percentage of the fatty acids.

    Parameters
    ----------
    serving : mass of the serving [g]
    fat : fat in the food [percent]
    acids_in_fat : fatty acids in the fat of this kind of food [percent]
    acid_share : the acid as a share of all fatty acids [percent]

    Returns
    -------
    The fatty acid [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A lean food with a fine profile may still hold little: the per cent of the fat is not the per cent of the food.

    Examples
    --------
    >>> round(fatty_acid_in_serving(serving=150.0, fat=4.0, acids_in_fat=90.0, acid_share=20.0), 2)
    1.08
    """
    fat_mass: FatMass = fat_in_serving(serving=serving, fat=fat)
    acids: AcidsMass = fatty_acids_in_fat(fat_mass=fat_mass, acids_in_fat=acids_in_fat)
    return acids * acid_share / HUNDRED_PERCENT


@relation(cite("soltan2008", "40 to 450 g of fish for 1 g of omega-3"))
def food_for_omega3(
    *, label_omega3: LabelMass, label_portion: LabelPortion = 100.0, wished: WishedMass = 1.0
) -> FoodMass:
    """Food, such as fish, that holds a wished amount of omega-3, from what its label says.

    Parameters
    ----------
    label_omega3 : omega-3 on the label [mg]
    label_portion : mass of food for which the label speaks [g]
    wished : omega-3 wished [g]

    Returns
    -------
    Food [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Look whether the label means all omega-3 or EPA and DHA only. Big hunting fish may hold mercury: eat by the advice
    of the state. This is arithmetic on a label, not advice on health.

    Examples
    --------
    >>> round(food_for_omega3(label_omega3=1360.0), 1)  # gemfish
    73.5
    """
    return wished * MILLIGRAMS_PER_GRAM * label_portion / label_omega3
