"""Crops: space, nursery, timing, vines and picking."""

import datetime
import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from waterleaf.calc.crops.compare import percent_more_than, times_as_much, yield_per_week
from waterleaf.calc.crops.nursery import plants_from_seeds, seedlings_in_nursery, seeds_to_sow
from waterleaf.calc.crops.picking import (
    cuts_in_stand,
    fading_stand_yield,
    fruit_weight,
    fruits_per_plant,
    harvest_from_area,
    sold_harvest,
    stand_yield,
    total_of_cuts,
    yield_from_heads,
    yield_per_area,
    yield_per_plant,
)
from waterleaf.calc.crops.planting import (
    bed_area_for_harvest,
    density_from_spacing,
    harvest_per_week,
    plants_per_bed,
    square_spacing,
    stage_area,
    staged_area,
    staggered_density,
)
from waterleaf.calc.crops.timing import (
    clipped_degree_days,
    crops_per_year,
    days_to_maturity,
    degree_days,
    harvest_day,
    heads_per_sowing,
    sowing_day_for,
    sowing_days,
    sowing_interval,
    sowings_in_house,
)
from waterleaf.calc.crops.vines import lowering_interval, stem_laid_down, vine_length, weeks_to_wire
from waterleaf.calc.quantity import OutOfRange

CAP = settings(max_examples=100, deadline=None)


def amounts(low: float, high: float) -> st.SearchStrategy[float]:
    """Plain floats between two bounds."""
    return st.floats(low, high, allow_nan=False)


@CAP
@given(spacing=amounts(3, 300))
def test_spacing_and_density_undo_each_other(spacing: float) -> None:
    """A square grid at some distance has a density that asks for the same distance."""
    density = density_from_spacing(row_spacing=spacing, plant_spacing=spacing)
    assert square_spacing(density=density) == pytest.approx(spacing, rel=1e-12)


@CAP
@given(spacing=amounts(2, 300))
def test_staggered_rows_hold_fifteen_per_cent_more(spacing: float) -> None:
    """Rows of a triangular grid lie closer by the height of a triangle, sin 60 degrees."""
    staggered = staggered_density(spacing=spacing)
    row = spacing * math.sin(math.radians(60))
    assert staggered == pytest.approx(density_from_spacing(row_spacing=row, plant_spacing=spacing), rel=1e-12)
    square = density_from_spacing(row_spacing=spacing, plant_spacing=spacing)
    assert staggered / square == pytest.approx(1.1547, abs=5e-5)


@CAP
@given(heads=amounts(1, 5000), weeks=amounts(1, 40), density=amounts(1, 400))
def test_weekly_harvest_and_bed_area_undo_each_other(heads: float, weeks: float, density: float) -> None:
    """The area found for a harvest gives that harvest."""
    area = bed_area_for_harvest(heads_per_week=heads, weeks_in_bed=weeks, density=density)
    found = harvest_per_week(bed_area=area, density=density, weeks_in_bed=weeks)
    assert found == pytest.approx(heads, rel=1e-12)


@CAP
@given(heads=st.integers(1, 200), weeks=st.integers(1, 20), density=amounts(5, 60))
def test_bed_area_holds_what_a_weekly_planting_leaves_standing(heads: int, weeks: int, density: float) -> None:
    """Planting week by week and cutting each batch at its age fills the area exactly, from the first harvest on."""
    batches: list[int] = []
    for week in range(3 * weeks):
        batches = [planted for planted in batches if week - planted < weeks]
        batches.append(week)
    standing = heads * len(batches)
    area = bed_area_for_harvest(heads_per_week=float(heads), weeks_in_bed=float(weeks), density=density)
    assert plants_per_bed(bed_area=area, density=density) == pytest.approx(standing, rel=1e-12)


@CAP
@given(
    plants=amounts(1, 2000), first=amounts(2, 40), last=amounts(2, 40), density=amounts(1, 60), closer=amounts(1, 10)
)
def test_respacing_never_asks_for_more_area(
    plants: float, first: float, last: float, density: float, closer: float
) -> None:
    """Starting closer takes no more room than the final spacing throughout, and both stages count once."""
    staged = staged_area(
        plants_per_day=plants, first_days=first, first_density=density * closer, last_days=last, last_density=density
    )
    whole = stage_area(plants_per_day=plants, stage_days=first + last, density=density)
    assert staged <= whole * (1 + 1e-12)
    assert staged >= stage_area(plants_per_day=plants, stage_days=last, density=density)


@CAP
@given(wanted=amounts(1, 10_000), germination=amounts(20, 100), survival=amounts(20, 100))
def test_seeds_and_plants_undo_each_other(wanted: float, germination: float, survival: float) -> None:
    """What is sown for a number of plants gives that number."""
    seeds = seeds_to_sow(plants_wanted=wanted, germination=germination, survival=survival)
    assert seeds >= wanted * (1 - 1e-12)
    found = plants_from_seeds(seeds_sown=seeds, germination=germination, survival=survival)
    assert found == pytest.approx(wanted, rel=1e-12)


@CAP
@given(wanted=amounts(10, 10_000), germination=amounts(20, 99))
def test_adding_the_lost_share_sows_too_little(wanted: float, germination: float) -> None:
    """Sowing more by the share that fails leaves a gap: the loss falls on the extra seed too."""
    added = wanted * (1 + (100 - germination) / 100)
    assert plants_from_seeds(seeds_sown=added, germination=germination, survival=100.0) < wanted


@CAP
@given(daily=st.integers(1, 300), days=st.integers(1, 60))
def test_nursery_holds_what_daily_sowing_leaves_in_it(daily: int, days: int) -> None:
    """Sowing every day and moving out at a set age leaves the computed number in the nursery."""
    trays = [day for day in range(200) if 199 - day < days]
    found = seedlings_in_nursery(seeds_per_week=7.0 * daily, nursery_days=float(days))
    assert found == pytest.approx(daily * len(trays), rel=1e-12)


@CAP
@given(weeks=amounts(2, 30), interval=amounts(0.2, 2), heads=amounts(1, 500))
def test_sowings_cover_the_whole_crop(weeks: float, interval: float, heads: float) -> None:
    """Sowings times their interval is the life of the crop, and together they hold its weekly harvests."""
    sowings = sowings_in_house(weeks_from_seed=weeks, sowing_interval=interval)
    assert sowing_interval(weeks_from_seed=weeks, sowings=sowings) == pytest.approx(interval, rel=1e-12)
    each = heads_per_sowing(heads_per_week=heads, sowing_interval=interval)
    assert each * sowings == pytest.approx(heads * weeks, rel=1e-12)


@CAP
@given(
    start=st.dates(datetime.date(2025, 1, 1), datetime.date(2025, 12, 31)), nursery=st.integers(1, 60),
    bed=st.integers(5, 200),
)
def test_harvest_day_agrees_with_a_calendar(start: datetime.date, nursery: int, bed: int) -> None:
    """Counting days from the first of January gives the date that a calendar gives, and back."""
    sown = float((start - datetime.date(2025, 1, 1)).days)
    ready = start + datetime.timedelta(days=nursery) + datetime.timedelta(days=bed)
    found = harvest_day(sowing_day=sown, nursery_days=float(nursery), bed_days=float(bed))
    assert datetime.date(2025, 1, 1) + datetime.timedelta(days=found) == ready
    assert sowing_day_for(wished_day=found, nursery_days=float(nursery), bed_days=float(bed)) == sown


def test_sowing_days_follow_in_equal_steps() -> None:
    """A fortnightly sowing from 1 March falls on the days of a calendar."""
    found = sowing_days(first_day=59.0, sowing_step=14.0, sowings=4.0)
    dates = [datetime.date(2025, 1, 1) + datetime.timedelta(days=day) for day in found]
    assert [(date.month, date.day) for date in dates] == [(3, 1), (3, 15), (3, 29), (4, 12)]


@CAP
@given(bed=amounts(10, 300), empty=amounts(0, 100))
def test_crops_of_a_year_fill_the_year(bed: float, empty: float) -> None:
    """Crops a year times the days of one cycle is the year; empty days cost crops."""
    crops = crops_per_year(bed_days=bed, empty_days=empty)
    assert crops * (bed + empty) == pytest.approx(365, rel=1e-12)
    assert crops <= crops_per_year(bed_days=bed)


@CAP
@given(base=amounts(0, 15), top=amounts(25, 40), share=amounts(0, 1), other=amounts(0, 1))
def test_degree_day_rules_agree_between_base_and_top(base: float, top: float, share: float, other: float) -> None:
    """Where both temperatures lie between base and top, averaging first or clipping first is the same."""
    low, high = sorted(base + (min(top, 35) - base) * part for part in (share, other))
    clipped = clipped_degree_days(day_high=high, day_low=low, base=base, top=top)
    assert degree_days(day_high=high, day_low=low, base=base) == pytest.approx(clipped, abs=1e-9)


@CAP
@given(base=amounts(1, 15), high=amounts(16, 30), night=amounts(-15, 0.9))
def test_cold_nights_count_less_when_averaged_first(base: float, high: float, night: float) -> None:
    """With only the night below the base, the first reading of the formula gathers fewer degree days."""
    first = degree_days(day_high=high, day_low=night, base=base)
    second = clipped_degree_days(day_high=high, day_low=night, base=base, top=40.0)
    assert 0 <= first < second


@CAP
@given(needed=amounts(100, 3000), day=amounts(1, 25))
def test_degree_days_add_up_to_maturity(needed: float, day: float) -> None:
    """Days to maturity times the gain of a day is what the crop needs."""
    assert days_to_maturity(needed=needed, day_degrees=day) * day == pytest.approx(needed, rel=1e-12)


@CAP
@given(wire=amounts(210, 500), start=amounts(0, 200), rate=amounts(5, 90), extra=amounts(0, 20))
def test_vine_reaches_the_wire_and_the_rest_is_laid_down(wire: float, start: float, rate: float, extra: float) -> None:
    """At the wire nothing lies on the floor; every week after it lays down a week's growth."""
    weeks = weeks_to_wire(wire_height=wire, start_length=start, growth_rate=rate)
    assume(0.1 <= weeks <= 40)
    at_wire = vine_length(start_length=start, growth_rate=rate, weeks=weeks)
    assert at_wire == pytest.approx(wire, rel=1e-12)
    later = vine_length(start_length=start, growth_rate=rate, weeks=weeks + extra)
    assert stem_laid_down(stem_length=later, wire_height=wire) == pytest.approx(rate * extra, abs=1e-9)
    assert lowering_interval(lowering_step=30.0, growth_rate=rate) * rate == pytest.approx(30, rel=1e-12)


@CAP
@given(crop=amounts(0.5, 60), density=amounts(1, 100), fruits=amounts(1, 400), area=amounts(1, 500))
def test_weights_of_a_crop_balance(crop: float, density: float, fruits: float, area: float) -> None:
    """Plants, fruits and areas each add up to the harvest."""
    harvest = harvest_from_area(crop_yield=crop, bed_area=area)
    assert yield_per_area(harvest=harvest, bed_area=area) == pytest.approx(crop, rel=1e-9)
    assert yield_per_plant(crop_yield=crop, density=density) * density * area == pytest.approx(harvest, rel=1e-9)
    grams = fruit_weight(crop_yield=crop, fruit_count=fruits)
    per_plant = fruits_per_plant(fruit_count=fruits, density=density)
    assert grams / 1000 * per_plant * density * area == pytest.approx(harvest, rel=1e-9)


@CAP
@given(harvest=amounts(1, 5000), loss=amounts(0, 95))
def test_sold_and_lost_make_the_harvest(harvest: float, loss: float) -> None:
    """What is sold and what is lost add up to what was picked."""
    sold = sold_harvest(harvest=harvest, loss=loss)
    assert sold + harvest * loss / 100 == pytest.approx(harvest, rel=1e-9)


@CAP
@given(first=amounts(0.1, 5), later=amounts(0.1, 5), cuts=st.integers(1, 30))
def test_stand_yield_is_the_sum_of_its_cuts(first: float, later: float, cuts: int) -> None:
    """A stand with equal later cuts yields what its cuts add up to."""
    each = [first, *[later] * (cuts - 1)]
    found = stand_yield(first_yield=first, later_yield=later, cuts=float(cuts))
    assert found == pytest.approx(total_of_cuts(cuts=each), rel=1e-12)


@CAP
@given(first=amounts(0.1, 5), regrowth=amounts(10, 95), cuts=st.integers(1, 30))
def test_fading_stand_is_the_sum_of_shrinking_cuts(first: float, regrowth: float, cuts: int) -> None:
    """Adding shrinking cuts one by one gives the closed formula, which never passes its limit."""
    total, cut = 0.0, first
    for _ in range(cuts):
        total += cut
        cut *= regrowth / 100
    found = fading_stand_yield(first_yield=first, regrowth=regrowth, cuts=float(cuts))
    assert found == pytest.approx(total, rel=1e-9)
    assert found <= first / (1 - regrowth / 100) * (1 + 1e-12)


@CAP
@given(first=st.integers(1, 12), interval=st.integers(1, 6), stay=st.integers(0, 40))
def test_cuts_are_counted_on_the_calendar(first: int, interval: int, stay: int) -> None:
    """Whole cuts are the cutting weeks that fall within the stay."""
    end = max(2, first + stay)
    weeks = [week for week in range(first, end + 1) if (week - first) % interval == 0]
    found = cuts_in_stand(stand_weeks=float(end), first_cut=float(first), cut_interval=float(interval))
    assert math.floor(found + 1e-9) == len(weeks)


def test_second_cut_can_beat_replanting() -> None:
    """A stand that is cut again gives more a week than single cuts as long as regrowth is quicker than a new crop."""
    single = yield_per_week(crop_yield=yield_from_heads(density=25.0, head_weight=160.0), weeks_in_bed=5.0)
    repeated = stand_yield(first_yield=4.0, later_yield=2.0, cuts=3.0)
    assert yield_per_week(crop_yield=repeated, weeks_in_bed=9.0) > single
    assert yield_per_week(crop_yield=repeated, weeks_in_bed=11.0) < single


@CAP
@given(amount=amounts(0.1, 1000), reference=amounts(0.1, 1000))
def test_percent_more_depends_on_its_base(amount: float, reference: float) -> None:
    """Per cent more is the ratio less one, and turning the comparison round does not just turn the sign."""
    percent = percent_more_than(amount=amount, reference=reference)
    ratio = times_as_much(amount=amount, reference=reference)
    assert percent == pytest.approx(100 * (ratio - 1), abs=1e-6)
    back = percent_more_than(amount=reference, reference=amount)
    assert (1 + percent / 100) * (1 + back / 100) == pytest.approx(1, rel=1e-6)


def test_half_a_cut_is_refused() -> None:
    """A number of cuts is a whole number."""
    with pytest.raises(OutOfRange, match=r"cuts: .*whole"):
        stand_yield(first_yield=2.0, later_yield=1.0, cuts=2.5)
