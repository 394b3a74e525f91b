"""Solids: settling, sludge and new water, whatever the numbers."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.solids import load as solids
from waterleaf.calc.solids import settling as solids_settling
from waterleaf.calc.solids import sludge as solids_sludge

MANY = settings(max_examples=100, deadline=None)
flows = st.floats(1, 5000)
areas = st.floats(0.05, 100)
captures = st.floats(0, 100)


@MANY
@given(fed=st.floats(10, 100_000), share=st.floats(10, 65), content=st.floats(0.1, 10), fill=st.floats(5, 100))
def test_a_flush_takes_the_solids_of_its_time(fed: float, share: float, content: float, fill: float) -> None:
    """Sludge flushed in the interval fills just the room of the cone, and carries the day's solids."""
    dry = solids.faecal_solids(daily_feed=fed, solids_share=share)
    sludge = solids.flush_volume(dry_solids=dry, sludge_solids=content)
    assert sludge * 10 * content == pytest.approx(dry, rel=1e-12)
    interval = solids.flush_interval(cone_volume=100.0, fill_share=fill, flush_volume=sludge)
    assert interval / 24 * sludge == pytest.approx(fill, rel=1e-9)


@MANY
@given(flow=flows, time=st.floats(1, 600))
def test_volume_and_retention_undo_each_other(flow: float, time: float) -> None:
    """The tank sized for a retention time has it."""
    volume = solids.settling_volume(water_flow=flow, retention_time=time)
    assert solids.retention_time(settling_volume=volume, water_flow=flow) == pytest.approx(time, rel=1e-12)


@MANY
@given(flow=flows, rate=st.floats(5, 2000))
def test_plan_area_and_overflow_rate_undo_each_other(flow: float, rate: float) -> None:
    """The area for an overflow rate gives that rate, and a circle of its diameter has that area."""
    area = solids_settling.plan_area_for_overflow(water_flow=flow, overflow_rate=rate)
    assert solids_settling.overflow_rate(water_flow=flow, plan_area=area) == pytest.approx(rate, rel=1e-12)
    diameter = solids_settling.clarifier_diameter(plan_area=area)
    assert math.pi * diameter**2 / 4 == pytest.approx(area, rel=1e-12)


@MANY
@given(velocity=st.floats(0.02, 50))
def test_a_particle_is_just_kept_at_its_own_overflow_rate(velocity: float) -> None:
    """The ratio of a particle to its own overflow rate is one, and half the rate doubles it."""
    rate = solids_settling.overflow_rate_of_particle(settling_velocity=velocity)
    assert solids_settling.settling_ratio(settling_velocity=velocity, overflow_rate=rate) == pytest.approx(1, rel=1e-12)
    halved = solids_settling.settling_ratio(settling_velocity=velocity, overflow_rate=rate / 2)
    assert halved == pytest.approx(2, rel=1e-12)


@MANY
@given(diameter=st.floats(1, 240), surplus=st.floats(5, 200), viscosity=st.floats(0.5, 1.7))
def test_stokes_velocity_balances_weight_and_drag(diameter: float, surplus: float, viscosity: float) -> None:
    """At the Stokes velocity the drag 3 pi mu d v equals the weight of the sphere in water."""
    velocity = solids_settling.stokes_velocity(
        diameter=diameter, particle_density=998.0 + surplus, water_density=998.0, viscosity=viscosity
    )
    drag = 3 * math.pi * viscosity / 1000 * diameter / 1e6 * velocity / 1000
    weight = math.pi / 6 * (diameter / 1e6) ** 3 * surplus * 9.80665
    assert drag == pytest.approx(weight, rel=1e-9)


def test_stokes_velocity_is_refused_beyond_its_law() -> None:
    """A coarse heavy grain is refused with its Reynolds number; a fine one passes and agrees with the formula."""
    with pytest.raises(OutOfRange, match=r"Reynolds number of .* outside the valid range of the law"):
        solids_settling.checked_settling(diameter=300.0, particle_density=2650.0, water_density=998.0, viscosity=1.0)
    (row,) = solids_settling.checked_settling(
        diameter=60.0, particle_density=1100.0, water_density=998.0, viscosity=1.0
    )
    assert row.velocity == solids_settling.stokes_velocity(
        diameter=60.0, particle_density=1100.0, water_density=998.0, viscosity=1.0
    )
    assert row.reynolds == pytest.approx(
        solids_settling.particle_reynolds(
            settling_velocity=row.velocity, diameter=60.0, water_density=998.0, viscosity=1.0
        ),
        rel=1e-12,
    )
    assert row.overflow_rate == solids_settling.overflow_rate_of_particle(settling_velocity=row.velocity)


@MANY
@given(dry=st.floats(1, 100_000), capture=captures)
def test_captured_and_escaped_solids_are_all_of_them(dry: float, capture: float) -> None:
    """What is kept and what goes on add up to what came."""
    kept = solids_settling.captured_solids(dry_solids=dry, capture=capture)
    gone = solids_settling.escaped_solids(dry_solids=dry, capture=capture)
    assert kept + gone == pytest.approx(dry, rel=1e-12)


@MANY
@given(inside=st.floats(1, 1000), capture=captures)
def test_capture_efficiency_comes_back_from_the_concentrations(inside: float, capture: float) -> None:
    """A settler that keeps a share leaves the rest in the water, and the share is read off it."""
    outside = inside * (1 - capture / 100)
    found = solids_settling.capture_efficiency(solids_in=inside, solids_out=outside)
    assert found == pytest.approx(capture, abs=1e-9)


@MANY
@given(dry=st.floats(10, 50_000), first=st.floats(0, 95), fine=st.floats(5, 100), content=st.floats(0.2, 8))
def test_fine_tank_gathers_what_the_clarifier_lets_through(
    dry: float, first: float, fine: float, content: float
) -> None:
    """Solids of the clarifier, of the fine tank and of the outflow add up to what came."""
    sludge = solids_sludge.fine_tank_sludge(
        dry_solids=dry, clarifier_capture=first, fine_capture=fine, sludge_solids=content
    )
    in_clarifier = solids_settling.captured_solids(dry_solids=dry, capture=first)
    escaped = dry - in_clarifier
    beyond = escaped * (1 - fine / 100)
    assert in_clarifier + sludge * 10 * content + beyond == pytest.approx(dry, rel=1e-9)


@MANY
@given(sludge=st.floats(0.1, 1000), days=st.floats(1, 300), spare=st.floats(0, 80))
def test_store_holds_the_sludge_and_leaves_the_spare_room(sludge: float, days: float, spare: float) -> None:
    """The filled share of the store is the sludge of its days."""
    store = solids_sludge.sludge_storage(sludge=sludge, days=days, spare=spare)
    assert store * 1000 * (1 - spare / 100) == pytest.approx(sludge * days, rel=1e-9)


@MANY
@given(volume=st.floats(10, 10_000), share=st.floats(1, 100), sludge=st.floats(0.1, 500))
def test_tank_is_full_to_its_share_when_it_is_cleaned(volume: float, share: float, sludge: float) -> None:
    """Sludge times the interval is the share of the tank that may fill."""
    interval = solids_sludge.cleaning_interval(tank_volume=volume, full_share=share, sludge=sludge)
    assert interval * sludge == pytest.approx(volume * share / 100, rel=1e-12)


@MANY
@given(content=st.floats(0.05, 15), density=st.floats(950, 1150))
def test_percent_solids_and_strength_are_one_thing(content: float, density: float) -> None:
    """Milligrams a litre that follow from a percentage give it back, at any density."""
    milligrams = content / 100 * density * 1000
    found = solids_sludge.sludge_solids_percent(suspended_solids=milligrams, sludge_density=density)
    assert found == pytest.approx(content, rel=1e-12)


@MANY
@given(share=st.floats(0.01, 100), volume=st.floats(0.1, 10_000))
def test_replacement_and_new_water_undo_each_other(share: float, volume: float) -> None:
    """New water for a share of the volume is that share of the volume."""
    water = solids_sludge.new_water_for_replacement(replacement=share, system_volume=volume)
    assert solids.replacement_share(new_water=water, system_volume=volume) == pytest.approx(share, rel=1e-12)


@MANY
@given(reused=st.floats(1, 10_000), first=st.floats(0, 5000), more=st.floats(0.1, 5000))
def test_more_new_water_means_less_recirculation(reused: float, first: float, more: float) -> None:
    """The degree of recirculation falls as new water rises, from 100 % at none."""
    low = solids_sludge.degree_of_recirculation(reused_flow=reused, new_flow=first)
    high = solids_sludge.degree_of_recirculation(reused_flow=reused, new_flow=first + more)
    assert high < low <= 100 + 1e-9
    assert solids_sludge.degree_of_recirculation(reused_flow=reused, new_flow=0.0) == pytest.approx(100)


@MANY
@given(production=st.floats(100, 1_000_000), use=st.floats(0.05, 50))
def test_new_water_flow_over_a_year_is_the_water_of_the_fish(production: float, use: float) -> None:
    """The hourly flow over 8,760 hours is the water that the year's fish take."""
    flow = solids_sludge.new_water_flow(production=production, water_use=use)
    assert flow * 8760 == pytest.approx(solids_sludge.water_for_fish(fish=production, water_use=use), rel=1e-12)
