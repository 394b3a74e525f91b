"""The loop: tanks, turnover, drain-down, division of the flow, pipes and pumps."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from waterleaf.calc.loop import head as loop_head
from waterleaf.calc.loop import levels as loop_levels
from waterleaf.calc.loop import pipe as loop_pipe
from waterleaf.calc.loop import power as loop_power
from waterleaf.calc.loop import split as loop_split
from waterleaf.calc.loop import turnover as loop
from waterleaf.calc.quantity import OutOfRange

fast = settings(max_examples=100, deadline=None)
PARTS = ("loop_head", "loop_levels", "loop_pipe", "loop_power", "loop_split")
litres = st.floats(100.0, 1e6)
flows = st.floats(0.1, 1e4)
bores = st.floats(15.0, 300.0)


@fast
@given(volume=litres, flow=flows)
def test_turnover_time_and_turnovers_a_day_are_two_views_of_one_thing(volume: float, flow: float) -> None:
    """Turnover time in hours times turnovers a day is a day."""
    time = loop.turnover_time(tank_volume=volume, flow=flow)
    turnovers = loop.turnovers_per_day(tank_volume=volume, flow=flow)
    assert time * turnovers == pytest.approx(24.0, rel=1e-9)


@fast
@given(volume=litres, turnovers=st.floats(0.5, 500.0))
def test_flow_for_turnovers_gives_those_turnovers(volume: float, turnovers: float) -> None:
    """The flow found for some turnovers turns the tank over that often."""
    flow = loop.flow_for_turnovers(tank_volume=volume, turnovers=turnovers)
    assert loop.turnovers_per_day(tank_volume=volume, flow=flow) == pytest.approx(turnovers, rel=1e-9)


@fast
@given(diameter=st.floats(0.5, 20.0), depth=st.floats(0.05, 5.0))
def test_depth_of_a_round_tank_inverts_its_volume(diameter: float, depth: float) -> None:
    """Filling a tank to a depth and asking for the depth gives it back."""
    volume = loop.round_tank_volume(diameter=diameter, water_depth=depth)
    assert loop.round_tank_depth(tank_volume=volume, diameter=diameter) == pytest.approx(depth, rel=1e-9)


@fast
@given(diameter=st.floats(0.5, 20.0), depth=st.floats(0.05, 5.0))
def test_a_cone_holds_a_third_of_its_cylinder(diameter: float, depth: float) -> None:
    """Three cones of water fill the cylinder of the same height."""
    cone = loop.cone_volume(diameter=diameter, cone_depth=depth)
    assert 3 * cone == pytest.approx(loop.round_tank_volume(diameter=diameter, water_depth=depth), rel=1e-9)


@fast
@given(
    areas=st.lists(st.floats(0.1, 100.0), min_size=1, max_size=8), fall=st.floats(1.0, 200.0),
    pipe=st.floats(0.0, 500.0),
)
def test_drain_down_table_agrees_with_the_single_relations(areas: list[float], fall: float, pipe: float) -> None:
    """The table's total is the sum of what each bed and the pipes give, and its last room is the spare volume."""
    rows = loop_levels.drain_down_table(
        bed_areas=areas, depths=[fall] * len(areas), void_shares=[100.0] * len(areas), pipe_drain=pipe,
        free_volume=5000.0,
    )
    rafts = math.fsum(loop_levels.raft_drain_down(bed_plan=area, level_fall=fall) for area in areas)
    total = loop_levels.drain_down_volume(raft_drain=rafts, media_drain=0.0, pipe_drain=pipe)
    assert rows[-1].running_total == pytest.approx(total, rel=1e-9)
    spare = loop_levels.spare_sump_volume(free_volume=5000.0, drain_down=total)
    assert rows[-1].room_left == pytest.approx(spare, rel=1e-9, abs=1e-6)


def test_drain_down_table_takes_the_void_share_of_media_beds() -> None:
    """The published sum of three gravel beds and a pipe comes out bed by bed."""
    rows = loop_levels.drain_down_table(
        bed_areas=[1.08] * 3, depths=[250.0] * 3, void_shares=[40.0] * 3, pipe_drain=23.6, free_volume=300.0
    )
    assert [row.source for row in rows] == ["bed 1", "bed 2", "bed 3", "pipes"]
    assert [row.volume for row in rows] == pytest.approx([108.0, 108.0, 108.0, 23.6])
    assert rows[-1].room_left == pytest.approx(-47.6)


def test_lists_of_unlike_length_are_refused() -> None:
    """A depth, a void share or a bore that is missing is named."""
    with pytest.raises(OutOfRange, match="void_shares: 1 given for 2 beds"):
        loop_levels.drain_down_table(
            bed_areas=[1.0, 1.0], depths=[20.0, 20.0], void_shares=[100.0], pipe_drain=0.0, free_volume=100.0
        )
    with pytest.raises(OutOfRange, match="depths: 3 given"):
        loop_levels.drain_down_table(
            bed_areas=[1.0, 1.0], depths=[20.0] * 3, void_shares=[100.0] * 2, pipe_drain=0.0, free_volume=100.0
        )
    with pytest.raises(OutOfRange, match="bores: 1 given for 2"):
        loop_split.standpipe_split(flow=10.0, rim_heights=[0.0, 0.0], bores=[50.0])


@fast
@given(flow=flows, openings=st.lists(st.floats(5.0, 100.0), min_size=1, max_size=8))
def test_orifice_flows_add_up_to_the_whole(flow: float, openings: list[float]) -> None:
    """What the openings take together is the flow that was divided."""
    taken = [loop_split.orifice_bed_flow(flow=flow, opening=each, openings=openings) for each in openings]
    assert math.fsum(taken) == pytest.approx(flow, rel=1e-9)


@fast
@given(flow=st.floats(1.0, 500.0), rims=st.lists(st.floats(0.0, 60.0), min_size=1, max_size=6), bore=bores)
def test_standpipe_flows_close_and_lower_rims_take_more(flow: float, rims: list[float], bore: float) -> None:
    """The flows add up to the whole, and no pipe takes less than one with a higher rim."""
    rows = loop_split.standpipe_split(flow=flow, rim_heights=rims, bores=[bore] * len(rims))
    assert math.fsum(row.flow for row in rows) == pytest.approx(flow, rel=1e-9)
    assert math.fsum(row.share for row in rows) == pytest.approx(100.0, rel=1e-9)
    ranked = sorted(rows, key=lambda row: row.rim_height)
    assert all(low.flow >= high.flow for low, high in itertools.pairwise(ranked))


def test_equal_rims_share_equally() -> None:
    """With rims at one height the table gives the even split, wherever that height lies."""
    even = loop_split.equal_standpipe_flow(flow=60.0, beds=4)
    for height in (0.0, 40.0):
        rows = loop_split.standpipe_split(flow=60.0, rim_heights=[height] * 4, bores=[50.0] * 4)
        assert [row.flow for row in rows] == pytest.approx([even] * 4, rel=1e-9)


def test_standpipe_split_finds_the_level_that_scipy_finds() -> None:
    """The level over unlike rims and bores agrees with a root of the sum of the weir flows, worked in millimetres."""
    rims, pipes, flow = [0.0, 6.0, 11.0], [50.0, 75.0, 40.0], 90.0

    def surplus(level: float) -> float:
        return flow - sum(
            2 / 3 * 0.61 * math.pi * bore * (level - rim) ** 1.5 * math.sqrt(2 * 9806.65) * 60e-6
            for rim, bore in zip(rims, pipes, strict=True) if level > rim
        )

    level = brentq(surplus, 0.0, 500.0, xtol=1e-10)
    rows = loop_split.standpipe_split(flow=flow, rim_heights=rims, bores=pipes)
    assert [row.water_over_rim for row in rows] == pytest.approx([level - rim for rim in rims], abs=1e-6)


@fast
@given(start=st.floats(0.2, 3.0), fall=st.floats(0.05, 0.95), opening=st.floats(10.0, 80.0))
def test_drain_time_is_the_integral_over_the_falling_level(start: float, fall: float, opening: float) -> None:
    """Closed form and numerical integration of area over flow agree."""
    end = start * (1 - fall)

    def minutes_for_a_metre(level: float) -> float:
        # a square metre of surface holds 1,000 L for each metre of depth
        return 1000.0 / loop_split.orifice_flow(opening=opening, head=level, discharge=0.62)

    whole, _ = quad(minutes_for_a_metre, end, start, epsrel=1e-10)
    found = loop_split.drain_time(tank_surface=1.0, opening=opening, start_head=start, end_head=end, discharge=0.62)
    assert found == pytest.approx(whole, rel=1e-7)


@fast
@given(flow=st.floats(5.0, 2000.0), velocity=st.floats(0.2, 3.0))
def test_bore_for_a_velocity_gives_that_velocity(flow: float, velocity: float) -> None:
    """Water in the bore that was found runs at the velocity that was wished."""
    bore = loop_pipe.bore_for_velocity(flow=flow, velocity=velocity)
    assert loop_pipe.pipe_velocity(flow=flow, bore=bore) == pytest.approx(velocity, rel=1e-9)


def colebrook(reynolds: float, roughness: float) -> float:
    """Friction factor of the implicit Colebrook equation, by root finding."""

    def gap(root: float) -> float:
        return root + 2 * math.log10(roughness / 3.7 + 2.51 * root / reynolds)

    return float(brentq(gap, 1.0, 100.0)) ** -2


@fast
@given(reynolds=st.floats(5e3, 1e8), roughness=st.floats(1e-6, 0.05))
def test_explicit_friction_factors_stay_near_colebrook(reynolds: float, roughness: float) -> None:
    """Swamee and Jain stay within 3 %, Haaland within 1.5 % of the implicit equation, as their notes say."""
    exact = colebrook(reynolds, roughness)
    swamee = loop_pipe.friction_factor_swamee_jain(reynolds=reynolds, relative_roughness=roughness)
    haaland = loop_pipe.friction_factor_haaland(reynolds=reynolds, relative_roughness=roughness)
    assert swamee == pytest.approx(exact, rel=0.03)
    assert haaland == pytest.approx(exact, rel=0.015)


@fast
@given(flow=st.floats(90.0, 400.0), more=st.floats(1.05, 3.0), bore=st.floats(30.0, 80.0))
def test_friction_grows_with_flow_and_falls_with_bore(flow: float, more: float, bore: float) -> None:
    """Both friction formulas rise with the flow and fall with the bore."""
    for head in (
        lambda flow, bore: loop_pipe.friction_head_darcy_weisbach(flow=flow, pipe_run=10.0, bore=bore, roughness=0.01),
        lambda flow, bore: loop_head.friction_head_hazen_williams(
            flow=flow, pipe_run=10.0, bore=bore, hazen_coefficient=150.0
        ),
    ):
        assert head(flow * more, bore) > head(flow, bore)
        assert head(flow, bore * more) < head(flow, bore)


@fast
@given(flow=st.floats(100.0, 800.0), bore=st.floats(40.0, 110.0))
def test_the_two_friction_formulas_agree_for_plastic_pipe(flow: float, bore: float) -> None:
    """For smooth pipe at velocities of the trade the two formulas are within a fifth of each other."""
    velocity = loop_pipe.pipe_velocity(flow=flow, bore=bore)
    if not 0.5 < velocity < 2.5:
        return
    darcy = loop_pipe.friction_head_darcy_weisbach(flow=flow, pipe_run=10.0, bore=bore, roughness=0.0015)
    hazen = loop_head.friction_head_hazen_williams(flow=flow, pipe_run=10.0, bore=bore, hazen_coefficient=150.0)
    assert hazen == pytest.approx(darcy, rel=0.2)


def test_slow_flow_is_refused_by_the_turbulent_formula() -> None:
    """A trickle in a wide pipe lies outside the formula's range, and the message names the Reynolds number."""
    with pytest.raises(OutOfRange, match="reynolds"):
        loop_pipe.friction_head_darcy_weisbach(flow=1.0, pipe_run=10.0, bore=50.0, roughness=0.01)


@fast
@given(lift=st.floats(0.0, 5.0), flow=st.floats(60.0, 600.0))
def test_pump_head_is_its_three_parts(lift: float, flow: float) -> None:
    """The head found in one go equals static lift plus friction plus fittings found singly."""
    velocity = loop_pipe.pipe_velocity(flow=flow, bore=60.0)
    friction = loop_pipe.friction_head_darcy_weisbach(flow=flow, pipe_run=15.0, bore=60.0, roughness=0.01)
    fittings = loop_head.fitting_head_loss(loss_coefficients=6.0, velocity=velocity)
    whole = loop_head.pump_head_darcy_weisbach(
        static_lift=lift, flow=flow, pipe_run=15.0, bore=60.0, roughness=0.01, loss_coefficients=6.0
    )
    parts = loop_head.pump_head(static_lift=lift, friction_head=friction, fitting_head=fittings)
    assert whole == pytest.approx(parts, rel=1e-12)


@fast
@given(flow=flows, head=st.floats(0.2, 20.0), pump=st.floats(5.0, 90.0), motor=st.floats(30.0, 98.0))
def test_efficiencies_lead_from_wire_to_water_and_back(flow: float, head: float, pump: float, motor: float) -> None:
    """Power drawn times the product of the efficiencies is the power that the water gets."""
    drawn = loop_power.pump_input_power(flow=flow, head=head, pump_efficiency=pump, motor_efficiency=motor)
    water = loop_power.hydraulic_power(flow=flow, head=head)
    found = loop_power.wire_to_water_efficiency(hydraulic_power=water, drawn_power=drawn)
    assert found == pytest.approx(pump * motor / 100, rel=1e-9)


@fast
@given(power=st.floats(1.0, 5000.0), hours=st.floats(0.5, 24.0), days=st.floats(1.0, 366.0), price=st.floats(0.01, 1.0))
def test_running_cost_is_electricity_times_price(power: float, hours: float, days: float, price: float) -> None:
    """The cost in one go is the electricity found singly times its price."""
    used = loop_power.electricity_used(drawn_power=power, hours_per_day=hours, days=days)
    cost = loop_power.running_cost(drawn_power=power, hours_per_day=hours, days=days, electricity_price=price)
    assert cost == pytest.approx(used * price, rel=1e-12)


def test_viscosity_falls_as_water_warms() -> None:
    """Warm water flows more easily, all the way up the range."""
    values = [loop_pipe.water_viscosity(temperature=float(degree)) for degree in range(1, 61)]
    assert all(warm < cold for cold, warm in itertools.pairwise(values))
