"""Sugar, juices: making standards, diluting and pooling, acid and the ratio of sugar to acid."""

import math
from collections.abc import Sequence
from typing import Annotated, Final

from waterleaf.calc.common import HUNDRED_PERCENT
from waterleaf.calc.quantity import Constant, OutOfRange, Quantity, cite, lookup, relation

Brix = Annotated[float, Quantity("B", "degBx", "soluble solids", 0.1, 80)]
SpecificGravity = Annotated[
    float, Quantity("S", "", "specific gravity at 20 degrees over water at 20 degrees", 1, 1.45)
]
SugarPerLitre = Annotated[float, Quantity("C", "g/L", "soluble solids in a litre of juice", 0, 1200)]
SugarMass = Annotated[float, Quantity("m_s", "g", "mass of sucrose", 0.001, 100_000)]
WaterMass = Annotated[float, Quantity("m_w", "g", "mass of water", 0.001, 100_000)]
SolutionMass = Annotated[float, Quantity("m", "g", "mass of solution", 0.1, 100_000)]
FirstMass = Annotated[float, Quantity("m_1", "g", "mass of the first juice", 0.1, 100_000)]
SecondMass = Annotated[float, Quantity("m_2", "g", "mass of the second juice", 0.1, 100_000)]
FirstBrix = Annotated[float, Quantity("B_1", "degBx", "soluble solids of the first juice", 0, 80)]
SecondBrix = Annotated[float, Quantity("B_2", "degBx", "soluble solids of the second juice", 0, 80)]
PooledSugar = Annotated[float, Quantity("m_s", "g*degBx", "mass times soluble solids, of both juices", 0)]
JuiceMasses = Annotated[Sequence[float], Quantity("m", "g", "masses of the juices", 0.1, 100_000, many=1)]
JuiceBrix = Annotated[Sequence[float], Quantity("B", "degBx", "soluble solids of the juices", 0, 80, many=1)]
JuiceMass = Annotated[float, Quantity("m", "g", "mass of juice", 0.1, 100_000)]
TargetBrix = Annotated[float, Quantity("B_target", "degBx", "wished soluble solids", 0.1, 80)]
TitrantVolume = Annotated[float, Quantity("V", "mL", "volume of sodium hydroxide used", 0.01, 100)]
TitrantStrength = Annotated[float, Quantity("c_NaOH", "mol/L", "strength of the sodium hydroxide", 0.001, 1)]
MolarMass = Annotated[float, Quantity("M", "g/mol", "molar mass of the acid", 40, 500)]
AcidProtons = Annotated[float, Quantity("z", "", "protons that a molecule of the acid gives up", 1, 4, whole=True)]
AcidFactor = Annotated[float, Quantity("f", "g/mmol", "acid neutralised by a millimole of base", 0.03, 0.2)]
SampleMass = Annotated[float, Quantity("m", "g", "mass of the sample", 0.1, 1000)]
Acidity = Annotated[float, Quantity("A", "percent", "titratable acidity", 0.01, 20)]
AcidMass = Annotated[float, Quantity("m_acid", "g", "acid in the sample", 0)]
CitricAcid = Annotated[
    float, Quantity("A", "percent", "acidity as anhydrous citric acid", 0, 20, basis="columns of the published table")
]
AcidAddition = Annotated[float, Quantity("c", "degBx", "acid correction", 0, 4)]
Ratio = Annotated[float, Quantity("R", "degBx/percent", "ratio of soluble solids to acid", 0.1, 500)]

PURE_SUCROSE: Final = Constant(
    100, symbol="100", unit="degBx", name="degrees Brix of pure sucrose",
    source=cite("brix_definition", "1 degree Brix is 1 g of sucrose in 100 g of solution", "definition"),
)
MILLIMOLES_PER_MOLE: Final = Constant(
    1000, symbol="1000", unit="mmol/mol", name="millimoles in a mole",
    source=cite("arithmetic", "definition of the unit", "definition"),
)
WATER_AT_20: Final = Constant(
    998.2071, symbol="d_w", unit="g/L", name="mass of a litre of water at 20 degrees Celsius",
    source=cite("water_density", "table, 20 degrees: 998.2071 kg/m3"), low=998.2, high=998.21,
)

# Per cent of citric acid, and what to add to the reading; without acid there is nothing to add.
_ACID_COLUMNS: Final = (0.0, 0.2, 0.4, 1.0, 2.0, 5.0, 10.0, 20.0)
_ACID_ADDITIONS: Final = (0.0, 0.04, 0.08, 0.20, 0.39, 0.97, 1.91, 3.70)


@lookup("c", "the table acid correction at", cite("citrus_acid_table", "acid correction table"))
def table_acid_correction(acidity: float) -> float:
    """Acid correction between the nearest entries of the table [degBx]."""
    above = next(place for place, mark in enumerate(_ACID_COLUMNS) if mark >= acidity)
    if above == 0:
        return _ACID_ADDITIONS[0]
    low, high = _ACID_COLUMNS[above - 1], _ACID_COLUMNS[above]
    share = (acidity - low) / (high - low)
    return (1 - share) * _ACID_ADDITIONS[above - 1] + share * _ACID_ADDITIONS[above]


@relation(cite("brix_definition", "10 g of sucrose and 90 g of water make 10 degrees Brix", "definition"))
def solution_brix(*, sugar_mass: SugarMass, water_mass: WaterMass) -> Brix:
    """Degrees Brix of a solution made by weighing sucrose and water.

    Parameters
    ----------
    sugar_mass : mass of sucrose [g]
    water_mass : mass of water [g]

    Returns
    -------
    Degrees Brix, exactly [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The whole is sucrose and water together: 10 g in 100 g of water is 9.09, not 10.

    Examples
    --------
    >>> solution_brix(sugar_mass=10.0, water_mass=90.0)
    10.0
    """
    return PURE_SUCROSE * sugar_mass / (sugar_mass + water_mass)


@relation(cite("brix_definition", "1 degree Brix is 1 g of sucrose in 100 g of solution", "definition"))
def standard_solution_sugar(*, target_brix: TargetBrix, solution_mass: SolutionMass) -> SugarMass:
    """Sucrose to weigh for a standard solution.

    Parameters
    ----------
    target_brix : wished degrees Brix [degBx]
    solution_mass : mass of solution to make [g]

    Returns
    -------
    Mass of sucrose [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> standard_solution_sugar(target_brix=5.0, solution_mass=100.0)
    5.0
    """
    return solution_mass * target_brix / PURE_SUCROSE


@relation(cite("brix_definition", "1 degree Brix is 1 g of sucrose in 100 g of solution", "definition"))
def standard_solution_water(*, target_brix: TargetBrix, solution_mass: SolutionMass) -> WaterMass:
    """Water to weigh for a standard solution.

    Parameters
    ----------
    target_brix : wished degrees Brix [degBx]
    solution_mass : mass of solution to make [g]

    Returns
    -------
    Mass of water [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> standard_solution_water(target_brix=5.0, solution_mass=100.0)
    95.0
    """
    sugar: SugarMass = standard_solution_sugar(target_brix=target_brix, solution_mass=solution_mass)
    return solution_mass - sugar


@relation(cite("arithmetic", "the sugar stays the same while water is added", "definition"))
def diluted_brix(*, brix: Brix, juice_mass: JuiceMass, water_mass: WaterMass) -> Brix:
    """Degrees Brix of a juice after water was added.

    Parameters
    ----------
    brix : of the juice before [degBx]
    juice_mass : mass of juice [g]
    water_mass : mass of water added [g]

    Returns
    -------
    Degrees Brix of the mixture [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> diluted_brix(brix=12.0, juice_mass=30.0, water_mass=30.0)
    6.0
    """
    return brix * juice_mass / (juice_mass + water_mass)


@relation(cite("arithmetic", "the sugar stays the same while water is added", "definition"))
def water_to_dilute(*, brix: Brix, target_brix: TargetBrix, juice_mass: JuiceMass) -> WaterMass:
    """Water that brings a juice down to wished degrees Brix.

    Parameters
    ----------
    brix : of the juice before [degBx]
    target_brix : wished, below that of the juice [degBx]
    juice_mass : mass of juice [g]

    Returns
    -------
    Mass of water to add [g]; below zero where the juice is already thinner than wished.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> water_to_dilute(brix=12.0, target_brix=5.0, juice_mass=50.0)
    70.0
    """
    return juice_mass * (brix - target_brix) / target_brix


@relation(cite("arithmetic", "sugar of both juices over the mass of both", "definition"))
def pooled_brix(
    *, first_mass: FirstMass, first_brix: FirstBrix, second_mass: SecondMass, second_brix: SecondBrix
) -> Brix:
    """Degrees Brix of two juices poured together.

    Parameters
    ----------
    first_mass : mass of the first juice [g]
    first_brix : soluble solids of the first juice [degBx]
    second_mass : mass of the second juice [g]
    second_brix : soluble solids of the second juice [degBx]

    Returns
    -------
    Degrees Brix of the pool [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The plain mean of the two readings is right only when the masses are equal.

    Examples
    --------
    >>> round(pooled_brix(first_mass=30.0, first_brix=4.0, second_mass=20.0, second_brix=6.0), 2)
    4.8
    """
    sugar: PooledSugar = first_mass * first_brix + second_mass * second_brix
    return sugar / (first_mass + second_mass)


@relation(cite("arithmetic", "sugar of all juices over the mass of all", "definition"), procedure=True)
def pooled_brix_of_many(*, masses: JuiceMasses, brix: JuiceBrix) -> Brix:
    """Degrees Brix of any number of juices poured together.

    Parameters
    ----------
    masses : mass of each juice, shape (n,) [g]
    brix : soluble solids of each juice, shape (n,) [degBx]

    Returns
    -------
    Degrees Brix of the pool [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range, or lists of different length.

    Examples
    --------
    >>> round(pooled_brix_of_many(masses=[30.0, 20.0, 50.0], brix=[4.0, 6.0, 5.0]), 2)
    4.9
    """
    if len(masses) != len(brix):
        raise OutOfRange(f"masses: {len(masses)} masses for {len(brix)} readings. Give one mass for each reading.")
    return math.fsum(mass * value for mass, value in zip(masses, brix, strict=True)) / math.fsum(masses)


@relation(cite("arithmetic", "share times density", "definition"), cite("water_density", "table, 20 degrees"))
def grams_per_litre(*, brix: Brix, specific_gravity: SpecificGravity) -> SugarPerLitre:
    """Soluble solids in a litre of juice.

    Parameters
    ----------
    brix : soluble solids [degBx]
    specific_gravity : density over that of water, both at 20 degrees Celsius, a pure number

    Returns
    -------
    Soluble solids [g/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Ten times the degrees Brix is too low, because a litre of juice weighs more than a kilogram: 20 degrees Brix hold
    216 g/L, not 200.

    Examples
    --------
    >>> round(grams_per_litre(brix=20.0, specific_gravity=1.08297), 1)
    216.2
    """
    return brix / PURE_SUCROSE * specific_gravity * WATER_AT_20


@relation(
    cite("aoac_acidity", "factors printed there for seven acids"),
    cite("arithmetic", "mass over millimoles of base", "definition"),
)
def acid_factor(*, molar_mass: MolarMass, protons: AcidProtons) -> AcidFactor:
    """Grams of an acid that one millimole of base neutralises.

    Parameters
    ----------
    molar_mass : molar mass of the acid [g/mol]
    protons : protons that a molecule gives up, a whole number

    Returns
    -------
    Acid factor [g/mmol].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Citric acid counts as 0.064 without its crystal water and as 0.070 with it: say which one a result means.

    Examples
    --------
    >>> round(acid_factor(molar_mass=134.087, protons=2.0), 3)  # malic acid, printed as 0.067
    0.067
    """
    return molar_mass / (MILLIMOLES_PER_MOLE * protons)


@relation(cite("aoac_acidity", "titration with sodium hydroxide"), cite("arithmetic", "acid over sample", "definition"))
def titratable_acidity(
    *, titrant_volume: TitrantVolume, titrant_strength: TitrantStrength, acid_factor: AcidFactor,
    sample_mass: SampleMass,
) -> Acidity:
    """Titratable acidity of a juice, as a chosen acid.

    Parameters
    ----------
    titrant_volume : sodium hydroxide used to reach the end point [mL]
    titrant_strength : its strength [mol/L]
    acid_factor : grams of the chosen acid for each millimole of base [g/mmol]
    sample_mass : mass of juice titrated [g]

    Returns
    -------
    Grams of acid in 100 g of juice [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Sodium hydroxide burns skin and eyes even when dilute: goggles and gloves, and water at hand.

    Examples
    --------
    >>> round(titratable_acidity(titrant_volume=6.2, titrant_strength=0.1, acid_factor=0.064, sample_mass=10.0), 3)
    0.397
    """
    acid: AcidMass = titrant_volume * titrant_strength * acid_factor
    return HUNDRED_PERCENT * acid / sample_mass


@relation(cite("usda_citrus", "table II: soluble solids against highest acidity"))
def sugar_acid_ratio(*, brix: Brix, acidity: Acidity) -> Ratio:
    """Ratio of soluble solids to titratable acidity, a guide to balance of taste.

    Parameters
    ----------
    brix : soluble solids [degBx]
    acidity : titratable acidity [percent]

    Returns
    -------
    Ratio [degBx/percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(sugar_acid_ratio(brix=4.8, acidity=0.397), 1)
    12.1
    """
    return brix / acidity


@relation(cite("usda_citrus", "table II: soluble solids against highest acidity"))
def acidity_limit(*, brix: Brix, ratio: Ratio) -> Acidity:
    """Highest acidity at which a juice still has a wished ratio of soluble solids to acid.

    Parameters
    ----------
    brix : soluble solids [degBx]
    ratio : least ratio [degBx/percent]

    Returns
    -------
    Highest titratable acidity [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(acidity_limit(brix=9.0, ratio=9.5), 3)  # printed as 0.947
    0.947
    """
    return brix / ratio


@relation(cite("citrus_acid_table", "acid correction table"), empirical="the correction is read from a table")
def acid_corrected_brix(*, brix: Brix, acidity: CitricAcid) -> Brix:
    """Refractometer reading of a sour juice with the share added that acid hides.

    Parameters
    ----------
    brix : reading at 20 degrees Celsius [degBx]
    acidity : as anhydrous citric acid [percent]

    Returns
    -------
    Corrected degrees Brix [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A habit of the citrus trade. For tomato at 0.4 % acid it adds 0.08, less than a hand instrument can show.

    Examples
    --------
    >>> round(acid_corrected_brix(brix=10.0, acidity=1.0), 2)
    10.2
    """
    correction: AcidAddition = table_acid_correction(acidity)
    return brix + correction
