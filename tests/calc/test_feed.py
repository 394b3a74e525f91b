"""Feed, growth, stock and cohorts: what must hold whatever the numbers."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from waterleaf.calc.feed import cohorts as feed_cohorts
from waterleaf.calc.feed import growth as feed_growth
from waterleaf.calc.feed import purchase as feed_purchase
from waterleaf.calc.feed import ration as feed
from waterleaf.calc.feed import stock as feed_stock
from waterleaf.calc.quantity import OutOfRange

MANY = settings(max_examples=100, deadline=None)
areas = st.floats(1, 10_000)
ratios = st.floats(5, 200)
weights = st.floats(0.5, 5_000)
days = st.floats(5, 600)
rates = st.floats(0.05, 5)
shares = st.floats(1, 100)


@MANY
@given(area=areas, ratio=ratios)
def test_feed_and_bed_area_undo_each_other(area: float, ratio: float) -> None:
    """The bed area for the feed of a bed is that bed, and the ratio comes back too."""
    fed = feed.daily_feed(bed_area=area, feed_ratio=ratio)
    assert feed.bed_area_for_feed(daily_feed=fed, feed_ratio=ratio) == pytest.approx(area, rel=1e-12)
    assert feed.feed_ratio(daily_feed=fed, bed_area=area) == pytest.approx(ratio, rel=1e-12)


@MANY
@given(fed=st.floats(10, 100_000), ration=st.floats(0.5, 20))
def test_standing_fish_eat_the_feed_they_were_reckoned_from(fed: float, ration: float) -> None:
    """The live weight for a feed, fed at its ration, eats that feed; the ration comes back from both."""
    biomass = feed.biomass_for_feed(daily_feed=fed, ration=ration)
    assert feed.feed_from_biomass(biomass=biomass, ration=ration) == pytest.approx(fed, rel=1e-12)
    assert feed.ration_from_biomass(daily_feed=fed, biomass=biomass) == pytest.approx(ration, rel=1e-12)


@MANY
@given(fed=st.floats(1, 10_000), conversion=st.floats(0.8, 3), start=st.floats(0, 1000))
def test_gain_and_feed_undo_each_other(fed: float, conversion: float, start: float) -> None:
    """Feed over gain is the conversion ratio that made the gain."""
    gain = feed.gain_from_feed(feed_fed=fed, conversion_ratio=conversion)
    assert feed.feed_for_gain(gain=gain, conversion_ratio=conversion) == pytest.approx(fed, rel=1e-12)
    found = feed.feed_conversion_ratio(feed_fed=fed, start_weight=start, end_weight=start + gain)
    assert found == pytest.approx(conversion, rel=1e-6)


@MANY
@given(gain=st.floats(10, 100_000), conversion=st.floats(0.8, 3))
def test_mean_daily_feed_adds_up_to_the_year(gain: float, conversion: float) -> None:
    """A year of mean daily feed is the feed for the year's gain."""
    daily = feed.mean_daily_feed(annual_gain=gain, conversion_ratio=conversion)
    year = feed_purchase.feed_purchase(daily_feed=daily, days=365.0)
    assert year == pytest.approx(feed.feed_for_gain(gain=gain, conversion_ratio=conversion), rel=1e-12)


@MANY
@given(store=st.floats(0.1, 5000), bag=st.floats(1, 50))
def test_bags_hold_the_feed_with_less_than_one_bag_over(store: float, bag: float) -> None:
    """Whole bags hold at least the feed, and one bag fewer would not."""
    bags = feed_purchase.feed_bags(feed_store=store, bag_size=bag)
    assert bags == int(bags)
    assert bags * bag >= store * (1 - 1e-12)
    assert (bags - 1) * bag < store


@MANY
@given(fed=st.floats(0.1, 1000), protein=st.floats(10, 60))
def test_nitrogen_of_feed_times_the_factor_is_its_protein(fed: float, protein: float) -> None:
    """Nitrogen in grams times 6.25 is the protein in grams."""
    nitrogen = feed_purchase.feed_nitrogen(feed_fed=fed, protein=protein)
    assert nitrogen * 6.25 == pytest.approx(1000 * feed_purchase.feed_protein(feed_fed=fed, protein=protein), rel=1e-12)


@MANY
@given(start=st.floats(0.5, 50), rate=rates, time=st.floats(5, 120))
def test_specific_growth_turns_round(start: float, rate: float, time: float) -> None:
    """Weight after growth gives back the rate and the days."""
    end = feed_growth.weight_after_growth(start_weight=start, growth_rate=rate, days=time)
    found = feed_growth.specific_growth_rate(start_weight=start, end_weight=end, days=time)
    assert found == pytest.approx(rate, rel=1e-9)
    needed = feed_growth.days_at_specific_growth(start_weight=start, end_weight=end, growth_rate=rate)
    assert needed == pytest.approx(time, rel=1e-9)


@MANY
@given(start=st.floats(0.5, 500), gain=st.floats(1, 1500), warmth=st.floats(10, 34), time=st.floats(20, 600))
def test_thermal_growth_turns_round(start: float, gain: float, warmth: float, time: float) -> None:
    """The coefficient of two weights brings the first to the second, in the same days."""
    end = start + gain
    coefficient = feed_growth.thermal_growth_coefficient(
        start_weight=start, end_weight=end, temperature=warmth, days=time
    )
    assume(0.05 <= coefficient <= 10)
    grown = feed_growth.weight_by_thermal_growth(
        start_weight=start, thermal_growth=coefficient, temperature=warmth, days=time
    )
    assert grown == pytest.approx(end, rel=1e-9)
    needed = feed_growth.days_at_thermal_growth(
        start_weight=start, end_weight=end, thermal_growth=coefficient, temperature=warmth
    )
    assert needed == pytest.approx(time, rel=1e-9)


@MANY
@given(start=weights, gain=st.floats(1, 2000), time=days)
def test_absolute_growth_turns_round(start: float, gain: float, time: float) -> None:
    """Days at the gain a day of two weights are the days between them."""
    growth = feed_growth.absolute_growth(start_weight=start, end_weight=start + gain, days=time)
    assume(0.001 <= growth <= 100)
    needed = feed_growth.days_at_absolute_growth(start_weight=start, end_weight=start + gain, growth=growth)
    assert needed == pytest.approx(time, rel=1e-9)


@MANY
@given(start=st.floats(1, 100), factor=st.floats(1.1, 20), time=days)
def test_compound_gain_lies_above_specific_growth_and_below_the_plain_mean(
    start: float, factor: float, time: float
) -> None:
    """Percent a day: specific growth < compound gain < gain over start over days."""
    end = start * factor
    specific = feed_growth.specific_growth_rate(start_weight=start, end_weight=end, days=time)
    compound = feed_growth.compound_daily_gain(start_weight=start, end_weight=end, days=time)
    assert specific < compound < 100 * (factor - 1) / time
    assert math.log1p(compound / 100) == pytest.approx(specific / 100, rel=1e-9)


def test_specific_growth_falls_as_fish_grow() -> None:
    """At a steady gain a day the specific growth rate falls from one interval to the next."""
    rates_found = [
        feed_growth.specific_growth_rate(start_weight=50.0 + 100 * step, end_weight=150.0 + 100 * step, days=25.0)
        for step in range(6)
    ]
    assert rates_found == sorted(rates_found, reverse=True)
    whole = feed_growth.specific_growth_rate(start_weight=50.0, end_weight=650.0, days=150.0)
    assert whole == pytest.approx(sum(rates_found) / 6, rel=1e-9)


@MANY
@given(fish=st.floats(10, 10_000), alive=st.floats(10, 100))
def test_fish_to_stock_live_to_the_wanted_number(fish: float, alive: float) -> None:
    """The fish stocked for a wanted number give that survival back."""
    stocked = feed_stock.fish_to_stock(fish_wanted=fish, survival=alive)
    assert feed_stock.survival(fish_in=stocked, fish_out=fish) == pytest.approx(alive, rel=1e-12)


@MANY
@given(fish=st.floats(10, 10_000), alive=st.floats(5, 100), start=st.floats(1, 200), end=st.floats(200, 1500))
def test_net_yield_is_harvest_less_stock(fish: float, alive: float, start: float, end: float) -> None:
    """Gain and stocked weight together are the harvest; deaths only ever lower the gain."""
    gain = feed_stock.net_yield(fish_in=fish, survival=alive, start_weight=start, end_weight=end)
    harvest = feed_stock.harvest_biomass(fish_in=fish, survival=alive, weight=end)
    assert gain + fish * start / 1000 == pytest.approx(harvest, rel=1e-9)
    assert gain <= fish * (end - start) / 1000 + 1e-9


@MANY
@given(density=st.floats(1, 120), volume=st.floats(0.1, 500), weight=st.floats(20, 1500))
def test_fish_for_a_density_make_that_density(density: float, volume: float, weight: float) -> None:
    """The fish reckoned for a density weigh, over the volume, that density."""
    fish = feed_stock.fish_for_density(density=density, tank_volume=volume, weight=weight)
    assume(fish >= 1)
    biomass = feed_stock.biomass_for_density(density=density, tank_volume=volume)
    assert feed_stock.tank_volume_for_density(biomass=biomass, density=density) == pytest.approx(volume, rel=1e-12)
    assert fish * weight / 1000 == pytest.approx(biomass, rel=1e-12)
    assert feed_stock.stocking_density(biomass=biomass, tank_volume=volume) == pytest.approx(density, rel=1e-12)
    crowd = feed_stock.fish_density(fish_in=fish, tank_volume=volume)
    assume(0.01 <= crowd <= 20_000)
    found = feed_stock.harvest_density(fish_density=crowd, survival=100.0, weight=weight)
    assert found == pytest.approx(density, rel=1e-12)


@MANY
@given(grow_out=st.floats(4, 100), cohorts=st.integers(1, 12), harvest=st.floats(1, 5000))
def test_a_year_of_harvests_is_all_tanks_over_one_grow_out(grow_out: float, cohorts: int, harvest: float) -> None:
    """Annual harvest times the grow-out is the harvest of all cohorts times the year."""
    interval = feed_cohorts.harvest_interval(grow_out=grow_out, cohorts=cohorts)
    year = feed_cohorts.annual_harvest(harvest=harvest, harvests=feed_cohorts.harvests_a_year(interval=interval))
    assert year * grow_out == pytest.approx(harvest * cohorts * 52, rel=1e-12)


@MANY
@given(start=st.floats(1, 50), rate=st.floats(0.2, 3), interval=st.floats(5, 60), cohorts=st.integers(1, 8))
def test_cohorts_stand_one_interval_apart(start: float, rate: float, interval: float, cohorts: int) -> None:
    """Between neighbouring cohorts lies one interval of growth at the rate; the youngest has the stocking weight."""
    found = feed_cohorts.cohort_weights(start_weight=start, growth_rate=rate, interval=interval, cohorts=cohorts)
    assert len(found) == cohorts
    assert found[0] == start
    for younger, older in pairwise(found):
        assume(older <= 30_000)
        grown = feed_growth.weight_after_growth(start_weight=younger, growth_rate=rate, days=interval)
        assert older == pytest.approx(grown, rel=1e-9)


@MANY
@given(
    fed=st.floats(100, 50_000), ration=st.floats(0.5, 10),
    stand=st.lists(st.floats(5, 900), min_size=1, max_size=6),
)
def test_cohorts_reckoned_for_a_feed_eat_it(fed: float, ration: float, stand: list[float]) -> None:
    """Fish in each cohort for a feed target, put into the table of cohort feed, eat the target."""
    fish = feed_cohorts.fish_for_feed(daily_feed=fed, ration=ration, weights=stand)
    assume(fish >= 1)
    table = feed_cohorts.cohort_feed(counts=[fish] * len(stand), weights=stand, rations=[ration] * len(stand))
    assert table[-1].feed == pytest.approx(fed, rel=1e-9)
    standing = feed_cohorts.standing_biomass(fish_per_cohort=fish, weights=stand)
    assert table[-1].biomass == pytest.approx(standing, rel=1e-9)
    assert feed.biomass_for_feed(daily_feed=fed, ration=ration) == pytest.approx(standing, rel=1e-9)


def test_cohort_table_shows_each_cohort_and_their_sum() -> None:
    """Three cohorts with their own rations: each row by hand, the last row their sum."""
    table = feed_cohorts.cohort_feed(
        counts=[120.0, 110.0, 100.0], weights=[50.0, 150.0, 300.0], rations=[4.0, 2.5, 1.5]
    )
    assert [row.cohort for row in table] == ["1", "2", "3", "all"]
    assert [row.biomass for row in table] == pytest.approx([6.0, 16.5, 30.0, 52.5])
    assert [row.feed for row in table] == pytest.approx([240.0, 412.5, 450.0, 1102.5])
    assert table[-1].fish == 330
    assert table[-1].ration == pytest.approx(2.1)
    assert table[-1].weight == pytest.approx(52_500 / 330)


def test_cohort_table_refuses_lists_that_do_not_match() -> None:
    """A missing ration is named, with the three lengths."""
    with pytest.raises(OutOfRange, match="2, 2 and 1 readings"):
        feed_cohorts.cohort_feed(counts=[100.0, 90.0], weights=[50.0, 300.0], rations=[4.0])
