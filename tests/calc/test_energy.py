"""Energy: heat, fuel, ventilation, sun and light."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from waterleaf.calc.energy import air as energy_air
from waterleaf.calc.energy import cover as energy_cover
from waterleaf.calc.energy import fuel as energy_fuel
from waterleaf.calc.energy import light as energy_light
from waterleaf.calc.energy import sun as energy_sun
from waterleaf.calc.energy import warmth as energy
from waterleaf.calc.energy import water as energy_water
from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sources import SOURCES

fast = settings(max_examples=100, deadline=None)
PARTS = ("energy_air", "energy_cover", "energy_fuel", "energy_light", "energy_sun", "energy_water")
latitudes = st.floats(-60.0, 60.0)
declinations = st.floats(-23.45, 23.45)
days = st.integers(1, 365).map(float)


@fast
@given(resistance=st.floats(0.05, 5.0))
def test_u_value_of_an_r_value_turns_back_into_it(resistance: float) -> None:
    """The reciprocal of the reciprocal is the start."""
    u_value = energy.u_value_from_resistance(resistance=resistance)
    assert energy.u_value_from_resistance(resistance=u_value) == pytest.approx(resistance, rel=1e-12)


@fast
@given(inside=st.floats(0.0, 30.0), outside=st.floats(-30.0, 29.0))
def test_house_loss_is_cover_plus_leaks_and_changes_sign_with_the_difference(inside: float, outside: float) -> None:
    """The loss in one go is the sum of its parts, positive when it is warmer inside and the opposite otherwise."""
    air = {"inside_temperature": inside, "outside_temperature": outside}
    cover = energy.cover_heat_loss(u_value=3.4, cover_area=360.0, **air)
    leaks = energy.leakage_heat_loss(house_volume=630.0, air_changes=1.2, **air)
    whole = energy.house_heat_loss(u_value=3.4, cover_area=360.0, house_volume=630.0, air_changes=1.2, **air)
    assert whole == pytest.approx(cover + leaks, rel=1e-12)
    assert (whole > 0) == (inside > outside)


def test_cover_table_agrees_with_the_single_relations() -> None:
    """Each row's loss and saving equal those found singly from the printed resistance, and its source is known."""
    house = {"cover_area": 360.7, "inside_temperature": 15.0, "outside_temperature": -10.0}
    rows = energy_cover.cover_comparison(**house)
    for row, cover in zip(rows, energy_cover.COVERS, strict=True):
        u_value = energy.u_value_from_us(us_u_value=1 / cover.us_resistance)
        loss = energy.cover_heat_loss(u_value=u_value, **house)
        assert row.heat_loss == pytest.approx(loss, rel=1e-12)
        saving = energy.heat_saving(loss_before=rows[0].heat_loss, loss_after=loss)
        assert row.saving == pytest.approx(saving, abs=1e-9)
        assert row.source.key in SOURCES
    by_name = {row.cover: row.u_value for row in rows}
    best_first = ["five walls", "triple wall, 8 mm", "twin wall, 8 mm", "twin wall, 6 mm", "single glass"]
    assert sorted(best_first, key=by_name.__getitem__) == best_first


@fast
@given(width=st.floats(2.0, 30.0), rise=st.floats(0.2, 8.0), length=st.floats(2.0, 100.0), eave=st.floats(0.5, 6.0))
def test_cover_is_more_than_the_floor_and_the_walls(width: float, rise: float, length: float, eave: float) -> None:
    """A gable roof is larger than the floor under it, by which the common slip of taking the floor area is seen."""
    cover = energy.gable_cover_area(house_length=length, house_width=width, eave=eave, rise=rise)
    assert cover > length * width + 2 * (length + width) * eave
    flat = energy.gable_cover_area(house_length=length, house_width=width, eave=eave, rise=0.05)
    assert cover > flat


@fast
@given(volume=st.floats(10.0, 1e6), change=st.floats(0.1, 40.0))
def test_heat_and_change_of_temperature_invert(volume: float, change: float) -> None:
    """The heat that warms water by some degrees warms it by those degrees."""
    heat = energy_water.water_heating(water_volume=volume, temperature_change=change)
    assert energy_water.water_temperature_change(heat=heat, water_volume=volume) == pytest.approx(change, rel=1e-9)


@fast
@given(water=st.floats(10.0, 35.0), air=st.floats(0.0, 35.0))
def test_water_warms_the_air_only_when_it_is_warmer(water: float, air: float) -> None:
    """The gain has the sign of the difference, so that heat never runs uphill."""
    gain = energy_water.water_to_air_gain(
        surface_area=10.0, surface_coefficient=11.0, water_temperature=water, air_temperature=air
    )
    assert (gain > 0) == (water > air)


@fast
@given(heat=st.floats(1.0, 1e5), content=st.floats(0.5, 5000.0), efficiency=st.floats(30.0, 100.0))
def test_fuel_found_gives_back_the_heat(heat: float, content: float, efficiency: float) -> None:
    """Fuel times heat content times efficiency is the heat that was needed."""
    fuel = energy_fuel.fuel_needed(heat_needed=heat, heat_content=content, efficiency=efficiency)
    assert fuel * content * efficiency / 100 == pytest.approx(heat, rel=1e-9)


@fast
@given(heat=st.floats(1.0, 1e5), price=st.floats(0.05, 400.0), content=st.floats(0.5, 5000.0))
def test_price_of_heat_times_heat_is_the_cost(heat: float, price: float, content: float) -> None:
    """Two ways to the cost of a heat agree."""
    cost = energy_fuel.fuel_cost(heat_needed=heat, heat_content=content, efficiency=80.0, fuel_price=price)
    each = energy_fuel.heat_price(fuel_price=price, heat_content=content, efficiency=80.0)
    assert cost == pytest.approx(heat * each, rel=1e-9)


def test_fuel_comparison_puts_the_printed_prices_in_order() -> None:
    """Corn, gas, pellets, oil, propane: the order of a printed comparison at 80 %, with its cost of a million Btu."""
    per_kwh = 3412.14
    prices = [1.35, 235.0, 3.41, 2.77, 2.74]
    contents = [100_000 / per_kwh, 16_000_000 / per_kwh, 392_000 / per_kwh, 139_000 / per_kwh, 91_690 / per_kwh]
    rows = energy_fuel.fuel_comparison(
        heat_needed=1_000_000 / per_kwh, fuel_prices=prices, heat_contents=contents, efficiencies=[80.0] * 5
    )
    assert [row.fuel for row in rows] == [3, 1, 2, 4, 5]
    assert [row.cost for row in rows] == pytest.approx([10.87, 16.88, 18.36, 24.91, 37.35], abs=0.006)
    with pytest.raises(OutOfRange, match="efficiencies: 2 given for 1"):
        energy_fuel.fuel_comparison(heat_needed=1.0, fuel_prices=[1.0], heat_contents=[1.0], efficiencies=[80.0, 90.0])


@fast
@given(side=st.floats(0.1, 50.0), roof=st.floats(0.1, 50.0))
def test_effective_vent_area_is_below_the_smaller_opening(side: float, roof: float) -> None:
    """Air that passes two openings in a row is held up by both, and it does not matter which comes first."""
    area = energy_air.stack_vent_area(side_vents=side, roof_vents=roof)
    assert area < min(side, roof)
    assert area == pytest.approx(energy_air.stack_vent_area(side_vents=roof, roof_vents=side), rel=1e-12)
    assert 1 / area**2 == pytest.approx(1 / side**2 + 1 / roof**2, rel=1e-9)


@fast
@given(area=st.floats(0.1, 50.0), height=st.floats(0.5, 6.0), rise=st.floats(0.5, 20.0))
def test_stack_flow_and_vent_area_invert_and_grow_with_the_square_root(area: float, height: float, rise: float) -> None:
    """The area found for a flow is the area it came from; four times the height gives twice the flow."""
    house = {"temperature_rise": rise, "inside_temperature": 25.0, "discharge": 0.6}
    flow = energy_air.stack_airflow(vent_area=area, vent_height=height, **house)
    assert energy_air.vent_area_for_airflow(airflow=flow, vent_height=height, **house) == pytest.approx(area, rel=1e-9)
    taller = energy_air.stack_airflow(vent_area=area, vent_height=4 * height, **house)
    assert taller == pytest.approx(2 * flow, rel=1e-9)


@fast
@given(heat=st.floats(1000.0, 3e4), rise=st.floats(0.5, 20.0))
def test_airflow_for_a_heat_carries_that_heat(heat: float, rise: float) -> None:
    """The air that was found, taken as leakage, loses just the heat to be carried off."""
    flow = energy_air.airflow_for_heat(surplus_heat=heat, temperature_rise=rise)
    volume = 1000.0
    changes = energy_air.air_changes(airflow=flow, house_volume=volume)
    lost = energy.leakage_heat_loss(
        house_volume=volume, air_changes=changes, inside_temperature=rise, outside_temperature=0.0
    )
    assert lost == pytest.approx(heat, rel=1e-9)


@fast
@given(day=days)
def test_declination_equations_stay_together(day: float) -> None:
    """Cooper and the FAO stay within 1.7 degrees of Spencer, and all within the tilt of the earth."""
    spencer = energy_sun.solar_declination_spencer(day=day)
    for other in (energy_sun.solar_declination(day=day), energy_sun.solar_declination_fao(day=day)):
        assert other == pytest.approx(spencer, abs=1.7)
        assert abs(other) <= 23.46
    assert abs(spencer) <= 23.5


@fast
@given(latitude=latitudes, declination=declinations)
def test_day_and_opposite_season_make_a_whole_day(latitude: float, declination: float) -> None:
    """Day length in one season and in the opposite one add up to 24 hours."""
    day = energy_sun.day_length(latitude=latitude, declination=declination)
    night = energy_sun.day_length(latitude=latitude, declination=-declination)
    assert day + night == pytest.approx(24.0, abs=1e-9)


def test_midnight_sun_and_polar_night_are_whole_days() -> None:
    """Beyond the polar circle the day is 24 or 0 hours long instead of an error."""
    assert energy_sun.day_length(latitude=75.0, declination=23.0) == pytest.approx(24.0)
    assert energy_sun.day_length(latitude=75.0, declination=-23.0) == pytest.approx(0.0)


@fast
@given(latitude=latitudes, declination=declinations)
def test_noon_height_is_the_height_at_hour_angle_nought(latitude: float, declination: float) -> None:
    """The formula for noon and the one for any hour agree at noon, where the sun is highest."""
    noon = energy_sun.noon_altitude(latitude=latitude, declination=declination)
    at_noon = energy_sun.solar_altitude(latitude=latitude, declination=declination, hour_angle=0.0)
    assert at_noon == pytest.approx(noon, abs=1e-5)
    later = energy_sun.solar_altitude(latitude=latitude, declination=declination, hour_angle=20.0)
    assert later < noon


@fast
@given(latitude=latitudes, declination=declinations)
def test_sun_stands_on_the_horizon_at_sunset(latitude: float, declination: float) -> None:
    """At the sunset hour angle the height is zero."""
    sunset = energy_sun.sunset_hour_angle(latitude=latitude, declination=declination)
    height = energy_sun.solar_altitude(latitude=latitude, declination=declination, hour_angle=sunset)
    assert height == pytest.approx(0.0, abs=1e-9)


@fast
@given(latitude=latitudes, declination=declinations, hour=st.floats(-90.0, 90.0))
def test_azimuth_agrees_with_the_sine_rule(latitude: float, declination: float, hour: float) -> None:
    """The sine of the bearing is the sine of the hour angle times cosine of declination over cosine of height."""
    height = energy_sun.solar_altitude(latitude=latitude, declination=declination, hour_angle=hour)
    assume(2.0 < height < 80.0)
    bearing = energy_sun.solar_azimuth(latitude=latitude, declination=declination, altitude=height)
    sine = math.sin(math.radians(abs(hour))) * math.cos(math.radians(declination)) / math.cos(math.radians(height))
    assert math.sin(math.radians(bearing)) == pytest.approx(sine, abs=1e-6)


@fast
@given(latitude=st.floats(25.0, 55.0), declination=declinations, bearing=st.floats(-90.0, 90.0))
def test_shadow_table_agrees_with_the_single_relations(latitude: float, declination: float, bearing: float) -> None:
    """Height, length and reach of each hour equal those found singly, and the day is even about noon."""
    rows = energy_sun.row_shadows(latitude=latitude, declination=declination, row_height=2.0, row_bearing=bearing)
    hours = [row.solar_time for row in rows]
    assert hours == [24 - hour for hour in reversed(hours)]
    for row in rows:
        turn = energy_sun.hour_angle(solar_time=row.solar_time)
        height = energy_sun.solar_altitude(latitude=latitude, declination=declination, hour_angle=turn)
        assert row.altitude == pytest.approx(height, abs=1e-6)
        assert abs(row.bearing) == pytest.approx(
            energy_sun.solar_azimuth(latitude=latitude, declination=declination, altitude=height), abs=1e-4
        )
        assert row.length == pytest.approx(energy_sun.shadow_length(row_height=2.0, altitude=height), rel=1e-6)
        angle = abs(row.bearing - bearing) % 180
        across = energy_sun.shadow_across_row(row_height=2.0, altitude=height, row_angle=angle)
        assert row.across == pytest.approx(across, rel=1e-6, abs=1e-9)


def test_a_north_south_row_shades_nothing_at_noon() -> None:
    """The noon shadow of a north-south row lies along the row; that of an east-west row lies square to it."""
    along, square = (
        {row.solar_time: row for row in energy_sun.row_shadows(
            latitude=45.0, declination=-10.0, row_height=2.0, row_bearing=bearing
        )}[12.0]
        for bearing in (0.0, 90.0)
    )
    assert along.across == pytest.approx(0.0, abs=1e-12)
    assert square.across == pytest.approx(square.length)


@fast
@given(flux=st.floats(10.0, 2000.0), hours=st.floats(1.0, 24.0))
def test_light_integral_and_photon_flux_invert(flux: float, hours: float) -> None:
    """The flux found for an integral is the flux that gave it."""
    integral = energy_light.daily_light_integral(photon_flux=flux, light_hours=hours)
    assume(0.5 <= integral <= 80)
    assert energy_light.photon_flux_for_integral(wished_integral=integral, light_hours=hours) == pytest.approx(flux)


@fast
@given(outdoor=st.floats(20.0, 60.0), transmission=st.floats(40.0, 95.0), wish=st.floats(1.0, 7.0))
def test_shade_found_gives_the_wished_light(outdoor: float, transmission: float, wish: float) -> None:
    """Light under the shade that was found is the light that was wished."""
    shade = energy_light.shade_for_integral(
        wished_integral=wish, outdoor_integral=outdoor, transmission=transmission
    )
    found = energy_light.light_under_cover(outdoor_integral=outdoor, transmission=transmission, shade=shade)
    assert found == pytest.approx(wish, rel=1e-9)


@fast
@given(wish=st.floats(10.0, 30.0), natural=st.floats(0.0, 9.0), hours=st.floats(4.0, 20.0))
def test_lamps_and_sun_together_give_the_wish(wish: float, natural: float, hours: float) -> None:
    """The integral of the lamps' flux and of the sun add up to the wish."""
    flux = energy_light.lamp_photon_flux(wished_integral=wish, natural_integral=natural, light_hours=hours)
    lamps = energy_light.daily_light_integral(photon_flux=flux, light_hours=hours)
    assert lamps + natural == pytest.approx(wish, rel=1e-9)


def test_mass_of_water_holds_more_heat_than_the_air_of_the_house() -> None:
    """A cubic metre of water takes up some three and a half thousand times what a cubic metre of air does."""
    water = energy_water.water_heating(water_volume=1000.0, temperature_change=1.0) * 1000
    air = energy.leakage_heat_loss(house_volume=1.0, air_changes=1.0, inside_temperature=1.0, outside_temperature=0.0)
    assert water / air == pytest.approx(3471.0, abs=1.0)
