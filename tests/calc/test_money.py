"""Money: budgets, break-even, prices, shade, labour, investment and the planning of crops."""

import itertools

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from waterleaf.calc.money.breakeven import (
    break_even_price,
    break_even_revenue,
    break_even_units,
    break_even_yield,
    unit_margin,
    unit_net_return,
)
from waterleaf.calc.money.invest import (
    annuity_factor,
    annuity_value,
    net_present_value,
    net_present_value_of_flows,
    present_value,
    present_values,
    simple_payback,
    straight_line_depreciation,
    yearly_cost_of_outlay,
)
from waterleaf.calc.money.margin import (
    gross_margin,
    margin_rate,
    net_return,
    partial_budget,
    revenue_rate,
    sales_revenue,
    season_revenue,
)
from waterleaf.calc.money.plan import crop_plan_areas, crop_plan_limits, crop_plan_margin
from waterleaf.calc.money.sale import (
    bundle_discount,
    bundle_margin,
    bundles_to_match,
    labour_cost,
    labour_hours,
    price_index,
    return_to_labour,
    season_price,
    shaded_area,
    shading_cost,
    trellis_shadow,
)
from waterleaf.calc.quantity import OutOfRange

CAP = settings(max_examples=100, deadline=None)


def amounts(low: float, high: float) -> st.SearchStrategy[float]:
    """Plain floats between two bounds."""
    return st.floats(low, high, allow_nan=False)


def test_dearer_head_is_not_the_dearer_bed() -> None:
    """Romaine at its high price beats bibb at its low price a head, and loses a square metre and week."""
    romaine = revenue_rate(price=0.92, density=16.0, weeks_in_bed=4.0)
    bibb = revenue_rate(price=0.75, density=30.0, weeks_in_bed=3.0)
    assert romaine < bibb


@CAP
@given(revenue=amounts(0, 1e6), variable=amounts(0, 1e6), fixed=amounts(0, 1e6))
def test_revenue_is_shared_out_without_rest(revenue: float, variable: float, fixed: float) -> None:
    """Variable cost, fixed cost and net return add up to the revenue."""
    margin = gross_margin(revenue=revenue, variable_cost=variable)
    assert net_return(gross_margin=margin, fixed_cost=fixed) + variable + fixed == pytest.approx(revenue, abs=1e-6)


@CAP
@given(margin=amounts(-1e5, 1e5), area=amounts(1, 500), weeks=amounts(1, 50))
def test_margin_rate_over_area_and_time_is_the_margin(margin: float, area: float, weeks: float) -> None:
    """The rate times area and weeks gives the margin back."""
    rate = margin_rate(gross_margin=margin, bed_area=area, weeks_in_bed=weeks)
    assert rate * area * weeks == pytest.approx(margin, rel=1e-9, abs=1e-9)


@CAP
@given(cost=amounts(1, 1e6), sold=amounts(1, 1e4))
def test_nothing_is_left_at_the_break_even_price(cost: float, sold: float) -> None:
    """Sold at the break-even price, a harvest brings its cost; the break-even yield at that price is the harvest."""
    price = break_even_price(total_cost=cost, sold=sold)
    assume(0.01 <= price <= 10_000)
    assert sales_revenue(harvest=sold, price=price) == pytest.approx(cost, rel=1e-9)
    assert break_even_yield(total_cost=cost, price=price) == pytest.approx(sold, rel=1e-9)


@CAP
@given(fixed=amounts(1, 1e6), cost=amounts(0, 20), margin=amounts(0.1, 100))
def test_heads_at_break_even_pay_fixed_and_variable_cost(fixed: float, cost: float, margin: float) -> None:
    """At break-even the revenue is the fixed cost and the variable cost of the heads, and no head earns anything."""
    price = cost + margin
    heads = break_even_units(fixed_cost=fixed, price=price, variable_cost=cost)
    revenue = break_even_revenue(fixed_cost=fixed, price=price, variable_cost=cost)
    assert revenue == pytest.approx(fixed + heads * cost, rel=1e-9)
    if fixed / heads <= 100:
        each = unit_net_return(price=price, variable_cost=cost, fixed_cost=fixed / heads)
        assert each == pytest.approx(0, abs=1e-9 * price)


@pytest.mark.parametrize("price", [0.70, 0.60])
def test_price_below_variable_cost_never_breaks_even(price: float) -> None:
    """A head that does not cover its own variable cost is refused, not answered with a strange number."""
    assert unit_margin(price=price, variable_cost=0.70) <= 0
    with pytest.raises(OutOfRange, match="never pays the fixed costs"):
        break_even_units(fixed_cost=1000.0, price=price, variable_cost=0.70)


@CAP
@given(st.lists(amounts(0, 1e5), min_size=4, max_size=4))
def test_partial_budget_is_the_difference_of_two_whole_budgets(figures: list[float]) -> None:
    """Writing out both budgets in full and subtracting gives the same change."""
    revenue_before, cost_before, revenue_after, cost_after = figures
    change = partial_budget(
        added_revenue=revenue_after, saved_cost=cost_before, lost_revenue=revenue_before, added_cost=cost_after
    )
    before = gross_margin(revenue=revenue_before, variable_cost=cost_before)
    after = gross_margin(revenue=revenue_after, variable_cost=cost_after)
    assert change == pytest.approx(after - before, abs=1e-6)


@CAP
@given(prices=st.lists(amounts(0.5, 20), min_size=2, max_size=12))
def test_indexes_of_a_year_average_to_one_hundred(prices: list[float]) -> None:
    """The indexes of all seasons have the mean 100, and each gives its price back."""
    indexes = [price_index(season_price=price, prices=prices) for price in prices]
    assert sum(indexes) / len(indexes) == pytest.approx(100, rel=1e-9)
    mean = sum(prices) / len(prices)
    for price, index in zip(prices, indexes, strict=True):
        assert season_price(mean_price=mean, price_index=index) == pytest.approx(price, rel=1e-9)


@CAP
@given(price=amounts(0.5, 10), units=st.integers(2, 12), share=amounts(0.5, 1), cost_share=amounts(0, 0.4))
def test_bundles_earn_what_single_heads_earned(price: float, units: int, share: float, cost_share: float) -> None:
    """The computed number of bundles brings the margin of the single heads; a discount asks for more heads."""
    cost = min(price * cost_share, 20.0)
    bundle = price * units * share
    discount = bundle_discount(bundle_price=bundle, bundle_units=float(units), price=price)
    assert discount == pytest.approx(100 * (1 - share), abs=1e-9)
    margin = bundle_margin(bundle_price=bundle, bundle_units=float(units), variable_cost=cost)
    single = unit_margin(price=price, variable_cost=cost)
    bundles = bundles_to_match(singles_sold=100.0, unit_margin=single, bundle_margin=margin)
    assert bundles * margin == pytest.approx(100 * single, rel=1e-9)
    assert bundles * units >= 100 * (1 - 1e-9)


@CAP
@given(height=amounts(0.5, 4), low=amounts(5, 44), high=amounts(46, 85))
def test_low_sun_throws_the_longer_shadow(height: float, low: float, high: float) -> None:
    """Below 45 degrees the shadow is longer than the trellis, above it shorter."""
    assert trellis_shadow(height=height, sun_height=low) > height > trellis_shadow(height=height, sun_height=high)
    assert trellis_shadow(height=height, sun_height=45.0) == pytest.approx(height, rel=1e-12)


@CAP
@given(shadow=amounts(0.1, 20), path=amounts(0, 5), width=amounts(0.3, 3), length=amounts(1, 50))
def test_shadow_covers_no_more_than_the_bed(shadow: float, path: float, width: float, length: float) -> None:
    """No shade while the shadow ends on the path, the whole bed at most, and its cost grows with the area."""
    area = shaded_area(shadow=shadow, path=path, bed_width=width, bed_length=length)
    assert 0 <= area <= width * length
    assert (area == 0) == (shadow <= path)
    cost = shading_cost(margin_rate=5.0, shaded_area=area, margin_loss=40.0, shaded_weeks=10.0)
    whole = season_revenue(revenue_rate=5.0, bed_area=width * length, weeks_sold=10.0)
    assert cost <= 0.4 * whole * (1 + 1e-12)


@CAP
@given(rate=amounts(0.01, 2), area=amounts(1, 200), weeks=amounts(1, 50), wage=amounts(1, 50))
def test_labour_paid_its_own_return_leaves_nothing(rate: float, area: float, weeks: float, wage: float) -> None:
    """A revenue that covers other costs and the wage bill returns exactly the wage."""
    hours = labour_hours(labour_rate=rate, bed_area=area, weeks=weeks)
    revenue = 500.0 + labour_cost(hours=hours, wage=wage)
    assert return_to_labour(revenue=revenue, other_cost=500.0, hours=hours) == pytest.approx(wage, rel=1e-6)


@CAP
@given(amount=amounts(1, 1e5), rate=amounts(0.5, 30), years=st.integers(1, 40))
def test_present_value_grows_back_to_the_amount(amount: float, rate: float, years: int) -> None:
    """Adding interest year after year turns the present value into the amount."""
    value = present_value(amount=amount, rate=rate, years=float(years))
    for _ in range(years):
        value += value * rate / 100
    assert value == pytest.approx(amount, rel=1e-9)


@CAP
@given(amount=amounts(1, 1e5), rate=amounts(0.5, 30), years=st.integers(1, 40))
def test_annuity_is_the_sum_of_its_years(amount: float, rate: float, years: int) -> None:
    """The worth of equal yearly amounts is the sum of their present values."""
    each = present_values(yearly_amount=amount, rate=rate, years=float(years))
    assert len(each) == years
    assert each[-1] == pytest.approx(present_value(amount=amount, rate=rate, years=float(years)), rel=1e-12)
    assert annuity_value(yearly_amount=amount, rate=rate, years=float(years)) == pytest.approx(sum(each), rel=1e-9)
    assert annuity_factor(rate=rate, years=float(years)) < years


@CAP
@given(outlay=amounts(100, 1e5), resale=amounts(0, 90), rate=amounts(0.5, 30), years=st.integers(1, 30))
def test_saving_equal_to_the_yearly_cost_is_worth_nothing(
    outlay: float, resale: float, rate: float, years: int
) -> None:
    """An outlay whose yearly saving just equals its yearly cost has a net present value of zero."""
    cost = yearly_cost_of_outlay(outlay=outlay, salvage=resale, rate=rate, years=float(years))
    value = net_present_value(outlay=outlay, yearly_amount=cost, salvage=resale, rate=rate, years=float(years))
    assert value == pytest.approx(0, abs=1e-8 * outlay)


@CAP
@given(
    outlay=amounts(100, 1e5), amount=amounts(10, 1e4), resale=amounts(0, 1e3), rate=amounts(0.5, 30),
    years=st.integers(1, 30),
)
def test_level_and_uneven_cash_flows_are_valued_alike(
    outlay: float, amount: float, resale: float, rate: float, years: int
) -> None:
    """Writing equal amounts out year by year, the resale with the last, gives the same net present value."""
    flows = [amount] * (years - 1) + [amount + resale]
    level = net_present_value(outlay=outlay, yearly_amount=amount, salvage=resale, rate=rate, years=float(years))
    uneven = net_present_value_of_flows(outlay=outlay, flows=flows, rate=rate)
    assert uneven == pytest.approx(level, abs=1e-8 * (outlay + amount * years + resale))
    dearer = net_present_value_of_flows(outlay=outlay, flows=flows, rate=rate + 5)
    assert dearer < uneven


def test_quick_payback_can_hide_a_poor_outlay() -> None:
    """Of the two outlays of the textbook the quicker payback has the shorter life and the smaller value."""
    assert simple_payback(outlay=300.0, saving=150.0) < simple_payback(outlay=300.0, saving=67.0)
    short = net_present_value(outlay=300.0, yearly_amount=150.0, rate=8.0, years=2.0)
    lasting = net_present_value(outlay=300.0, yearly_amount=67.0, rate=8.0, years=20.0)
    assert short < 0 < lasting


@CAP
@given(outlay=amounts(100, 1e5), resale=amounts(0, 90), life=amounts(1, 40))
def test_depreciation_ends_at_the_resale_value(outlay: float, resale: float, life: float) -> None:
    """Written down every year, an outlay ends at its resale value."""
    yearly = straight_line_depreciation(outlay=outlay, salvage=resale, life=life)
    assert outlay - yearly * life == pytest.approx(resale, abs=1e-8 * outlay)


FARM = {
    "margins": [143.0, 60.0], "labour_needs": [120.0, 210.0], "light_needs": [110.0, 30.0],
    "largest_areas": [75.0, 75.0], "bed_area": 75.0, "labour_supply": 15000.0, "light_supply": 4000.0,
}
FACTORY = {
    "margins": [550.0, 600.0, 350.0, 400.0, 200.0], "labour_needs": [12.0, 20.0, 0.0, 25.0, 15.0],
    "light_needs": [10.0, 8.0, 16.0, 0.0, 0.0], "largest_areas": [100.0] * 5, "bed_area": 19.2,
    "labour_supply": 288.0, "light_supply": 192.0,
}


def test_shadow_prices_of_the_farm_are_those_found_by_hand() -> None:
    """Two tight limits give two equations for their prices: x + 110 y = 143 and x + 30 y = 60; the third has none."""
    beds, labour, light, *markets = crop_plan_limits(**FARM)  # type: ignore[arg-type]
    assert (beds.shadow_price, labour.shadow_price, light.shadow_price) == pytest.approx((28.875, 0, 1.0375))
    assert (beds.left, light.left) == pytest.approx((0, 0), abs=1e-9)
    assert (labour.used, labour.left) == pytest.approx((13781.25, 1218.75))
    assert [row.shadow_price for row in markets] == pytest.approx([0, 0])


def test_shadow_prices_of_the_factory_are_those_of_another_solver() -> None:
    """The printed solution has 6.25 an hour of grinding, nothing for drilling, and 23.75 for a twentieth of a bed."""
    beds, grinding, drilling, *_ = crop_plan_limits(**FACTORY)  # type: ignore[arg-type]
    assert grinding.shadow_price == pytest.approx(6.25)
    assert drilling.shadow_price == pytest.approx(0)
    assert drilling.used == pytest.approx(177.6)
    assert beds.shadow_price == pytest.approx(20 * 23.75)


def test_one_hour_more_is_worth_its_shadow_price() -> None:
    """Solving again with one unit more changes the margin by the shadow price."""
    base = crop_plan_margin(**FARM)  # type: ignore[arg-type]
    rows = crop_plan_limits(**FARM)  # type: ignore[arg-type]
    for row, name in zip(rows, ("bed_area", "labour_supply", "light_supply"), strict=False):
        more = crop_plan_margin(**{**FARM, name: FARM[name] + 1})  # type: ignore[arg-type,operator]
        assert more - base == pytest.approx(row.shadow_price, abs=1e-9)


needs = st.lists(amounts(0.05, 3), min_size=2, max_size=2)
plans = st.fixed_dictionaries({
    "margins": st.lists(amounts(-2, 12), min_size=2, max_size=2), "labour_needs": needs, "light_needs": needs,
    "largest_areas": st.lists(amounts(5, 80), min_size=2, max_size=2), "bed_area": amounts(10, 120),
    "labour_supply": amounts(5, 100), "light_supply": amounts(5, 100),
})


@settings(max_examples=60, deadline=None)
@given(plan=plans)
def test_best_plan_is_the_best_corner(plan: dict[str, object]) -> None:
    """Trying every corner where two limits meet finds the same margin as the solver."""
    margins = np.array(plan["margins"])
    sides = np.array([[1.0, 1.0], plan["labour_needs"], plan["light_needs"], [1, 0], [0, 1], [-1, 0], [0, -1]])
    limits = np.array(
        [plan["bed_area"], plan["labour_supply"], plan["light_supply"], *plan["largest_areas"], 0, 0]  # type: ignore[misc]
    )
    best = 0.0
    for pair in itertools.combinations(range(7), 2):
        matrix = sides[list(pair)]
        if abs(np.linalg.det(matrix)) < 1e-9:
            continue
        corner = np.linalg.solve(matrix, limits[list(pair)])
        if (sides @ corner <= limits + 1e-9).all():
            best = max(best, float(margins @ corner))
    assert crop_plan_margin(**plan) == pytest.approx(best, abs=1e-6)  # type: ignore[arg-type]


@settings(max_examples=60, deadline=None)
@given(plan=plans)
def test_limits_are_kept_and_their_prices_account_for_the_margin(plan: dict[str, object]) -> None:
    """No limit is passed, slack limits have no price, and prices times limits add up to the margin."""
    areas = crop_plan_areas(**plan)  # type: ignore[arg-type]
    margin = crop_plan_margin(**plan)  # type: ignore[arg-type]
    rows = crop_plan_limits(**plan)  # type: ignore[arg-type]
    assert all(area >= -1e-9 for area in areas)
    assert sum(a * m for a, m in zip(areas, plan["margins"], strict=True)) == pytest.approx(margin, abs=1e-7)  # type: ignore[call-overload]
    for row in rows:
        assert row.used <= row.available + 1e-7
        assert row.shadow_price >= -1e-9
        assert row.shadow_price * row.left == pytest.approx(0, abs=1e-6)
    assert sum(row.shadow_price * row.available for row in rows) == pytest.approx(margin, abs=1e-6)


def test_crop_that_loses_money_is_left_out() -> None:
    """A crop with a margin below zero gets no area, even where beds stay empty."""
    areas = crop_plan_areas(
        margins=[-1.0, 3.0], labour_needs=[0.1, 0.1], light_needs=[0.0, 0.0], largest_areas=[50.0, 20.0],
        bed_area=100.0, labour_supply=40.0, light_supply=0.0,
    )
    assert areas == pytest.approx((0, 20))


def test_lists_of_unequal_length_are_refused() -> None:
    """Each crop needs its own labour, light and market figure."""
    with pytest.raises(OutOfRange, match=r"light_needs: 1 value\(s\) for 2 crop"):
        crop_plan_areas(**{**FARM, "light_needs": [1.0]})  # type: ignore[arg-type]
