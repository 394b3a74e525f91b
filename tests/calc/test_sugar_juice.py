"""Properties of the relations of sugar in juices over their whole ranges."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar import juice as sugar_juice
from waterleaf.calc.sugar import refractometer as sugar_refractometer

brix = st.floats(0.5, 39.5)
quick = settings(max_examples=100, deadline=None)


# ---------------------------------------------------------------- refractometer


@quick
@given(brix)
def test_index_and_brix_invert_each_other(value: float) -> None:
    """The refractive index found for some degrees Brix leads back to them."""
    index = sugar_refractometer.index_from_brix(brix=value)
    assert sugar_refractometer.brix_from_index(refractive_index=index) == pytest.approx(value, abs=1e-8)


@quick
@given(brix)
def test_gravity_and_brix_invert_each_other(value: float) -> None:
    """The specific gravity found for some degrees Brix leads back to them."""
    gravity = sugar_refractometer.gravity_from_brix(brix=value)
    assert sugar_refractometer.brix_from_gravity(specific_gravity=gravity) == pytest.approx(value, abs=1e-9)


@quick
@given(st.floats(1.333, 1.4199), st.floats(0.0001, 0.05))
def test_a_higher_index_means_more_sugar(index: float, more: float) -> None:
    """Degrees Brix rise with the refractive index over the whole range."""
    higher = min(1.42, index + more)
    assume(higher - index > 1e-6)
    brix_from_index = sugar_refractometer.brix_from_index
    assert brix_from_index(refractive_index=higher) > brix_from_index(refractive_index=index)


@quick
@given(st.floats(0, 25), st.floats(10, 22), st.floats(10, 22))
def test_warm_juice_reads_low_and_cold_juice_high(value: float, cooler: float, warmer: float) -> None:
    """The correction is nothing at 20 degrees, below zero under it, above zero over it, and rises with temperature."""
    cooler, warmer = sorted((cooler, warmer))
    at_cooler = sugar_refractometer.corrected_brix(reading=value, temperature=cooler)
    at_warmer = sugar_refractometer.corrected_brix(reading=value, temperature=warmer)
    assert at_cooler <= at_warmer + 1e-12
    assert sugar_refractometer.corrected_brix(reading=value, temperature=20.0) == value
    assert (at_cooler - value) * (cooler - 20) >= 0
    assert (at_warmer - value) * (warmer - 20) >= 0


@quick
@given(st.floats(0, 25), st.floats(10, 22))
def test_correction_lies_between_its_neighbours_in_the_table(value: float, temperature: float) -> None:
    """Nothing between four entries of the table lies beyond them."""
    around = (float(math.floor(temperature)), float(math.ceil(temperature)))
    rows = [sugar_refractometer.TEMPERATURE_CORRECTIONS[t] for t in around]
    column = min(4, int(value // 5))
    corners = [row[place] for row in rows for place in (column, column + 1)]
    assert min(corners) - 1e-12 <= sugar_refractometer.table_correction(temperature, value) <= max(corners) + 1e-12


# ---------------------------------------------------------------- juices and acid


@quick
@given(st.floats(0.1, 80), st.floats(1, 5000))
def test_a_standard_solution_has_the_wished_strength(wished: float, mass: float) -> None:
    """Sugar and water weighed for a standard add up to its mass and give its degrees Brix."""
    sugar_mass = sugar_juice.standard_solution_sugar(target_brix=wished, solution_mass=mass)
    water_mass = sugar_juice.standard_solution_water(target_brix=wished, solution_mass=mass)
    assert sugar_mass + water_mass == pytest.approx(mass, rel=1e-12)
    assert sugar_juice.solution_brix(sugar_mass=sugar_mass, water_mass=water_mass) == pytest.approx(wished, rel=1e-9)


@quick
@given(st.floats(5, 60), st.floats(0.1, 0.95), st.floats(1, 1000))
def test_dilution_reaches_the_target_and_keeps_the_sugar(before: float, share: float, mass: float) -> None:
    """The water found brings the juice to its target, and the sugar in it stays the same."""
    water = sugar_juice.water_to_dilute(brix=before, target_brix=before * share, juice_mass=mass)
    after = sugar_juice.diluted_brix(brix=before, juice_mass=mass, water_mass=water)
    assert after == pytest.approx(before * share, rel=1e-9)
    assert after * (mass + water) == pytest.approx(before * mass, rel=1e-9)


@quick
@given(st.floats(1, 500), brix, st.floats(1, 500), brix)
def test_a_pool_lies_between_its_juices(first: float, low: float, second: float, high: float) -> None:
    """A pool is nowhere outside its two juices, holds their sugar, and agrees with the pool of many."""
    pool = sugar_juice.pooled_brix(first_mass=first, first_brix=low, second_mass=second, second_brix=high)
    assert min(low, high) - 1e-9 <= pool <= max(low, high) + 1e-9
    assert pool * (first + second) == pytest.approx(first * low + second * high, rel=1e-9)
    assert sugar_juice.pooled_brix_of_many(masses=[first, second], brix=[low, high]) == pytest.approx(pool, rel=1e-12)


def test_a_pool_wants_a_mass_for_each_reading() -> None:
    """Lists of different length are refused by name."""
    with pytest.raises(OutOfRange, match="masses: 2 masses for 3 readings"):
        sugar_juice.pooled_brix_of_many(masses=[10.0, 20.0], brix=[4.0, 5.0, 6.0])


@quick
@given(brix)
def test_a_litre_holds_more_than_ten_grams_a_degree(value: float) -> None:
    """Ten grams a degree is too low as soon as a litre of the juice weighs more than a kilogram."""
    gravity = sugar_refractometer.gravity_from_brix(brix=value)
    grams = sugar_juice.grams_per_litre(brix=value, specific_gravity=gravity)
    assert grams == pytest.approx(10 * value * gravity * 0.998207, rel=1e-6)
    assert (grams > 10 * value) == (gravity > 1 / 0.9982071)


@quick
@given(st.floats(1, 40), st.floats(0.1, 5))
def test_ratio_and_acidity_invert_each_other(value: float, acidity: float) -> None:
    """The ratio found from an acidity leads back to that acidity."""
    ratio = sugar_juice.sugar_acid_ratio(brix=value, acidity=acidity)
    assert sugar_juice.acidity_limit(brix=value, ratio=ratio) == pytest.approx(acidity, rel=1e-12)


@quick
@given(st.floats(0, 20), st.floats(0, 20))
def test_more_acid_hides_more_sugar(low: float, high: float) -> None:
    """The acid correction is never negative and never falls as acid rises."""
    low, high = sorted((low, high))
    assert 0 <= sugar_juice.table_acid_correction(low) <= sugar_juice.table_acid_correction(high) + 1e-12
