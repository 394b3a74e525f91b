"""Nitrite on its way: where it rests, and how it peaks when a filter is new, washed out, cold or overloaded."""

from dataclasses import replace
from pathlib import Path

import pytest

from waterleaf.calc.chemistry.filter import held_ammonia
from waterleaf.growing.system import System, read_growing
from waterleaf.growing.term import Term, Today, run
from waterleaf.growing.term_books import Books
from waterleaf.growing.term_filter import Colonies, grown, nitrify, removed
from waterleaf.growing.term_limits import crossings, limits_of
from waterleaf.growing.term_rates import Rates, Step, rates_of

SYSTEM = read_growing(Path(__file__).parents[2] / "course" / "demo" / "growing.yaml")
RATES, _ = rates_of(SYSTEM)


def still(**changes: float) -> Rates:
    """The demo without crop, sludge tank, breakdown, gas and flush, so that only fish and filter are at work."""
    return replace(
        RATES, beds=(), tank=None, waters=replace(RATES.waters, vapour=0.0, splash=0.0),
        settling=replace(RATES.settling, breakdown=0.0, resettled=0.0, fine_every=0, fine_capture=0.0, flush=1e-9),
        filter=replace(RATES.filter, denitrified=0.0, **changes),
    )  # fmt: skip


def days(rates: Rates, count: int) -> Term:
    """Days as planned, without a flush."""
    return run(rates, [Today(flush=False)] * count)


def peak(term: Term, field: str) -> tuple[float, int]:
    """The highest reading, and its day."""
    return max((getattr(day, field), day.day) for day in term.days)


def test_nitrite_rests_where_the_first_step_and_the_second_meet() -> None:
    """At a steady load nitrite is that of the relation for a tank and its filter, at the second step's share."""
    rates = still()
    load = 800 * (0.0576 - 0.016 - 0.00832)
    share = 100 * (1 - 0.5**1.11)
    expected = held_ammonia(ammonia_load=load, water_flow=60.0, filter_efficiency=share)
    assert days(rates, 60).days[-1].nitrite == pytest.approx(expected, rel=1e-6)


def test_nitrite_keeps_a_fixed_ratio_to_ammonia_at_any_load() -> None:
    """Nijhof and Klapwijk 1995 (Water Research 29, 2287; abstract): for a filter, the two stand in a fixed ratio."""
    ratios = []
    for factor in (0.25, 0.5, 1.0, 1.5):
        rates = replace(still(), feeding=replace(RATES.feeding, daily=factor * RATES.feeding.daily))
        last = days(rates, 60).days[-1]
        ratios.append(last.nitrite / last.ammonia)
    assert ratios == pytest.approx([ratios[0]] * 4, rel=1e-6)


def test_less_able_nitrite_bacteria_mean_more_nitrite() -> None:
    """Nijhof and Klapwijk 1995: growths with a low capacity for nitrite went with high nitrite, and ammonia kept."""
    weak = still(nitrite=replace(RATES.filter.nitrite, pass_share=0.2))  # type: ignore[arg-type]
    usual, found = days(still(), 60).days[-1], days(weak, 60).days[-1]
    assert found.nitrite > 2 * usual.nitrite
    assert found.ammonia == pytest.approx(usual.ammonia)


def test_a_new_filter_peaks_in_ammonia_and_then_in_nitrite_as_measured() -> None:
    """Sikora, Nowosad and Kucharczyk 2020 (Applied Sciences 10, 626; abstract) ripened filters with carp: about 3 mg/L
    of ammonia nitrogen from day 3 for ten days, then below 0.25; nitrite nitrogen up to 11.7 to 20.9 mg/L within 9 to
    20 days, then falling. The load is set to 1 mg/L a day, as their third day says; volume and seed were not told, so
    that days may be off by a week and heights by half."""
    rates = still(ammonia_grown=1e-5, nitrite_grown=1e-5)
    per_day = 800 * (0.0576 - 0.016 - 0.00832) / rates.waters.volume * 1000
    rates = replace(rates, feeding=replace(rates.feeding, daily=800 / per_day), waters=replace(
        rates.waters, ammonia=0.0, nitrite=0.0))  # fmt: skip
    term = days(rates, 60)
    (_, ammonia_day), (height, nitrite_day) = peak(term, "ammonia"), peak(term, "nitrite")
    assert 6 <= ammonia_day <= 20
    assert ammonia_day < nitrite_day <= 27
    assert 11.7 / 2 <= height <= 20.9 * 1.5
    assert term.days[-1].nitrite < 0.5 and term.days[-1].ammonia < 0.5


def test_a_filter_that_was_washed_out_lets_nitrite_through_for_days() -> None:
    """Nine in ten bacteria gone: ammonia first, nitrite after it, and both back within two weeks."""
    lost = run(RATES, [Today(filter_lost=0.95 if day == 10 else 0.0) for day in range(1, 31)])
    (_, ammonia_day), (height, nitrite_day) = peak(lost, "ammonia"), peak(lost, "nitrite")
    assert 10 <= ammonia_day < nitrite_day <= 20
    assert height > 1
    assert {"harmful", "nitrite"} <= {one.limit.key for one in crossings(lost, limits_of(SYSTEM, RATES))}
    assert lost.days[-1].nitrite == pytest.approx(run(RATES, [Today()] * 30).days[-1].nitrite, rel=0.05)


def test_a_cold_filter_holds_more_nitrite() -> None:
    """Eight degrees colder, bacteria work half as fast and the water holds more of both."""
    cold = run(RATES, [Today(warmer=-8)] * 30).days[-1]
    usual = run(RATES, [Today()] * 30).days[-1]
    assert cold.nitrite > 1.5 * usual.nitrite
    assert cold.ammonia > 1.5 * usual.ammonia


def test_an_overloaded_second_step_gathers_nitrite_day_by_day() -> None:
    """Beyond its capacity of 10 g a day, the surplus of every day stays in the water."""
    rates = still(nitrite=replace(RATES.filter.nitrite, capacity=10.0))  # type: ignore[arg-type]
    term = days(rates, 30)
    load = 800 * (0.0576 - 0.016 - 0.00832)
    gained = (term.days[-1].nitrite - term.days[9].nitrite) * rates.waters.volume / 1000
    assert gained == pytest.approx(20 * (load - 10.0), rel=1e-6)


def test_bacteria_double_in_their_own_time_while_there_is_plenty() -> None:
    """At 20 degrees and plenty, 21 hours make twice as many of the first kind, and 26 of the second."""
    system = System(SYSTEM.file, {
        **SYSTEM.given, "water.temperature": replace(SYSTEM.given["water.temperature"], number=20.0)
    })  # fmt: skip
    filter_ = rates_of(system)[0].filter
    for step, hours in ((filter_.ammonia, 21), (filter_.nitrite, 26)):
        assert grown(step, 0.01, worked=step.capacity, warmth=1.0) == pytest.approx(0.01 * 2 ** (24 / hours))


def test_bacteria_without_work_do_not_grow_and_never_beyond_the_filter() -> None:
    """Growth follows what was oxidised, and stops where the surface ends."""
    step = Step(0.5, 50.0, 1.0)
    assert grown(step, 0.3, worked=0.0, warmth=1.0) == 0.3
    assert grown(step, 0.9, worked=50.0, warmth=1.0) == 1.0
    assert grown(Step(0.5, 0.0, 1.0), 0.3, worked=1.0, warmth=1.0) == 0.3


def test_thin_growth_takes_a_part_that_goes_with_its_surface() -> None:
    """Half the growth lets the root of the share through: two halves in a row make the whole."""
    step = Step(0.75, 1e9, 1.0)
    whole, half = (removed(step, 100.0, 1e6, 50.0, 0.0, activity, 1e-6) for activity in (1.0, 0.5))
    assert half / whole == pytest.approx(0.5 / 0.75, rel=1e-3)


def test_acid_is_set_free_in_the_first_step_alone() -> None:
    """Nitrite into nitrate uses no alkalinity; ammonia into nitrite uses all of it, or as much as there is."""
    books = Books({"water@loop": 1000.0, "nitrite@loop": 5.0, "alkalinity@loop": 3.0})
    nitrify(RATES.filter, books, Colonies(), 0.0, 1.0, 0.0)
    assert books.of("alkalinity@loop") == 3.0 and books.of("nitrate@loop") > 0
    books = Books({"water@loop": 1000.0, "ammonia@loop": 5.0, "alkalinity@loop": 3.0})
    assert nitrify(RATES.filter, books, Colonies(), 0.0, 1.0, 0.0) == pytest.approx(3.0 / RATES.filter.alkalinity)


def test_a_still_pump_stops_both_steps() -> None:
    """Nothing comes past the bacteria."""
    books = Books({"water@loop": 1000.0, "ammonia@loop": 5.0, "nitrite@loop": 5.0, "alkalinity@loop": 100.0})
    assert nitrify(RATES.filter, books, Colonies(), 0.0, 0.0, 0.0) == 0.0
    assert books.of("nitrate@loop") == 0.0


def test_no_loss_leaves_a_filter_dead_for_ever() -> None:
    """A few bacteria stay even when all are said to die."""
    colonies = Colonies()
    colonies.lose(1.0)
    assert colonies.ammonia > 0 and colonies.nitrite > 0
