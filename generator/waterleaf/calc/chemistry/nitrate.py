"""Nitrate: what the crop leaves over and where the water settles; and the ammonia that starts a filter without fish."""

import math
from typing import Annotated

from waterleaf.calc.chemistry.ammonia import TotalAmmonia
from waterleaf.calc.chemistry.filter import MILLIGRAMS_PER_GRAM, NitrifiedNitrogen
from waterleaf.calc.chemistry.masses import AMMONIA, AMMONIUM_CHLORIDE, NITRATE, NITRITE, NITROGEN
from waterleaf.calc.common import HUNDRED_PERCENT, LITRES_PER_CUBIC_METRE
from waterleaf.calc.feed.ration import BedArea
from waterleaf.calc.quantity import Quantity, cite, relation
from waterleaf.calc.solids.load import SystemVolume

UptakeRate = Annotated[float, Quantity("u_N", "g/m^2/day", "nitrogen taken up by a square metre a day", 0.01, 10)]
NitrogenUptake = Annotated[float, Quantity("U_N", "g/day", "nitrogen taken up by the crop a day", 0, 1e7)]
NitrateBalance = Annotated[float, Quantity("B_N", "g/day", "nitrate nitrogen made less taken up", -1e7, 1e7)]
NitrateSurplus = Annotated[float, Quantity("B_N", "g/day", "nitrate nitrogen that no plant takes up", 0.001, 1e7)]
ExchangeWater = Annotated[float, Quantity("V_new", "L/day", "new water a day", 0.01, 1e7)]
SourceNitrate = Annotated[float, Quantity("C_in", "mg/L", "nitrate nitrogen in the new water", 0, 200)]
NitrateNitrogen = Annotated[float, Quantity("C_N", "mg/L", "nitrate, as nitrogen", 0, 100_000)]
NitriteNitrogen = Annotated[float, Quantity("C_N", "mg/L", "nitrite, as nitrogen", 0, 1000)]
WholeAmmonia = Annotated[float, Quantity("C_whole", "mg/L", "ammonia, as the whole molecule", 0)]
WholeNitrite = Annotated[float, Quantity("C_whole", "mg/L", "nitrite, as the whole ion", 0)]
WholeNitrate = Annotated[float, Quantity("C_whole", "mg/L", "nitrate, as the whole ion", 0)]
NitrateRise = Annotated[float, Quantity("d_N", "mg/L/day", "rise of the nitrate nitrogen a day", -1e7, 1e7)]
WishedAmmonia = Annotated[float, Quantity("C_2", "mg/L", "wished total ammonia, as nitrogen", 0.5, 10)]
PresentAmmonia = Annotated[float, Quantity("C_1", "mg/L", "total ammonia in the water now, as nitrogen", 0, 5)]
DosedNitrogen = Annotated[float, Quantity("m_N", "g", "ammonia nitrogen to add", 0.0001, 1e6)]
AmmoniumChlorideDose = Annotated[float, Quantity("m_NH4Cl", "g", "ammonium chloride to add", 0, 1e7)]
SolutionStrength = Annotated[float, Quantity("w", "percent", "ammonia in the solution, by weight", 0.5, 35)]
SolutionDensity = Annotated[float, Quantity("d", "g/mL", "density of the solution", 0.85, 1.0)]
AmmoniaMass = Annotated[float, Quantity("m_NH3", "g", "ammonia to add, as the whole molecule", 0)]
SolutionDose = Annotated[float, Quantity("V_s", "mL", "ammonia solution to add", 0, 1e7)]
PresentCapacity = Annotated[float, Quantity("P_1", "g/day", "ammonia nitrogen it removes now", 0.0001, 1000)]
NeededCapacity = Annotated[float, Quantity("P_2", "g/day", "ammonia nitrogen it must remove", 0.01, 1e6)]
DoublingTime = Annotated[float, Quantity("t_2", "day", "time in which the bacteria double", 0.2, 10)]
StartUpDays = Annotated[float, Quantity("t", "day", "days until the filter is ready", -1000, 10_000)]
DailyDrop = Annotated[float, Quantity("d_TAN", "mg/L/day", "fall of the total ammonia a day", 0.01, 100)]
ClearingDays = Annotated[float, Quantity("t", "day", "days until the ammonia is used up", 0)]


@relation(cite("uvi2010", "removal by romaine lettuce, 0.83 g of nitrogen a square metre a day"))
def nitrogen_taken_up(*, bed_area: BedArea, uptake_rate: UptakeRate) -> NitrogenUptake:
    """Nitrogen that the crop takes out of the water in a day.

    Parameters
    ----------
    bed_area : growing area of the beds [m^2]
    uptake_rate : nitrogen taken up by a square metre of crop in a day [g/m^2/day]

    Returns
    -------
    Nitrogen [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(nitrogen_taken_up(bed_area=214.0, uptake_rate=0.83), 1)
    177.6
    """
    return bed_area * uptake_rate


@relation(cite("arithmetic", "mass balance of the water", "definition"))
def nitrate_balance(*, nitrified: NitrifiedNitrogen, bed_area: BedArea, uptake_rate: UptakeRate) -> NitrateBalance:
    """Nitrate that is made in a day less what the crop takes up.

    Parameters
    ----------
    nitrified : ammonia nitrified in a day, as nitrogen [g/day]
    bed_area : growing area of the beds [m^2]
    uptake_rate : nitrogen taken up by a square metre of crop in a day [g/m^2/day]

    Returns
    -------
    Nitrate nitrogen left over; negative where the crop asks for more than is made [g/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Leaves out denitrification in sludge and roots, which lowers the nitrate further.

    Examples
    --------
    >>> round(nitrate_balance(nitrified=300.0, bed_area=214.0, uptake_rate=0.83), 1)
    122.4
    """
    uptake: NitrogenUptake = nitrogen_taken_up(bed_area=bed_area, uptake_rate=uptake_rate)
    return nitrified - uptake


@relation(cite("arithmetic", "mass balance of the water", "definition"))
def bed_area_for_nitrate(*, nitrified: NitrifiedNitrogen, uptake_rate: UptakeRate) -> BedArea:
    """Bed area whose crop takes up all the nitrate that is made.

    Parameters
    ----------
    nitrified : ammonia nitrified in a day, as nitrogen [g/day]
    uptake_rate : nitrogen taken up by a square metre of crop in a day [g/m^2/day]

    Returns
    -------
    Growing area [m^2].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(bed_area_for_nitrate(nitrified=177.62, uptake_rate=0.83), 1)
    214.0
    """
    return nitrified / uptake_rate


@relation(cite("arithmetic", "mass balance of the water at rest: what comes in leaves with the exchange", "definition"))
def steady_nitrate(
    *, nitrate_surplus: NitrateSurplus, new_water: ExchangeWater, source_nitrate: SourceNitrate = 0.0
) -> NitrateNitrogen:
    """Nitrate at which the water settles, when the surplus leaves only with the water exchanged.

    Parameters
    ----------
    nitrate_surplus : nitrate nitrogen that no plant takes up [g/day]
    new_water : new water in a day, as much as leaves [L/day]
    source_nitrate : nitrate nitrogen in the new water [mg/L]

    Returns
    -------
    Nitrate, as nitrogen [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    An upper bound: denitrification is left out.

    Examples
    --------
    >>> round(steady_nitrate(nitrate_surplus=29.4, new_water=150.0), 1)
    196.0
    """
    return source_nitrate + nitrate_surplus * MILLIGRAMS_PER_GRAM / new_water


@relation(cite("arithmetic", "mass balance of the water", "definition"))
def nitrate_rise(*, nitrate_balance: NitrateBalance, system_volume: SystemVolume) -> NitrateRise:
    """Rise of the nitrate in a day, without any water exchange.

    Parameters
    ----------
    nitrate_balance : nitrate nitrogen made less taken up [g/day]
    system_volume : water in the whole system [m^3]

    Returns
    -------
    Rise of the nitrate nitrogen; negative where it falls [mg/L/day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> nitrate_rise(nitrate_balance=110.0, system_volume=110.0)
    1.0
    """
    return nitrate_balance * MILLIGRAMS_PER_GRAM / (system_volume * LITRES_PER_CUBIC_METRE)


@relation(cite("iupac_weights", "NH3 over N by molar masses", "computed"))
def ammonia_as_molecule(*, total_ammonia: TotalAmmonia) -> WholeAmmonia:
    """Ammonia counted as the whole molecule, from ammonia counted as nitrogen.

    Parameters
    ----------
    total_ammonia : total ammonia, as nitrogen [mg/L]

    Returns
    -------
    Ammonia, as the whole molecule [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Test kits print either form. 1.216 times; the FAO rounds to 1.2.

    Examples
    --------
    >>> round(ammonia_as_molecule(total_ammonia=1.0), 3)
    1.216
    """
    return total_ammonia * AMMONIA / NITROGEN


@relation(cite("iupac_weights", "NO2 over N by molar masses", "computed"))
def nitrite_as_ion(*, nitrite_nitrogen: NitriteNitrogen) -> WholeNitrite:
    """Nitrite counted as the whole ion, from nitrite counted as nitrogen.

    Parameters
    ----------
    nitrite_nitrogen : nitrite, as nitrogen [mg/L]

    Returns
    -------
    Nitrite, as the whole ion [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(nitrite_as_ion(nitrite_nitrogen=1.0), 3)
    3.284
    """
    return nitrite_nitrogen * NITRITE / NITROGEN


@relation(cite("iupac_weights", "NO3 over N by molar masses", "computed"))
def nitrate_as_ion(*, nitrate_nitrogen: NitrateNitrogen) -> WholeNitrate:
    """Nitrate counted as the whole ion, from nitrate counted as nitrogen.

    Parameters
    ----------
    nitrate_nitrogen : nitrate, as nitrogen [mg/L]

    Returns
    -------
    Nitrate, as the whole ion [mg/L].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(nitrate_as_ion(nitrate_nitrogen=10.0), 2)
    44.27
    """
    return nitrate_nitrogen * NITRATE / NITROGEN


@relation(cite("arithmetic", "mass from concentration and volume", "definition"))
def start_up_nitrogen(
    *, wished_ammonia: WishedAmmonia, present_ammonia: PresentAmmonia, system_volume: SystemVolume
) -> DosedNitrogen:
    """Ammonia nitrogen that brings the water of a system without fish to a wished level.

    Parameters
    ----------
    wished_ammonia : wished total ammonia, as nitrogen [mg/L]
    present_ammonia : total ammonia in the water now, as nitrogen [mg/L]
    system_volume : water in the whole system [m^3]

    Returns
    -------
    Ammonia nitrogen to add [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> start_up_nitrogen(wished_ammonia=2.0, present_ammonia=0.5, system_volume=10.0)
    15.0
    """
    return (wished_ammonia - present_ammonia) * system_volume * LITRES_PER_CUBIC_METRE / MILLIGRAMS_PER_GRAM


@relation(cite("iupac_weights", "NH4Cl over N by molar masses", "computed"))
def ammonium_chloride_dose(*, dosed_nitrogen: DosedNitrogen) -> AmmoniumChlorideDose:
    """Ammonium chloride that holds a wished mass of ammonia nitrogen.

    Parameters
    ----------
    dosed_nitrogen : ammonia nitrogen to add [g]

    Returns
    -------
    Ammonium chloride [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Goggles and gloves, and never together with bleach. No fish in the system until ammonia and nitrite are gone.

    Examples
    --------
    >>> round(ammonium_chloride_dose(dosed_nitrogen=15.0), 1)
    57.3
    """
    return dosed_nitrogen * AMMONIUM_CHLORIDE / NITROGEN


@relation(cite("iupac_weights", "NH3 over N by molar masses", "computed"))
def ammonia_solution_dose(
    *, dosed_nitrogen: DosedNitrogen, solution_strength: SolutionStrength, solution_density: SolutionDensity
) -> SolutionDose:
    """Ammonia solution that holds a wished mass of ammonia nitrogen.

    Parameters
    ----------
    dosed_nitrogen : ammonia nitrogen to add [g]
    solution_strength : ammonia in the solution, by weight, from its label [percent]
    solution_density : density of the solution, from its label [g/mL]

    Returns
    -------
    Solution [mL].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The fumes burn eyes and lungs: work in moving air with goggles and gloves, and keep the solution from bleach, with
    which it makes a poisonous gas. Only pure solution, without soap or scent.

    Examples
    --------
    >>> round(ammonia_solution_dose(dosed_nitrogen=15.0, solution_strength=10.0, solution_density=0.96))
    190
    """
    ammonia: AmmoniaMass = dosed_nitrogen * AMMONIA / NITROGEN
    return ammonia / solution_strength * HUNDRED_PERCENT / solution_density


@relation(cite("arithmetic", "growth by doubling", "definition"))
def start_up_days(
    *, present_capacity: PresentCapacity, needed_capacity: NeededCapacity, doubling_time: DoublingTime
) -> StartUpDays:
    """Days until the bacteria of a new filter can remove what they must, while they double steadily.

    Parameters
    ----------
    present_capacity : ammonia that the filter removes now, as nitrogen [g/day]
    needed_capacity : ammonia that the filter must remove, as nitrogen [g/day]
    doubling_time : time in which the bacteria double [day]

    Returns
    -------
    Days; negative where the filter can already do more [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The doubling time depends on warmth, pH and oxygen and is an argument. Read the end from tests for ammonia and
    nitrite, not from the calendar.

    Examples
    --------
    >>> round(start_up_days(present_capacity=1.0, needed_capacity=8.0, doubling_time=1.5), 2)  # doubled three times
    4.5
    """
    return doubling_time * math.log(needed_capacity / present_capacity) / math.log(2)


@relation(cite("arithmetic", "steady fall", "definition"))
def clearing_days(*, total_ammonia: TotalAmmonia, daily_drop: DailyDrop) -> ClearingDays:
    """Days until a dose of ammonia is used up at a steady rate.

    Parameters
    ----------
    total_ammonia : total ammonia in the water, as nitrogen [mg/L]
    daily_drop : fall of the total ammonia in a day [mg/L/day]

    Returns
    -------
    Days [day].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> clearing_days(total_ammonia=2.0, daily_drop=0.5)
    4.0
    """
    return total_ammonia / daily_drop
