"""Ammonia, filter, bases and water: what holds beyond the printed values."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waterleaf.calc.chemistry import ammonia as chemistry
from waterleaf.calc.chemistry import bases as chemistry_bases
from waterleaf.calc.chemistry import criteria as chemistry_criteria
from waterleaf.calc.chemistry import filter as chemistry_filter
from waterleaf.calc.chemistry import masses as chemistry_masses
from waterleaf.calc.chemistry import nitrate as chemistry_nitrate
from waterleaf.calc.chemistry import water as chemistry_water
from waterleaf.calc.quantity import OutOfRange

quick = settings(max_examples=60, deadline=None)
temperatures = st.floats(0, 50)
acidities = st.floats(5, 11)
loads = st.floats(0.01, 100_000)
shares = st.floats(1, 100)

# Standard atomic weights as IUPAC abridges them; the molar masses of the module are typed apart from these.
WEIGHTS = {
    "H": 1.008, "C": 12.011, "N": 14.007, "O": 15.999, "Na": 22.98976928, "Mg": 24.305, "Cl": 35.45, "K": 39.0983,
    "Ca": 40.078,
}
MAKE_UP = {
    "NITROGEN": "N", "OXYGEN": "O O", "CARBON": "C", "CARBON_DIOXIDE": "C O O", "AMMONIA": "N H H H",
    "AMMONIUM_CHLORIDE": "N H H H H Cl", "NITRITE": "N O O", "NITRATE": "N O O O", "CALCIUM_CARBONATE": "Ca C O O O",
    "CALCIUM_OXIDE": "Ca O", "POTASSIUM_HYDROXIDE": "K O H", "CALCIUM_HYDROXIDE": "Ca O H O H",
    "SODIUM_BICARBONATE": "Na H C O O O", "POTASSIUM_BICARBONATE": "K H C O O O", "POTASSIUM_CARBONATE": "K K C O O O",
    "POTASSIUM": "K", "CALCIUM": "Ca", "MAGNESIUM": "Mg",
}


@pytest.mark.parametrize("name", sorted(MAKE_UP))
def test_molar_mass_is_the_sum_of_its_atoms(name: str) -> None:
    """Each molar mass is the sum of the atomic weights in its formula, to the digits given."""
    assert getattr(chemistry_masses, name) == pytest.approx(sum(WEIGHTS[a] for a in MAKE_UP[name].split()), abs=6e-4)


def test_factor_from_its_parts_is_the_printed_factor() -> None:
    """The four parts give the factor that ammonia production uses, as far as the handbook prints it."""
    assert round(chemistry.ammonia_factor(), 3) == chemistry.AMMONIA_FACTOR


@given(feed=st.floats(0.1, 100_000), protein=st.floats(10, 70))
@quick
def test_ammonia_is_a_part_of_the_nitrogen_fed(feed: float, protein: float) -> None:
    """Ammonia nitrogen never exceeds the nitrogen in the feed, and is 57.5 % of it by the factor 0.092."""
    fed = chemistry.wasted_nitrogen(daily_feed=feed, protein=protein, wasted_share=100.0)
    assert chemistry.ammonia_production(daily_feed=feed, protein=protein) == pytest.approx(0.575 * fed)


@given(t=temperatures, step=st.floats(0.1, 5), ph=acidities)
@quick
def test_warmer_water_holds_more_of_the_harmful_form(t: float, step: float, ph: float) -> None:
    """The un-ionised fraction rises with temperature and stays between nothing and all."""
    low = chemistry.un_ionised_fraction(temperature=t, ph=ph)
    high = chemistry.un_ionised_fraction(temperature=min(50.0, t + step), ph=ph)
    assert 0 < low <= high < 1


@given(t=temperatures, ph=st.floats(5, 10))
@quick
def test_one_unit_of_ph_is_at_most_tenfold(t: float, ph: float) -> None:
    """A unit of pH raises the un-ionised fraction, by nearly ten times at low pH and never by more."""
    here = chemistry.un_ionised_fraction(temperature=t, ph=ph)
    assert 1 < chemistry.un_ionised_fraction(temperature=t, ph=ph + 1) / here < 10


@given(limit=st.floats(0.001, 0.09), t=temperatures, ph=st.floats(5, 9))
@quick
def test_ammonia_limit_inverts_the_un_ionised_part(limit: float, t: float, ph: float) -> None:
    """Water at its total-ammonia limit holds exactly the un-ionised limit."""
    total = chemistry.total_ammonia_limit(un_ionised_limit=limit, temperature=t, ph=ph)
    if total <= 1000:
        assert chemistry.un_ionised_ammonia(total_ammonia=total, temperature=t, ph=ph) == pytest.approx(limit)


@given(total=st.floats(0.2, 100), limit=st.floats(0.001, 0.09), t=temperatures)
@quick
def test_highest_ph_meets_the_limit(total: float, limit: float, t: float) -> None:
    """At the highest allowed pH the un-ionised ammonia equals its limit."""
    ph = chemistry.highest_ph(total_ammonia=total, un_ionised_limit=limit, temperature=t)
    if 5 <= ph <= 11:
        assert chemistry.un_ionised_ammonia(total_ammonia=total, temperature=t, ph=ph) == pytest.approx(limit)


@given(t=st.floats(0, 30), ph=st.floats(6.5, 9))
@quick
def test_criteria_keep_their_order(t: float, ph: float) -> None:
    """Chronic lies below acute, and salmonids never make the acute criterion laxer."""
    acute = chemistry_criteria.acute_ammonia_criterion(temperature=t, ph=ph)
    without = chemistry_criteria.acute_ammonia_criterion_without_salmonids(temperature=t, ph=ph)
    chronic = chemistry_criteria.chronic_ammonia_criterion(temperature=t, ph=ph)
    assert chronic < acute <= without
    assert chemistry_criteria.four_day_ammonia_limit(temperature=t, ph=ph) == pytest.approx(2.5 * chronic)


@given(t=st.floats(0, 29), ph=st.floats(6.5, 8.9))
@quick
def test_criteria_tighten_with_warmth_and_ph(t: float, ph: float) -> None:
    """No criterion grows when the water gets warmer or its pH higher."""
    for criterion in (
        chemistry_criteria.acute_ammonia_criterion,
        chemistry_criteria.acute_ammonia_criterion_without_salmonids,
        chemistry_criteria.chronic_ammonia_criterion,
    ):
        here = criterion(temperature=t, ph=ph)
        assert criterion(temperature=t + 1, ph=ph) <= here
        assert criterion(temperature=t, ph=ph + 0.1) < here


def test_chronic_criterion_is_level_in_cold_water() -> None:
    """Below 7 degrees the chronic criterion no longer changes."""
    cold = chemistry_criteria.chronic_ammonia_criterion(temperature=2.0, ph=8.0)
    assert cold == chemistry_criteria.chronic_ammonia_criterion(temperature=7.0, ph=8.0)


@given(load=loads, held=st.floats(0.05, 20), efficiency=shares)
@quick
def test_flow_and_held_ammonia_invert_each_other(load: float, held: float, efficiency: float) -> None:
    """The flow found for a level leads back to that level."""
    flow = chemistry_filter.recirculation_flow(ammonia_load=load, held_ammonia=held, filter_efficiency=efficiency)
    if 0.01 <= flow <= 1e6:
        back = chemistry_filter.held_ammonia(ammonia_load=load, water_flow=flow, filter_efficiency=efficiency)
        assert back == pytest.approx(held)
        grams_removed = flow * 1440 * held * efficiency / 100 / 1000
        assert grams_removed == pytest.approx(load, rel=1e-9)


@given(load=loads, rate=st.floats(0.05, 5), surface=st.floats(100, 5000))
@quick
def test_two_ways_to_the_media_volume_agree(load: float, rate: float, surface: float) -> None:
    """Area and specific surface give the same volume as the removal rate by volume."""
    area = chemistry_filter.biofilter_area(ammonia_load=load, removal_rate=rate)
    by_surface = chemistry_filter.media_volume_from_surface(filter_area=area, specific_surface=surface)
    if 1 <= rate * surface <= 10_000:
        by_rate = chemistry_filter.media_volume_from_rate(ammonia_load=load, volume_rate=rate * surface)
        assert by_surface == pytest.approx(by_rate)
    feed = load / 30 * 1000
    if 0.1 <= feed <= 1e7 and 0.01 <= by_surface * 1000 <= 1e6:
        supported = chemistry_filter.feed_supported_by_media(
            media_volume=by_surface * 1000, specific_surface=surface, removal_rate=rate, ammonia_per_feed=30.0
        )
        assert supported == pytest.approx(feed)


@given(rate=st.floats(0.1, 5), t=st.floats(5, 40), reference=st.floats(5, 40), base=st.floats(1, 1.2))
@quick
def test_rate_returns_to_itself(rate: float, t: float, reference: float, base: float) -> None:
    """A rate taken to another temperature and back is unchanged, and warmth never lowers it."""
    there = chemistry_filter.rate_at_temperature(
        measured_rate=rate, temperature=t, reference_temperature=reference, rate_base=base
    )
    assert (there >= rate) == (t >= reference) or base == 1 or there == pytest.approx(rate)
    if 0.01 <= there <= 10:
        back = chemistry_filter.rate_at_temperature(
            measured_rate=there, temperature=reference, reference_temperature=t, rate_base=base
        )
        assert back == pytest.approx(rate)


def test_growth_ratios_lie_below_the_plain_stoichiometry() -> None:
    """Bacteria that grow use less oxygen and alkalinity than those that only burn ammonia."""
    assert chemistry_filter.nitrification_oxygen_with_growth(
        nitrified=1.0, oxygen_ratio=4.18
    ) < chemistry_filter.nitrification_oxygen(nitrified=1.0)
    assert chemistry_filter.nitrification_alkalinity_with_growth(
        nitrified=1.0, alkalinity_ratio=7.05
    ) < chemistry_filter.nitrification_alkalinity(nitrified=1.0)


@given(nitrified=loads, area=st.floats(0.1, 1000), uptake=st.floats(0.01, 5))
@quick
def test_nitrate_is_taken_up_or_left_over(nitrified: float, area: float, uptake: float) -> None:
    """What is made equals what is taken up plus what is left, and the right bed leaves nothing."""
    taken = chemistry_nitrate.nitrogen_taken_up(bed_area=area, uptake_rate=uptake)
    left = chemistry_nitrate.nitrate_balance(nitrified=nitrified, bed_area=area, uptake_rate=uptake)
    assert taken + left == pytest.approx(nitrified, rel=1e-9)
    bed = chemistry_nitrate.bed_area_for_nitrate(nitrified=nitrified, uptake_rate=uptake)
    if 0.1 <= bed <= 100_000:
        nothing = chemistry_nitrate.nitrate_balance(nitrified=nitrified, bed_area=bed, uptake_rate=uptake)
        assert nothing == pytest.approx(0, abs=1e-9 * nitrified)


@given(surplus=st.floats(0.1, 10_000), water=st.floats(10, 100_000), source=st.floats(0, 50))
@quick
def test_steady_nitrate_leaves_as_fast_as_it_comes(surplus: float, water: float, source: float) -> None:
    """At the steady level the exchange carries off the surplus and what the new water brings, and it stays there."""
    level = chemistry_nitrate.steady_nitrate(nitrate_surplus=surplus, new_water=water, source_nitrate=source)
    assert water * level / 1000 == pytest.approx(surplus + water * source / 1000, rel=1e-9)


def test_daily_steps_settle_at_the_steady_nitrate() -> None:
    """A tank simulated in small steps comes to rest at the level of the formula."""
    volume, water, surplus, level = 10_000.0, 500.0, 20.0, 0.0
    for _ in range(40_000):
        level += (surplus * 1000 - water * level) / volume / 100
    assert level == pytest.approx(chemistry_nitrate.steady_nitrate(nitrate_surplus=surplus, new_water=water))


@given(nitrogen=st.floats(0.01, 1000), strength=st.floats(1, 30), density=st.floats(0.88, 0.99))
@quick
def test_either_ammonia_dose_holds_the_nitrogen(nitrogen: float, strength: float, density: float) -> None:
    """Salt and solution both hold the nitrogen asked for."""
    salt = chemistry_nitrate.ammonium_chloride_dose(dosed_nitrogen=nitrogen)
    assert salt * WEIGHTS["N"] / (WEIGHTS["N"] + 4 * WEIGHTS["H"] + WEIGHTS["Cl"]) == pytest.approx(nitrogen, rel=1e-6)
    millilitres = chemistry_nitrate.ammonia_solution_dose(
        dosed_nitrogen=nitrogen, solution_strength=strength, solution_density=density
    )
    ammonia = millilitres * density * strength / 100
    assert ammonia * WEIGHTS["N"] / (WEIGHTS["N"] + 3 * WEIGHTS["H"]) == pytest.approx(nitrogen, rel=1e-6)


@given(present=st.floats(0.001, 10), doublings=st.integers(0, 12), time=st.floats(0.3, 5))
@quick
def test_start_up_takes_one_doubling_time_for_each_doubling(present: float, doublings: int, time: float) -> None:
    """Bacteria that must become two to the n times as many need n doubling times."""
    needed = present * 2**doublings
    if needed >= 0.01:
        days = chemistry_nitrate.start_up_days(present_capacity=present, needed_capacity=needed, doubling_time=time)
        assert days == pytest.approx(doublings * time, abs=1e-9)


@given(wished=st.floats(1, 10), present=st.floats(0, 0.9), volume=st.floats(0.1, 1000), drop=st.floats(0.1, 5))
@quick
def test_start_up_dose_gives_the_wished_level(wished: float, present: float, volume: float, drop: float) -> None:
    """The nitrogen dosed, spread over the water, lifts the level to the wish; a steady fall uses it up on time."""
    grams = chemistry_nitrate.start_up_nitrogen(wished_ammonia=wished, present_ammonia=present, system_volume=volume)
    assert present + grams / volume == pytest.approx(wished)
    assert chemistry_nitrate.clearing_days(total_ammonia=wished, daily_drop=drop) * drop == pytest.approx(wished)


@given(demand=st.floats(0.1, 100_000))
@quick
def test_every_base_brings_the_same_equivalents(demand: float) -> None:
    """The five doses for one demand hold equally many moles of alkalinity."""
    masses, bases = chemistry_masses, chemistry_bases
    equivalents = 2 * demand / masses.CALCIUM_CARBONATE
    for dose, molar, valence in (
        (bases.potassium_hydroxide_dose, masses.POTASSIUM_HYDROXIDE, 1),
        (bases.calcium_hydroxide_dose, masses.CALCIUM_HYDROXIDE, 2),
        (bases.sodium_bicarbonate_dose, masses.SODIUM_BICARBONATE, 1),
        (bases.potassium_bicarbonate_dose, masses.POTASSIUM_BICARBONATE, 1),
        (bases.potassium_carbonate_dose, masses.POTASSIUM_CARBONATE, 2),
    ):
        assert dose(alkalinity_demand=demand) / molar * valence == pytest.approx(equivalents, rel=1e-9)


@given(demand=st.floats(1, 100_000), share=st.floats(1, 99))
@quick
def test_shares_of_two_bases_meet_the_whole_demand(demand: float, share: float) -> None:
    """Two bases that split the demand bring all of it, and the potassium and calcium are counted once."""
    hydroxide = chemistry_bases.potassium_hydroxide_dose(alkalinity_demand=demand, base_share=share)
    lime = chemistry_bases.calcium_hydroxide_dose(alkalinity_demand=demand, base_share=100 - share)
    potassium = chemistry_bases.potassium_from_hydroxide(hydroxide_dose=hydroxide)
    calcium = chemistry_bases.calcium_from_hydroxide(lime_dose=lime)
    equivalents = potassium / WEIGHTS["K"] + 2 * calcium / WEIGHTS["Ca"]
    assert equivalents == pytest.approx(2 * demand / chemistry_masses.CALCIUM_CARBONATE, rel=1e-9)


@given(demand=st.floats(1, 100_000))
@quick
def test_hydroxide_and_bicarbonate_bring_the_same_potassium(demand: float) -> None:
    """For one demand either potassium base brings the same potassium."""
    hydroxide = chemistry_bases.potassium_hydroxide_dose(alkalinity_demand=demand)
    bicarbonate = chemistry_bases.potassium_bicarbonate_dose(alkalinity_demand=demand)
    assert chemistry_bases.potassium_from_hydroxide(hydroxide_dose=hydroxide) == pytest.approx(
        chemistry_bases.potassium_from_bicarbonate(bicarbonate_dose=bicarbonate), rel=1e-9
    )


@given(volume=st.floats(0.1, 1000), rise=st.floats(0.1, 5), content=st.floats(1, 30))
@quick
def test_chelate_holds_the_iron_asked_for(volume: float, rise: float, content: float) -> None:
    """The iron in the product is the iron needed."""
    iron = chemistry_bases.iron_needed(system_volume=volume, iron_concentration=rise)
    product = chemistry_bases.iron_chelate_dose(system_volume=volume, iron_concentration=rise, iron_content=content)
    assert chemistry_bases.iron_content_of_product(iron_mass=iron, product_mass=product) == pytest.approx(content)


@given(
    wished=st.floats(150, 500), present=st.floats(0, 150), volume=st.floats(0.1, 1000), days=st.floats(1, 60)
)
@quick
def test_alkalinity_raised_daily_reaches_the_wish(wished: float, present: float, volume: float, days: float) -> None:
    """The daily additions together lift the water from the present to the wished alkalinity."""
    daily = chemistry_bases.alkalinity_to_add(
        wished_alkalinity=wished, present_alkalinity=present, system_volume=volume, raising_days=days
    )
    assert present + daily * days / volume == pytest.approx(wished)


@given(value=st.floats(0, 1500))
@quick
def test_units_of_alkalinity_and_hardness_invert(value: float) -> None:
    """Equivalents and German degrees lead back to the same milligrams."""
    equivalents = chemistry_water.alkalinity_in_equivalents(alkalinity=value)
    assert chemistry_water.alkalinity_from_equivalents(alkalinity_equivalents=equivalents) == pytest.approx(value)
    degrees = chemistry_water.hardness_in_german_degrees(hardness=value)
    assert chemistry_water.hardness_from_german_degrees(german_hardness=degrees) == pytest.approx(value)


@given(ph=st.floats(0, 14))
@quick
def test_ph_and_hydrogen_ions_invert(ph: float) -> None:
    """The pH of the hydrogen ions of a pH is that pH."""
    ions = chemistry_water.hydrogen_ion(ph=ph)
    assert chemistry_water.ph_from_hydrogen_ion(hydrogen_ion=max(ions, 1e-14)) == pytest.approx(ph, abs=1e-9)


def test_conductivity_at_25_degrees_is_left_alone() -> None:
    """A reading taken at 25 degrees needs no correction, whatever the coefficient."""
    for coefficient in (0.5, 1.9, 3.0):
        assert chemistry_water.conductivity_at_25(
            conductivity=1234.0, temperature=25.0, temperature_coefficient=coefficient
        ) == pytest.approx(1234.0)


@given(now=st.floats(50, 1000), source=st.floats(0, 20), target=st.floats(25, 49))
@quick
def test_exchange_for_a_target_reaches_it(now: float, source: float, target: float) -> None:
    """Exchanging the share found leaves exactly the wished concentration."""
    share = chemistry_water.exchange_for_target(
        concentration=now, source_concentration=source, target_concentration=target
    )
    after = chemistry_water.concentration_after_exchange(
        concentration=now, source_concentration=source, exchanged_share=share
    )
    assert after == pytest.approx(target)


@given(now=st.floats(1, 1000), source=st.floats(0, 20), share=st.floats(0, 100), count=st.integers(1, 8))
@quick
def test_exchanges_in_a_row_are_single_exchanges_repeated(now: float, source: float, share: float, count: int) -> None:
    """The formula for several exchanges is the single exchange, applied that often."""
    level = now
    for _ in range(count):
        level = chemistry_water.concentration_after_exchange(
            concentration=max(level, 0.1), source_concentration=source, exchanged_share=share
        )
        if level < 0.1:
            return
    together = chemistry_water.concentration_after_exchanges(
        concentration=now, source_concentration=source, exchanged_share=share, exchanges=float(count)
    )
    assert together == pytest.approx(level)


def test_steady_flushing_is_the_limit_of_small_exchanges() -> None:
    """A hundred exchanges of one per cent come close to one volume of steady flushing, and leave a little less."""
    steps = chemistry_water.concentration_after_exchanges(
        concentration=100.0, source_concentration=0.0, exchanged_share=1.0, exchanges=100.0
    )
    steady = chemistry_water.concentration_after_flushing(
        concentration=100.0, source_concentration=0.0, new_water=100.0, system_volume=1.0, flushing_days=10.0
    )
    assert steady == pytest.approx(100 / math.e)
    assert steps < steady
    assert steps == pytest.approx(steady, rel=0.006)


def test_ammonia_below_the_limit_has_no_highest_ph() -> None:
    """A total ammonia that could never exceed the limit is refused rather than answered with nonsense."""
    with pytest.raises(OutOfRange, match="total_ammonia"):
        chemistry.highest_ph(total_ammonia=0.05, un_ionised_limit=0.09, temperature=25.0)
