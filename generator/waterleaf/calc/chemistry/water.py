"""Water as it is measured: alkalinity and hardness in their units, salts, pH, and what an exchange of water does."""

import math
from typing import Annotated, Final

from waterleaf.calc.chemistry.masses import CALCIUM, CALCIUM_CARBONATE, CALCIUM_OXIDE, MAGNESIUM
from waterleaf.calc.chemistry.nitrate import ExchangeWater
from waterleaf.calc.common import HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.quantity import Constant, Quantity, cite, relation
from waterleaf.calc.solids.load import SystemVolume

GERMAN_DEGREE: Final = Constant(
    10, symbol="10", unit="mg/L/degdH", name="calcium oxide in a litre for one German degree",
    source=cite("standard_hardness", "10 mg of calcium oxide a litre"),
)
METER_TEMPERATURE: Final = Constant(
    25, symbol="25", unit="K", name="temperature to which meters bring a conductivity",
    source=cite("trade", "meters show the conductivity at 25 degrees", "common practice"),
)
_PH: Final = "pH is the logarithm of a concentration in moles a litre"

AlkalinityMass = Annotated[float, Quantity("a", "mg/L", "alkalinity, as calcium carbonate", 0, 2000)]
AlkalinityEquivalents = Annotated[float, Quantity("a_eq", "meq/L", "alkalinity in equivalents", 0, 40)]
Hardness = Annotated[float, Quantity("h", "mg/L", "hardness, as calcium carbonate", 0, 5000)]
GermanHardness = Annotated[float, Quantity("h_d", "degdH", "hardness in German degrees", 0, 280)]
DegreeMass = Annotated[float, Quantity("d", "mg/L/degdH", "calcium carbonate for one German degree", 1, 100)]
CalciumIon = Annotated[float, Quantity("c_Ca", "mg/L", "calcium in the water", 0, 2000)]
MagnesiumIon = Annotated[float, Quantity("c_Mg", "mg/L", "magnesium in the water", 0, 1000)]
Conductivity = Annotated[float, Quantity("EC", "uS/cm", "conductivity", 1, 60_000)]
ConductivityAt25 = Annotated[float, Quantity("EC_25", "uS/cm", "conductivity at 25 degrees Celsius", 1, 60_000)]
SolidsFactor = Annotated[
    float,
    Quantity("k", "", "milligrams a litre for each microsiemens", 0.4, 0.9, basis="meters are sold with 0.5 to 0.7"),
]
DissolvedSolids = Annotated[float, Quantity("TDS", "mg/L", "dissolved solids", 0)]
ConductivityTemperature = Annotated[float, Quantity("T", "degC", "water temperature", 1, 40)]
TemperatureCoefficient = Annotated[float, Quantity("α", "percent/degC", "rise of the conductivity a degree", 0.5, 3)]
TemperatureExcess = Annotated[float, Quantity("e", "percent", "rise of the conductivity over that at 25 degrees", -100)]
Acidity = Annotated[float, Quantity("pH", "", "pH of the water", 0, 14)]
HydrogenIon = Annotated[float, Quantity("c_H", "mol/L", "hydrogen ions", 1e-14, 1)]
Concentration = Annotated[float, Quantity("C", "mg/L", "concentration now", 0.1, 100_000)]
SourceConcentration = Annotated[float, Quantity("C_in", "mg/L", "concentration in the new water", 0, 20)]
TargetConcentration = Annotated[float, Quantity("C_2", "mg/L", "concentration wished", 0.1, 10_000)]
LaterConcentration = Annotated[float, Quantity("C_t", "mg/L", "concentration afterwards", 0, 100_000)]
ExchangedShare = Annotated[float, Quantity("x", "percent", "share of the water that is exchanged", 0, 100)]
ExchangeCount = Annotated[float, Quantity("n", "", "number of exchanges, each well mixed", 1, 100, whole=True)]
LeftShare = Annotated[float, Quantity("y", "", "share of the old water that is left", 0, 1)]
FlushingDays = Annotated[float, Quantity("t", "day", "days of steady exchange", 0, 1000)]
Turnover = Annotated[float, Quantity("τ", "", "volumes of new water that have passed", 0)]


@relation(cite("iupac_weights", "two equivalents in CaCO3, by molar masses", "computed"))
def alkalinity_in_equivalents(*, alkalinity: AlkalinityMass) -> AlkalinityEquivalents:
    """Alkalinity in milliequivalents, from alkalinity as calcium carbonate.

    Parameters
    ----------
    alkalinity : alkalinity, as calcium carbonate [mg/L]

    Returns
    -------
    Alkalinity [meq/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(alkalinity_in_equivalents(alkalinity=100.0), 3)
    1.998
    """
    return alkalinity / (CALCIUM_CARBONATE / 2)


@relation(cite("iupac_weights", "two equivalents in CaCO3, by molar masses", "computed"))
def alkalinity_from_equivalents(*, alkalinity_equivalents: AlkalinityEquivalents) -> AlkalinityMass:
    """Alkalinity as calcium carbonate, from milliequivalents.

    Parameters
    ----------
    alkalinity_equivalents : alkalinity in equivalents [meq/L]

    Returns
    -------
    Alkalinity, as calcium carbonate [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(alkalinity_from_equivalents(alkalinity_equivalents=1.0), 2)
    50.04
    """
    return alkalinity_equivalents * (CALCIUM_CARBONATE / 2)


@relation(cite("standard_hardness", "10 mg of calcium oxide a litre, as calcium carbonate by molar masses"))
def hardness_in_german_degrees(*, hardness: Hardness) -> GermanHardness:
    """Hardness in German degrees, from hardness as calcium carbonate.

    Parameters
    ----------
    hardness : hardness, as calcium carbonate [mg/L]

    Returns
    -------
    Hardness [degdH].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Alkalinity counted in German degrees ("carbonate hardness") is turned over in the same way.

    Examples
    --------
    >>> round(hardness_in_german_degrees(hardness=178.48), 2)
    10.0
    """
    degree: DegreeMass = GERMAN_DEGREE * CALCIUM_CARBONATE / CALCIUM_OXIDE
    return hardness / degree


@relation(cite("standard_hardness", "10 mg of calcium oxide a litre, as calcium carbonate by molar masses"))
def hardness_from_german_degrees(*, german_hardness: GermanHardness) -> Hardness:
    """Hardness as calcium carbonate, from German degrees.

    Parameters
    ----------
    german_hardness : hardness in German degrees [degdH]

    Returns
    -------
    Hardness, as calcium carbonate [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(hardness_from_german_degrees(german_hardness=1.0), 1)
    17.8
    """
    degree: DegreeMass = GERMAN_DEGREE * CALCIUM_CARBONATE / CALCIUM_OXIDE
    return german_hardness * degree


@relation(cite("iupac_weights", "calcium and magnesium as calcium carbonate, by molar masses", "computed"))
def hardness_from_ions(*, calcium: CalciumIon, magnesium: MagnesiumIon) -> Hardness:
    """Hardness as calcium carbonate, from the calcium and magnesium in the water.

    Parameters
    ----------
    calcium : calcium in the water [mg/L]
    magnesium : magnesium in the water [mg/L]

    Returns
    -------
    Hardness, as calcium carbonate [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(hardness_from_ions(calcium=40.0, magnesium=10.0), 1)
    141.1
    """
    return calcium * CALCIUM_CARBONATE / CALCIUM + magnesium * CALCIUM_CARBONATE / MAGNESIUM


@relation(
    cite("trade", "meters multiply the conductivity by a set factor", "common practice"),
    empirical="the factor is a convention between microsiemens a centimetre and milligrams a litre",
)
def dissolved_solids(*, conductivity: Conductivity, solids_factor: SolidsFactor) -> DissolvedSolids:
    """Dissolved solids that a meter shows for a conductivity.

    Parameters
    ----------
    conductivity : conductivity [uS/cm]
    solids_factor : milligrams a litre for each microsiemens, set in the meter

    Returns
    -------
    Dissolved solids [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Only the conductivity is measured. Two meters with different factors show different solids in one water: give the
    factor, or give the conductivity.

    Examples
    --------
    >>> dissolved_solids(conductivity=1500.0, solids_factor=0.5)
    750.0
    """
    return conductivity * solids_factor


@relation(cite("arithmetic", "linear correction, coefficient as given", "definition"))
def conductivity_at_25(
    *, conductivity: Conductivity, temperature: ConductivityTemperature, temperature_coefficient: TemperatureCoefficient
) -> ConductivityAt25:
    """Conductivity brought to 25 degrees Celsius.

    Parameters
    ----------
    conductivity : conductivity as measured [uS/cm]
    temperature : water temperature [degC]
    temperature_coefficient : rise of the conductivity a degree [percent/degC]

    Returns
    -------
    Conductivity at 25 degrees [uS/cm].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Only for a meter that does not compensate by itself. The coefficient depends on the salts and is an argument.

    Examples
    --------
    >>> conductivity_at_25(conductivity=900.0, temperature=20.0, temperature_coefficient=2.0)
    1000.0
    """
    excess: TemperatureExcess = temperature_coefficient * (temperature - METER_TEMPERATURE)
    return conductivity / (1 + excess / HUNDRED_PERCENT)


@relation(cite("arithmetic", "definition of pH", "definition"), empirical=_PH)
def hydrogen_ion(*, ph: Acidity) -> HydrogenIon:
    """Hydrogen ions in water of a given pH.

    Parameters
    ----------
    ph : pH of the water

    Returns
    -------
    Hydrogen ions [mol/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    One unit of pH is ten times the hydrogen ions, so pH values must not be averaged as they stand.

    Examples
    --------
    >>> round(hydrogen_ion(ph=6.5) * 1e7, 3)
    3.162
    """
    return 10 ** (-ph)


@relation(cite("arithmetic", "definition of pH", "definition"), empirical=_PH)
def ph_from_hydrogen_ion(*, hydrogen_ion: HydrogenIon) -> Acidity:
    """Value of pH for a concentration of hydrogen ions.

    Parameters
    ----------
    hydrogen_ion : hydrogen ions [mol/L]

    Returns
    -------
    pH, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(ph_from_hydrogen_ion(hydrogen_ion=3.16e-8), 2)
    7.5
    """
    return -math.log10(hydrogen_ion)


@relation(cite("arithmetic", "mixing of two waters", "definition"))
def concentration_after_exchange(
    *, concentration: Concentration, source_concentration: SourceConcentration, exchanged_share: ExchangedShare
) -> LaterConcentration:
    """Concentration of a dissolved substance after one exchange of water.

    Parameters
    ----------
    concentration : concentration now [mg/L]
    source_concentration : concentration in the new water [mg/L]
    exchanged_share : share of the water that is exchanged [percent]

    Returns
    -------
    Concentration afterwards [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> concentration_after_exchange(concentration=80.0, source_concentration=0.0, exchanged_share=25.0)
    60.0
    """
    return concentration - (concentration - source_concentration) * exchanged_share / HUNDRED_PERCENT


@relation(cite("arithmetic", "mixing of two waters, repeated", "definition"))
def concentration_after_exchanges(
    *, concentration: Concentration, source_concentration: SourceConcentration, exchanged_share: ExchangedShare,
    exchanges: ExchangeCount,
) -> LaterConcentration:
    """Concentration of a dissolved substance after several equal exchanges of water.

    Parameters
    ----------
    concentration : concentration now [mg/L]
    source_concentration : concentration in the new water [mg/L]
    exchanged_share : share of the water that is exchanged each time [percent]
    exchanges : number of exchanges, each well mixed

    Returns
    -------
    Concentration afterwards [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Two exchanges of a half leave a quarter, not nothing.

    Examples
    --------
    >>> concentration_after_exchanges(
    ...     concentration=80.0, source_concentration=0.0, exchanged_share=50.0, exchanges=2.0)
    20.0
    """
    left: LeftShare = (1 - exchanged_share / HUNDRED_PERCENT) ** exchanges
    return source_concentration + (concentration - source_concentration) * left


@relation(cite("arithmetic", "mixing of two waters", "definition"))
def exchange_for_target(
    *, concentration: Concentration, source_concentration: SourceConcentration,
    target_concentration: TargetConcentration,
) -> ExchangedShare:
    """Share of the water to exchange at once so that a substance falls to a wished concentration.

    Parameters
    ----------
    concentration : concentration now [mg/L]
    source_concentration : concentration in the new water [mg/L]
    target_concentration : concentration wished [mg/L]

    Returns
    -------
    Share of the water; above 100 where the new water alone holds too much [percent].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A large exchange at once shocks fish by warmth and pH, and drained water has to go where local rules allow.

    Examples
    --------
    >>> exchange_for_target(concentration=80.0, source_concentration=0.0, target_concentration=60.0)
    25.0
    """
    return (concentration - target_concentration) / (concentration - source_concentration) * HUNDRED_PERCENT


@relation(cite("arithmetic", "mass balance of a well-mixed tank", "definition"))
def concentration_after_flushing(
    *, concentration: Concentration, source_concentration: SourceConcentration, new_water: ExchangeWater,
    system_volume: SystemVolume, flushing_days: FlushingDays,
) -> LaterConcentration:
    """Concentration of a dissolved substance after some days of steady exchange.

    Parameters
    ----------
    concentration : concentration now [mg/L]
    source_concentration : concentration in the new water [mg/L]
    new_water : new water in a day, as much as leaves [L/day]
    system_volume : water in the whole system [m^3]
    flushing_days : days of steady exchange [day]

    Returns
    -------
    Concentration afterwards [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(concentration_after_flushing(
    ...     concentration=100.0, source_concentration=0.0, new_water=100.0, system_volume=1.0, flushing_days=10.0), 1)
    36.8
    """
    turnover: Turnover = new_water * flushing_days / (system_volume * LITRES_PER_CUBIC_METRE)
    return source_concentration + (concentration - source_concentration) * math.exp(-turnover)
