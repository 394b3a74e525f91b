"""Oxygen, aeration and airlifts: what holds beyond the printed values."""


import gsw
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants, integrate

from waterleaf.calc.air import demand as air_demand
from waterleaf.calc.air import lift as air_lift
from waterleaf.calc.air import oxygen as air
from waterleaf.calc.air import supply as air_supply
from waterleaf.calc.chemistry import filter as chemistry_filter
from waterleaf.calc.quantity import OutOfRange

quick = settings(max_examples=60, deadline=None)
temperatures = st.floats(0, 40)
pressures = st.floats(55, 110)
flows = st.floats(0.1, 10_000)


@pytest.mark.parametrize("salinity", [0.0, 5.0, 20.0, 35.0])
@pytest.mark.parametrize("temperature", [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0])
def test_saturation_agrees_with_the_oceanographers_toolbox(temperature: float, salinity: float) -> None:
    """Within 0.05 % of gsw, which fits the same measurements with another polynomial and per kilogram of water."""
    micromoles = gsw.O2sol_SP_pt(salinity, temperature)
    absolute = gsw.SA_from_SP(salinity, 0, 0, 0) if salinity else 0.0
    density = gsw.rho(absolute, gsw.CT_from_t(absolute, temperature, 0), 0) / 1000
    expected = micromoles * 31.998 / 1000 * density
    found = air.oxygen_saturation_in_salt_water(temperature=temperature, salinity=salinity)
    assert found == pytest.approx(expected, rel=5e-4)


@given(t=st.floats(0, 39), step=st.floats(0.01, 1), salinity=st.floats(0, 39))
@quick
def test_warm_or_salty_water_holds_less_oxygen(t: float, step: float, salinity: float) -> None:
    """Saturation falls with temperature and with salt; without salt it is that of fresh water."""
    here = air.oxygen_saturation_in_salt_water(temperature=t, salinity=salinity)
    assert air.oxygen_saturation_in_salt_water(temperature=t + step, salinity=salinity) < here
    assert air.oxygen_saturation_in_salt_water(temperature=t, salinity=salinity + step) < here
    assert air.oxygen_saturation_in_salt_water(temperature=t, salinity=0.0) == air.oxygen_saturation(temperature=t)


@given(t=temperatures)
@quick
def test_one_atmosphere_changes_nothing(t: float) -> None:
    """At the standard atmosphere, and at sea level, the corrected saturation is the plain one."""
    plain = air.oxygen_saturation(temperature=t)
    assert air.oxygen_saturation_at_pressure(temperature=t, air_pressure=101.325) == pytest.approx(plain, rel=1e-12)
    assert air.oxygen_saturation_at_altitude(temperature=t, altitude=0.0) == pytest.approx(plain, rel=1e-12)


@given(t=temperatures, p=st.floats(55, 101), salinity=st.floats(0, 40))
@quick
def test_short_way_is_a_little_high_below_one_atmosphere(t: float, p: float, salinity: float) -> None:
    """Leaving out the water vapour overstates the oxygen in thin air, and salt leaves the factor alone."""
    short = air.oxygen_saturation_by_proportion(
        sea_level_saturation=air.oxygen_saturation(temperature=t), air_pressure=p
    )
    full = air.oxygen_saturation_at_pressure(temperature=t, air_pressure=p)
    assert full < short
    salty = air.oxygen_saturation_in_salt_water_at_pressure(temperature=t, salinity=salinity, air_pressure=p)
    sea_level = air.oxygen_saturation_in_salt_water(temperature=t, salinity=salinity)
    assert salty / sea_level == pytest.approx(full / air.oxygen_saturation(temperature=t), rel=1e-9)


@given(t=temperatures, low=st.floats(0, 4900), step=st.floats(1, 100))
@quick
def test_oxygen_falls_with_altitude(t: float, low: float, step: float) -> None:
    """Higher up, the air is thinner and the water holds less oxygen."""
    assert air.air_pressure_at_altitude(altitude=low + step) < air.air_pressure_at_altitude(altitude=low)
    assert air.oxygen_saturation_at_altitude(temperature=t, altitude=low + step) < air.oxygen_saturation_at_altitude(
        temperature=t, altitude=low
    )


def test_exponent_of_the_standard_atmosphere_follows_from_its_definition() -> None:
    """Gravity times molar mass over gas constant times lapse rate, with the values of 1976."""
    assert pytest.approx(9.80665 * 28.9644 / (8314.32 * 0.0065), abs=5e-6) == air.LAYER_EXPONENT


@given(oxygen=st.floats(0, 20), saturation=st.floats(5, 15))
@quick
def test_per_cent_and_milligrams_invert(oxygen: float, saturation: float) -> None:
    """Milligrams turned into per cent of saturation and back are unchanged."""
    share = air.percent_saturation(oxygen=oxygen, saturation=saturation)
    assert air.oxygen_from_percent(share_of_saturation=share, saturation=saturation) == pytest.approx(oxygen)


@given(feed=st.floats(1, 100_000), kept=st.floats(0, 40), protein=st.floats(20, 50))
@quick
def test_fish_that_keep_more_leave_less_to_oxidise(feed: float, kept: float, protein: float) -> None:
    """Every gram kept by the fish spares oxygen, and nothing kept asks for the full oxidation of the feed."""
    def demand(carbon: float, nitrogen: float) -> float:
        return air_demand.oxygen_demand_of_waste(
            daily_feed=feed, feed_carbon=40.0, carbon_kept=carbon, protein=protein, nitrogen_kept=nitrogen
        )

    assert demand(kept + 1, kept) < demand(kept, kept)
    assert demand(kept, kept + 1) < demand(kept, kept)
    assert demand(0.0, 0.0) == pytest.approx(2.67 * feed * 0.40 + 4.57 * feed * protein / 100 * 0.16)


def test_boyds_form_is_the_sum_of_breakdown_and_nitrification() -> None:
    """His rounded factors stand within 0.3 % of the stoichiometry of carbon and nitrogen."""
    whole = air_demand.oxygen_demand_of_waste(
        daily_feed=1000.0, feed_carbon=40.0, carbon_kept=10.0, protein=32.0, nitrogen_kept=25.0
    )
    parts = air_demand.oxygen_demand(
        fish=0.0, bacteria=chemistry_filter.nitrification_oxygen(nitrified=38.4),
        breakdown=air_demand.breakdown_oxygen(organic_carbon=360.0),
    )
    assert whole == pytest.approx(parts, rel=3e-3)


@given(carbon=st.floats(0.1, 100_000))
@quick
def test_carbon_burnt_and_carbon_dioxide_close_the_balance(carbon: float) -> None:
    """Carbon plus the oxygen it uses weighs as much as the carbon dioxide given off at a quotient of one."""
    oxygen = air_demand.breakdown_oxygen(organic_carbon=carbon)
    assert air_demand.carbon_dioxide_given_off(oxygen_used=oxygen) == pytest.approx(carbon + oxygen, rel=1e-9)


@given(demand=st.floats(10, 100_000), inflow=st.floats(6, 12), outflow=st.floats(2, 5.5))
@quick
def test_flow_brings_exactly_the_oxygen_used(demand: float, inflow: float, outflow: float) -> None:
    """Litres times the oxygen each gives up equal the demand."""
    flow = air_demand.flow_for_oxygen(oxygen_demand=demand, inflow_oxygen=inflow, outflow_oxygen=outflow)
    assert flow * 1440 * (inflow - outflow) / 1000 == pytest.approx(demand, rel=1e-9)


@pytest.mark.parametrize("outflow", [6.0, 7.5])
def test_flow_refuses_water_that_brings_no_oxygen(outflow: float) -> None:
    """An outflow as rich as the inflow, or richer, has no flow as answer."""
    with pytest.raises(OutOfRange, match="oxygen_drop"):
        air_demand.flow_for_oxygen(oxygen_demand=1000.0, inflow_oxygen=6.0, outflow_oxygen=outflow)


@given(t=temperatures, held=st.floats(0, 6), base=st.floats(1, 1.05))
@quick
def test_aerators_tire_near_saturation(t: float, held: float, base: float) -> None:
    """The field factor falls as the held oxygen rises, and is nothing at saturation."""
    def factor(oxygen: float) -> float:
        return air_supply.field_factor(
            transfer_ratio=0.9, saturation_ratio=1.0, transfer_base=base, temperature=t, clean_saturation=8.0,
            held_oxygen=oxygen,
        )

    assert factor(held + 0.5) < factor(held)
    assert factor(8.0) == pytest.approx(0.0, abs=1e-12)


@given(demand=st.floats(10, 100_000), efficiency=st.floats(0.1, 5))
@quick
def test_power_over_a_day_brings_the_oxygen_used(demand: float, efficiency: float) -> None:
    """Kilowatt hours of a day times the efficiency are the demand."""
    watts = air_supply.aeration_power(oxygen_demand=demand, field_efficiency=efficiency)
    assert watts / 1000 * 24 * efficiency * 1000 == pytest.approx(demand, rel=1e-9)


@given(t=st.floats(-20, 50), p=pressures, demand=st.floats(10, 10_000), efficiency=st.floats(1, 30))
@quick
def test_blown_air_holds_the_oxygen_that_dissolves(t: float, p: float, demand: float, efficiency: float) -> None:
    """The oxygen in the air blown in a day, times the share that dissolves, is the demand."""
    content = air_supply.oxygen_in_air(air_temperature=t, air_pressure=p)
    moles = p * 1000 / (constants.R * (t + constants.zero_Celsius))
    assert content == pytest.approx(0.20946 * moles * 31.998, rel=1e-9)
    flow = air_supply.air_flow_for_oxygen(
        oxygen_demand=demand, oxygen_content=content, transfer_efficiency=efficiency
    )
    assert flow * 1.44 * content * efficiency / 100 == pytest.approx(demand, rel=1e-9)


@pytest.mark.parametrize("temperature", [0.0, 10.0, 20.0, 30.0])
def test_water_is_no_lighter_than_its_range_says(temperature: float) -> None:
    """Fresh water between 0 and 30 degrees has the density that the constant and its range claim, by gsw."""
    density = gsw.rho(0.0, gsw.CT_from_t(0.0, temperature, 0.0), 0.0)
    assert air_supply.WATER_DENSITY.low < density < air_supply.WATER_DENSITY.high
    assert density / air_supply.WATER_DENSITY > 0.995


@given(depth=st.floats(0.05, 20), loss=st.floats(0, 50))
@quick
def test_blower_must_beat_the_water(depth: float, loss: float) -> None:
    """The blower's pressure is never below that of the water, and depth adds in proportion."""
    water = air_supply.water_pressure(depth=depth)
    assert air_supply.blower_pressure(depth=depth, pipe_loss=loss) == pytest.approx(water + loss)
    assert air_supply.water_pressure(depth=depth / 2) == pytest.approx(water / 2)


@given(length=st.floats(0.2, 15), submergence=st.floats(50, 99))
@quick
def test_submerged_length_and_lift_make_the_pipe(length: float, submergence: float) -> None:
    """The two parts add up to the pipe and give back its submergence ratio."""
    lift = air_lift.airlift_lift(pipe_length=length, submergence=submergence)
    under = air_lift.submerged_length(pipe_length=length, submergence=submergence)
    assert lift + under == pytest.approx(length, rel=1e-9)
    assert air_lift.submergence_ratio(submerged_length=under, lift=lift) == pytest.approx(submergence)


@given(flow=flows, depth=st.floats(0.05, 20), p=pressures)
@quick
def test_air_power_is_the_work_of_slow_compression(flow: float, depth: float, p: float) -> None:
    """The closed form equals the integral of volume over pressure, and lies below flow times water pressure."""
    cubic_metres = flow / 60_000
    top = p * 1000 + 1000 * 9.80665 * depth
    work, _ = integrate.quad(lambda pressure: p * 1000 * cubic_metres / pressure, p * 1000, top)
    found = air_lift.ideal_air_power(air_flow=flow, depth=depth, air_pressure=p)
    assert found == pytest.approx(work, rel=1e-6)
    assert found < cubic_metres * 1000 * 9.80665 * depth


@given(water=flows, lift=st.floats(0.01, 2), air_flow=flows, depth=st.floats(0.1, 5))
@quick
def test_efficiency_splits_the_air_power(water: float, lift: float, air_flow: float, depth: float) -> None:
    """Efficiency times ideal air power is the lifting power."""
    share = air_lift.airlift_efficiency(water_flow=water, lift=lift, air_flow=air_flow, depth=depth)
    power = air_lift.ideal_air_power(air_flow=air_flow, depth=depth)
    assert share / 100 * power == pytest.approx(air_lift.lifting_power(water_flow=water, lift=lift), rel=1e-9)


@given(lift=st.floats(0.5, 20), depth=st.floats(1, 100))
@quick
def test_deeper_injection_needs_less_air(lift: float, depth: float) -> None:
    """For one lift and constant, free air falls as the injector goes deeper."""
    def air_needed(submergence: float) -> float:
        return air_lift.free_air_for_airlift(lift=lift, submergence=submergence, air_head=34.0, constant=300.0)

    assert air_needed(depth + 1) < air_needed(depth)
