"""Scale: duty scaling, like shapes, and the published raft system."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waterleaf.calc.loop import turnover as loop
from waterleaf.calc.scale import factors as scale
from waterleaf.calc.scale import system as scale_system
from waterleaf.calc.sources import SOURCES

fast = settings(max_examples=100, deadline=None)
factors = st.floats(0.05, 10.0)


@fast
@given(size=st.floats(1.0, 1000.0), factor=factors)
def test_scale_factor_and_scaled_size_invert(size: float, factor: float) -> None:
    """The factor found from a scaled size is the factor that scaled it."""
    area = scale.scaled_area(reference_area=size, scale=factor)
    assert scale.scale_by_area(wished_area=area, reference_area=size) == pytest.approx(factor, rel=1e-9)
    volume = scale.scaled_volume(reference_volume=size * 100, scale=factor)
    found = scale.scale_by_volume(wished_volume=volume, reference_volume=size * 100)
    assert found == pytest.approx(factor, rel=1e-9)
    feed = scale.scaled_feed(reference_feed=size * 10, scale=factor)
    found = scale.scale_by_feed(wished_feed=feed, reference_feed=size * 10)
    assert found == pytest.approx(factor, rel=1e-9)
    flow = scale.scaled_flow(reference_flow=size, scale=factor)
    assert scale.scale_by_flow(wished_flow=flow, reference_flow=size) == pytest.approx(factor, rel=1e-9)


@fast
@given(length=st.floats(0.05, 20.0))
def test_length_area_and_volume_scales_are_of_one_family(length: float) -> None:
    """From length to volume and back, and area by either way."""
    volume = scale.volume_scale(length_scale=length)
    assert scale.length_scale_for_volume(volume_scale=volume) == pytest.approx(length, rel=1e-9)
    area = scale.area_scale(length_scale=length)
    assert scale.area_scale_for_volume(volume_scale=volume) == pytest.approx(area, rel=1e-9)
    assert scale.surface_scale(volume_scale=volume) == pytest.approx(1 / length, rel=1e-9)


@fast
@given(diameter=st.floats(0.5, 10.0), depth=st.floats(0.3, 3.0), factor=st.floats(0.01, 5.0))
def test_a_shrunk_tank_holds_the_share_it_was_shrunk_to(diameter: float, depth: float, factor: float) -> None:
    """Lengths found for a share of the volume give a tank of that share."""
    full = loop.round_tank_volume(diameter=diameter, water_depth=depth)
    small = loop.round_tank_volume(
        diameter=scale.shrunk_length(reference_length=diameter, volume_scale=factor),
        water_depth=scale.shrunk_length(reference_length=depth, volume_scale=factor),
    )
    assert small == pytest.approx(full * factor, rel=1e-9)


@fast
@given(factor=st.floats(0.001, 0.999), rate=st.floats(5.0, 500.0))
def test_a_smaller_like_clarifier_has_a_lower_overflow_rate(factor: float, rate: float) -> None:
    """At the same retention the overflow rate falls as the length does."""
    found = scale.shrunk_overflow_rate(reference_overflow=rate, volume_scale=factor, flow_scale=factor)
    assert found < rate
    assert found == pytest.approx(rate * scale.length_scale_for_volume(volume_scale=factor), rel=1e-9)


def test_volumes_of_the_published_system_sum_to_the_printed_total() -> None:
    """The parts of the table sum to 111 m3, which the page rounds to 110."""
    volumes = [
        part.value for part in scale_system.RAFT_SYSTEM if part.measure == "volume" for _ in range(part.count)
    ]
    assert loop.system_volume(tank_volumes=volumes) == pytest.approx(111_219.0)
    assert round(loop.system_volume(tank_volumes=volumes), -4) == 110_000.0


def test_printed_figures_of_the_published_system_agree_with_each_other() -> None:
    """Tank dimensions, volumes and retention times of three publications fit together."""
    tank = scale_system.component("rearing tank", "volume")
    across, wall = (scale_system.component("rearing tank", what) for what in ("diameter", "wall height"))
    brim = loop.round_tank_volume(diameter=across.value, water_depth=wall.value)
    assert tank.value < brim
    flow = scale_system.component("flow through a rearing tank", "flow")
    assert loop.turnover_time(tank_volume=tank.value, flow=flow.value) == pytest.approx(1.37, abs=0.005)
    clarifiers = scale_system.component("clarifier", "volume").total
    assert loop.turnover_time(tank_volume=clarifiers, flow=flow.total) * 60 == pytest.approx(20.0, abs=0.05)
    rafts = scale_system.component("raft tank", "volume").total
    assert loop.turnover_time(tank_volume=rafts, flow=flow.total) == pytest.approx(3.0, abs=0.005)


def test_air_stones_of_the_published_system_count_as_printed() -> None:
    """Four times 22 and six times 24 stones are 232."""
    stones = [part.total for part in scale_system.RAFT_SYSTEM if part.measure == "count"]
    assert sum(stones) == 232


def test_every_figure_of_the_published_system_has_a_known_source_and_an_honest_status() -> None:
    """Each component cites a publication of the list; what is remembered is marked so and never as read."""
    for part in scale_system.RAFT_SYSTEM:
        assert part.source.key in SOURCES
        assert part.source.status in {"read", "computed", "memory"}
    remembered = {(part.name, part.measure) for part in scale_system.RAFT_SYSTEM if part.source.status == "memory"}
    assert ("clarifier", "diameter") in remembered
    assert ("growing area", "area") not in remembered


@fast
@given(factor=factors)
def test_components_scale_by_the_factor(factor: float) -> None:
    """Each and total take the factor, and the number of pieces stays."""
    for row in scale_system.scaled_components(scale=factor):
        assert row.scaled_total == pytest.approx(row.reference_total * factor, rel=1e-12)
        assert row.scaled_total == pytest.approx(row.scaled_each * row.count, rel=1e-12)


@fast
@given(factor=factors)
def test_ratios_hold_by_duty_and_break_in_like_shape(factor: float) -> None:
    """Duty keeps every ratio; like shape keeps those of volumes and flow alone, and breaks those of areas."""
    rows = {row.ratio: row for row in scale_system.scaled_ratios(scale=factor)}
    assert all(row.holds_by_duty for row in rows.values())
    shape = {name for name, row in rows.items() if row.holds_by_shape}
    if math.isclose(factor, 1.0, rel_tol=1e-8):
        assert shape == set(rows)
        return
    assert shape == {
        "retention in the rearing tanks", "retention in the clarifiers", "retention in the raft tanks",
        "feed for each litre of rearing volume",
    }


def test_a_ratio_that_rests_on_memory_says_so() -> None:
    """The overflow rate uses a remembered diameter; it agrees with the figure worked from it by hand."""
    rows = {row.ratio: row for row in scale_system.scaled_ratios(scale=0.1)}
    overflow = rows["overflow rate of the clarifiers"]
    assert overflow.status == "memory"
    assert overflow.reference == pytest.approx(103.8, abs=0.05)
    assert overflow.by_shape == pytest.approx(48.2, abs=0.05)
    assert rows["feed for each square metre of bed"].status == "read"
    assert rows["feed for each square metre of bed"].reference == pytest.approx(60.0)


@fast
@given(bore=st.floats(20.0, 200.0), factor=st.floats(0.05, 5.0))
def test_scaled_bore_keeps_flow_over_area(bore: float, factor: float) -> None:
    """The area of the bore takes the factor of the flow."""
    found = scale_system.bore_at_same_velocity(reference_bore=bore, flow_scale=factor)
    assert (found / bore) ** 2 == pytest.approx(factor, rel=1e-9)
