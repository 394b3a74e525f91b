"""Returns: products of the feed, balances that close, mineralisation, and sludge put to use."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.returns import balance as returns_balance
from waterleaf.calc.returns import compost as returns_compost
from waterleaf.calc.returns import sludge as returns_sludge
from waterleaf.calc.returns import tables as returns_tables
from waterleaf.calc.returns import yields as returns
from waterleaf.calc.returns.tables import BalanceRow

MANY = settings(max_examples=100, deadline=None)
litres = st.floats(0, 100_000)
shares = st.floats(0, 100)


@MANY
@given(fed=st.floats(1, 10_000), fish=st.floats(0, 5000), crops=st.floats(0, 50_000), other=st.floats(0, 5000))
def test_products_of_a_kilogram_of_feed_add_up(fed: float, fish: float, crops: float, other: float) -> None:
    """Product for a kilogram of feed, times the feed, is all that was grown; returns only add to it."""
    with_returns = returns.product_per_feed(feed_fed=fed, fish=fish, crops=crops, other=other)
    assert with_returns * fed == pytest.approx(fish + crops + other, abs=1e-6, rel=1e-9)
    assert with_returns >= returns.product_per_feed(feed_fed=fed, fish=fish, crops=crops)


@MANY
@given(fed=st.floats(1, 1000), fish=st.floats(0, 500), crops=st.floats(0, 5000), nutrient=st.floats(0, 100_000))
def test_revenue_counts_each_product_once(fed: float, fish: float, crops: float, nutrient: float) -> None:
    """Revenue for a kilogram of feed, times the feed, is fish, crops and saved fertiliser together."""
    value = returns.fertiliser_value(returned_nutrient=nutrient, nutrient_price=3.0)
    revenue = returns.revenue_per_feed(
        feed_fed=fed, fish=fish, fish_price=5.0, crops=crops, crop_price=4.0, returned_value=value
    )
    assert revenue * fed == pytest.approx(5 * fish + 4 * crops + 3 * nutrient / 1000, abs=1e-6, rel=1e-9)


@MANY
@given(evaporation=litres, transpiration=litres, sludge=litres, other=litres, rain=litres)
def test_water_balance_closes(
    evaporation: float, transpiration: float, sludge: float, other: float, rain: float
) -> None:
    """Litres in equal litres out, wet or dry, and the closing line is the new water or the surplus."""
    rows = returns.water_balance(
        evaporation=evaporation, transpiration=transpiration, sludge_water=sludge, other_loss=other, rain=rain
    )
    assert rows[-1].litres_in == pytest.approx(rows[-1].litres_out, abs=1e-9, rel=1e-12)
    make_up = returns.make_up_water(
        evaporation=evaporation, transpiration=transpiration, sludge_water=sludge, other_loss=other, rain=rain
    )
    named = {row.part: row for row in rows}
    closing = named["new water"].litres_in - named["surplus to store"].litres_out
    assert closing == pytest.approx(make_up, abs=1e-9, rel=1e-12)
    assert min(named["new water"].litres_in, named["surplus to store"].litres_out) == 0


def test_wet_week_leaves_surplus_to_store() -> None:
    """More rain than loss: no new water, the rest is to be stored."""
    rows = returns.water_balance(evaporation=40.0, transpiration=50.0, sludge_water=5.0, rain=120.0)
    named = {row.part: row for row in rows}
    assert named["new water"].litres_in == 0
    assert named["surplus to store"].litres_out == pytest.approx(25.0)


@MANY
@given(release=st.floats(0.1, 5000), source=st.floats(0, 50), limit=st.floats(60, 5000))
def test_exchange_for_a_limit_settles_at_the_limit(release: float, source: float, limit: float) -> None:
    """The water exchanged for a limit makes the solute settle there."""
    exchange = returns.exchange_for_concentration(release=release, source_level=source, highest_level=limit)
    settled = returns.steady_concentration(release=release, exchange=exchange, source_level=source)
    assert settled == pytest.approx(limit, rel=1e-9)


def test_steady_concentration_is_where_daily_steps_end() -> None:
    """Stepping a tank day by day, a share of its water exchanged each day, ends at the steady concentration."""
    volume, exchange, release = 10_000.0, 150.0, 29.4
    level = 0.0
    for _ in range(5000):
        level += (release * 1000 - exchange * level) / volume
    assert level == pytest.approx(returns.steady_concentration(release=release, exchange=exchange), rel=1e-9)


def closes(rows: tuple[BalanceRow, ...]) -> None:
    """Each source of a nutrient table is the sum of the parts that come from it."""
    named = {row.part: row for row in rows}

    def of(source: str) -> float:
        return math.fsum(row.amount for row in rows if row.source == source)

    fed = named["in the feed"].amount
    assert of("feed") == pytest.approx(fed, rel=1e-9)
    assert of("solids") == pytest.approx(named["in solids"].amount, rel=1e-9, abs=1e-9 * fed)
    water = named["dissolved by the fish"].amount + named["returned to the water"].amount
    assert of("water") == pytest.approx(water, rel=1e-9, abs=1e-9 * fed)
    ends = ("kept by the fish", "left in sludge", "taken up by the crop", "lost or left in the water")
    assert math.fsum(named[part].amount for part in ends) == pytest.approx(fed, rel=1e-9)
    assert math.fsum(named[part].share for part in ends) == pytest.approx(100, rel=1e-9)


@MANY
@given(
    fed=st.floats(1, 10_000), protein=st.floats(20, 55), conversion=st.floats(1, 3), fish=st.floats(12, 20),
    solid=shares, free=shares, drawn=shares, crop=st.floats(0, 1),
)
def test_nitrogen_balance_closes(
    fed: float, protein: float, conversion: float, fish: float, solid: float, free: float, drawn: float, crop: float
) -> None:
    """Feed is fish and dissolved and solids, solids are returned and left, water is crop and rest, to 1e-9."""
    inputs = {
        "feed_fed": fed, "protein": protein, "gain": fed / conversion, "fish_protein": fish, "solids_part": solid,
        "mineralised": free, "drawn": drawn,
    }
    rows = returns_tables.nitrogen_balance(**inputs)
    closes(rows)
    assert rows[0].amount == pytest.approx(fed * protein / 100 / 6.25 * 1000, rel=1e-9)
    closes(returns_tables.nitrogen_balance(**inputs, uptake=crop * rows[-1].amount))


@MANY
@given(
    fed=st.floats(1, 10_000), feed_share=st.floats(0.8, 2), conversion=st.floats(1, 3), fish=st.floats(0.3, 0.8),
    solid=shares, free=shares, drawn=shares, crop=st.floats(0, 1),
)
def test_phosphorus_balance_closes(
    fed: float, feed_share: float, conversion: float, fish: float, solid: float, free: float, drawn: float, crop: float
) -> None:
    """The same for phosphorus, with and without a crop."""
    inputs = {
        "feed_fed": fed, "phosphorus": feed_share, "gain": fed / conversion, "fish_share": fish, "solids_part": solid,
        "mineralised": free, "drawn": drawn,
    }
    rows = returns_tables.phosphorus_balance(**inputs)
    closes(rows)
    closes(returns_tables.phosphorus_balance(**inputs, uptake=crop * rows[-1].amount))


def test_balance_agrees_with_the_relations_for_each_part() -> None:
    """The rows of the nitrogen table are what the single relations give, one after the other."""
    rows = {
        row.part: row
        for row in returns_tables.nitrogen_balance(
            feed_fed=100.0, protein=32.0, gain=60.0, fish_protein=16.0, solids_part=20.0, mineralised=50.0, drawn=80.0,
            uptake=1500.0,
        )
    }
    fed = rows["in the feed"].amount
    kept = returns_balance.fish_nitrogen(gain=60.0, fish_protein=16.0)
    waste = returns_balance.nutrient_waste(fed=fed, kept=kept)
    solid = returns_balance.nutrient_in_solids(waste=waste, solids_part=20.0)
    back = returns_balance.nutrient_returned(in_solids=solid, mineralised=50.0, drawn=80.0)
    assert rows["kept by the fish"].amount == kept
    assert rows["dissolved by the fish"].amount == pytest.approx(
        returns_balance.nutrient_dissolved(waste=waste, solids_part=20.0)
    )
    assert rows["in solids"].amount == pytest.approx(solid)
    assert rows["returned to the water"].amount == pytest.approx(back)
    assert rows["kept by the fish"].share == pytest.approx(returns_balance.nutrient_share(part=kept, fed=fed))
    ends = ("kept by the fish", "left in sludge", "taken up by the crop")
    missing = returns_balance.unaccounted_share(shares=[rows[part].share for part in ends])
    assert rows["lost or left in the water"].share == pytest.approx(missing)


def test_balance_refuses_fish_that_hold_more_than_the_feed() -> None:
    """A gain that no feed could make is refused with both masses."""
    with pytest.raises(OutOfRange, match=r"gain: the fish would hold 128 g, more than the 51\.2 g in the feed"):
        returns_tables.nitrogen_balance(
            feed_fed=1.0, protein=32.0, gain=5.0, fish_protein=16.0, solids_part=20.0, mineralised=50.0, drawn=80.0
        )


def test_balance_refuses_a_crop_that_takes_more_than_there_is() -> None:
    """An uptake above what is in the water is refused."""
    with pytest.raises(OutOfRange, match="uptake: 50 g is more than"):
        returns_tables.phosphorus_balance(
            feed_fed=1.0, phosphorus=1.2, gain=0.6, fish_share=0.8, solids_part=60.0, mineralised=40.0, drawn=80.0,
            uptake=50.0,
        )


def test_cycle_balance_reduces_to_feed_less_fish_when_nothing_dies() -> None:
    """Without stocked and dead fish, the loss over a cycle is the waste."""
    lost = returns_balance.nutrient_lost(fed=100.0, stocked=0.0, dead=0.0, harvested=30.0)
    assert lost == returns_balance.nutrient_waste(fed=100.0, kept=30.0)


@MANY
@given(solid=st.floats(0.1, 1000), rate=st.floats(0.005, 0.5), time=st.floats(1, 60), cut=st.floats(0.1, 0.9))
def test_breakdown_of_a_batch_is_one_process(solid: float, rate: float, time: float, cut: float) -> None:
    """Left and gone add up; two spans in a row are one long span; the days come back from the share."""
    left = returns_sludge.solids_left(first_solids=solid, rate=rate, days=time)
    gone = returns_sludge.solids_broken_down(first_solids=solid, rate=rate, days=time)
    assert left + gone == pytest.approx(solid, rel=1e-12)
    middle = solid * math.exp(-rate * time * cut)
    assume(middle >= 0.001 and time * cut >= 0.5 and time * (1 - cut) >= 0.5)
    assert returns_sludge.solids_left(first_solids=middle, rate=rate, days=time * (1 - cut)) == pytest.approx(left)
    share = 100 * gone / solid
    assume(1 <= share <= 99)
    assert returns_sludge.days_to_break_down(share=share, rate=rate) == pytest.approx(time, rel=1e-6)


@MANY
@given(fill=st.integers(1, 14), treat=st.integers(1, 60), rest=st.integers(0, 5))
def test_tanks_in_rotation_are_the_fewest_that_never_meet_a_busy_tank(fill: int, treat: int, rest: int) -> None:
    """Filled in turn, the first tank is done when its turn comes again; with one tank fewer it would not be."""
    tanks = returns_sludge.tanks_in_rotation(fill_days=float(fill), treat_days=float(treat), rest_days=float(rest))
    assert tanks * fill >= fill + treat + rest
    assert (tanks - 1) * fill < fill + treat + rest


@MANY
@given(sludge=st.floats(1, 2000), fill=st.floats(1, 30), empty=st.floats(0, 60), settled=st.floats(1, 90))
def test_week_of_draw_off_and_sludge_is_the_week_of_sludge_drawn(
    sludge: float, fill: float, empty: float, settled: float
) -> None:
    """Clear water and settled sludge of a week are seven days of sludge; the tank keeps its room for foam."""
    batch = sludge * fill
    read = returns_sludge.settled_share(settled_volume=10 * settled, sample_volume=1000.0)
    clear = returns_sludge.weekly_draw_off(batch=batch, settled=read, fill_days=fill)
    assert clear + 7 * sludge * settled / 100 == pytest.approx(7 * sludge, rel=1e-9)
    tank = returns_sludge.batch_tank_volume(sludge=sludge, fill_days=fill, empty=empty)
    assert tank * (1 - empty / 100) == pytest.approx(batch, rel=1e-9)


@MANY
@given(
    volume=st.floats(10, 100_000), content=st.floats(0.5, 10), nitrogen=st.floats(1, 8), rate=st.floats(5, 300),
    usable=st.floats(10, 100),
)
def test_trees_times_sludge_a_tree_is_all_the_sludge(
    volume: float, content: float, nitrogen: float, rate: float, usable: float
) -> None:
    """The trees that a sludge feeds, each with its share, use up the sludge."""
    total = returns_sludge.sludge_nitrogen(sludge=volume, sludge_solids=content, solids_nitrogen=nitrogen)
    trees = returns_sludge.trees_for_sludge(sludge_nitrogen=total, available=usable, nitrogen_rate=rate)
    each = returns_sludge.sludge_for_tree(nitrogen_rate=rate, nitrogen_strength=total / volume, available=usable)
    assert trees * each == pytest.approx(volume, rel=1e-9)


@MANY
@given(
    dry=st.floats(1, 1000), carbon=st.floats(25, 45), nitrogen=st.floats(3, 8), browns_carbon=st.floats(40, 55),
    browns_nitrogen=st.floats(0.05, 0.9), wished=st.floats(20, 35),
)
def test_browns_bring_the_heap_to_the_wished_ratio(
    dry: float, carbon: float, nitrogen: float, browns_carbon: float, browns_nitrogen: float, wished: float
) -> None:
    """The browns reckoned for a ratio, mixed in, give that ratio; it is not the mean of the two ratios."""
    browns = returns_compost.browns_for_compost(
        sludge_dry=dry, sludge_carbon=carbon, sludge_nitrogen=nitrogen, browns_carbon=browns_carbon,
        browns_nitrogen=browns_nitrogen, wished_ratio=wished,
    )
    assume(0 < browns < 1_000_000)
    ratio = returns_compost.compost_ratio(
        sludge_dry=dry, sludge_carbon=carbon, sludge_nitrogen=nitrogen, browns=browns, browns_carbon=browns_carbon,
        browns_nitrogen=browns_nitrogen,
    )
    assert ratio == pytest.approx(wished, rel=1e-9)
