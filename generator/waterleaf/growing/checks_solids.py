"""Findings on what leaves the water: flushes, new water, fine solids, sludge tanks, nitrogen, and the drain."""

from typing import Any, Final

from waterleaf.calc.quantity import cite
from waterleaf.growing.checks_feed import Check
from waterleaf.growing.finding import (
    CROP,
    FISH,
    PEOPLE,
    Band,
    Finding,
    Missing,
    Reckoning,
    Table,
    also,
    both,
    figure,
    finding,
    reference,
)
from waterleaf.working import figures
from waterleaf.working.steps import Working

# Gas from sludge is the one finding here that can kill a person.
SLUDGE_GAS: Final = (
    "Sludge without air gives off gas that can stun and kill. Nobody leans or climbs into a sludge tank; work in the "
    "open with a second person. If it smells of rotten eggs, walk away and call a trained person. Gloves, goggles, "
    "washed hands."
)
_COURSE: Final = "band set for this course"


def _caught(r: Reckoning) -> Working:
    r.need("feed.daily")
    solids = r.of("faecal_solids", daily_feed="feed.daily", solids_share="solids.share")
    return r.of("captured_solids", dry_solids=solids, capture="solids.capture")


def needed_flush(r: Reckoning) -> Working:
    """Sludge that must be flushed in a day."""
    return r.of("flush_volume", dry_solids=_caught(r), sludge_solids="solids.sludge")


def flush(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """What is flushed against what has to be."""
    r.need("feed.daily")
    needed = needed_flush(r)
    if not r.known("flush.daily"):
        raise Missing(r.system.lacking("flush.daily"), f"Needed are {both(float(needed.value), 'L')} a day.")
    times = r.times(r.value("flush.daily"), float(needed.value))
    return finding(
        r, key, title, harms, times, Band(0.9, 2, f"{_COURSE}: what is flushed over what must be", 0.6, 4),
        shown=f"{figure(r.value('flush.daily'), 'L/day')} flushed{also(r.value('flush.daily'), 'L/day')}, "
        f"{figure(float(needed.value), 'L/day')} needed{also(float(needed.value), 'L/day')}",
        band_text="0.9 to 2 times the need", says={
            "fine": "The solids of a day leave on the day.",
            "below": "Solids stay behind. Flush more often rather than longer.",
            "above": "Much clean water goes out with the solids. Flush shorter; measure what comes out with a bucket.",
        },
        caution="Solids that stay in the cone rot within days: oxygen falls, and foul gas gathers in closed pipes. "
        + SLUDGE_GAS,
    )


def replacement(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """New water a day as a share of the loop."""
    worked = r.of("replacement_share", new_water="water.new_water", system_volume="system.volume")
    source = (
        f"{reference(cite('alhafedh2008', '1.4 %'))}; {reference(cite('rakocy2006', '1.5 %'))}; "
        f"{reference(cite('gullian2013', '2.1 %'))}"
    )
    return finding(r, key, title, harms, worked, Band(1.4, 2.1, source, 0.4, 10), says={
        "fine": "As much new water as published raft systems take.",
        "below": "Less new water than published systems take. Salts and sodium may gather: test the loop and the tap.",
        "above": "More new water than published raft systems take. Look for a leak, an overflow or too long flushes.",
    }, caution="New water must be free of chlorine and as warm as the loop, or it harms fish.")


def fine_solids(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """How long the fine-solids tank can go without cleaning, against how long it goes."""
    r.need("feed.daily", "fine.volume", "fine.full_at", "fine.cleaned_every")
    solids = r.of("faecal_solids", daily_feed="feed.daily", solids_share="solids.share")
    sludge = r.of(
        "fine_tank_sludge", dry_solids=solids, clarifier_capture="solids.capture", fine_capture="solids.fine_capture",
        sludge_solids="solids.sludge",
    )
    longest = r.of("cleaning_interval", tank_volume="fine.volume", full_share="fine.full_at", sludge=sludge)
    now = r.value("fine.cleaned_every")
    top = min(7.0, float(longest.value))
    source = f"{reference(cite('uvi_slides', 'cleaned once or twice a week'))}; and before it is full"
    return finding(
        r, key, title, harms, longest, Band(None, top, source, worst_high=2 * top), judge=now,
        shown=f"cleaned every {figure(now, 'day')}; full after {figure(float(longest.value), 'day')}",
        band_text=f"at most {figure(top, 'day')}", says={
            "fine": "Cleaned before it is full.",
            "above": "The netting fills before it is cleaned, and gives solids back to the beds. Clean more often.",
        }, caution=SLUDGE_GAS,
    )


def batch_tank(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Size of the tank in which air breaks the sludge down."""
    r.need("feed.daily", "sludge.fill_days", "sludge.headroom", "sludge.tank_volume")
    sludge: float | Working = r.value("flush.daily") if r.known("flush.daily") else needed_flush(r)
    needed = r.of("batch_tank_volume", sludge=sludge, fill_days="sludge.fill_days", empty="sludge.headroom")
    there = r.value("sludge.tank_volume")
    return finding(
        r, key, title, harms, needed, Band(1, None, f"{_COURSE}: the batch and its foam must fit", worst_low=0.9),
        judge=there / float(needed.value), band_text="as large as the need, or larger",
        shown=f"{figure(there, 'L')} there{also(there, 'L')}, {figure(float(needed.value), 'L')} needed"
        f"{also(float(needed.value), 'L')}", says={
            "fine": "A batch and its foam fit in.",
            "below": "The tank runs over before the batch is done. Fill for fewer days, flush shorter, or add a tank.",
        }, caution=SLUDGE_GAS,
    )


def rotation(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Number of batch tanks; a single one is drawn down by half each time, so it must hold two fillings."""
    r.need("sludge.tanks", "sludge.fill_days")
    there = r.value("sludge.tanks")
    if there == 1:
        return _one_tank(r, key, title, harms)
    r.need("sludge.treat_days", "sludge.rest_days")
    needed = r.of(
        "tanks_in_rotation", fill_days="sludge.fill_days", treat_days="sludge.treat_days", rest_days="sludge.rest_days"
    )
    return finding(
        r, key, title, harms, needed, Band(float(needed.value), None, f"{_COURSE}: one must always be ready to fill"),
        judge=there, band_text=f"at least {figures.plain(needed.value, 3)}", shown=f"{there:.0f} there", says={
            "fine": "One tank is always ready to be filled.",
            "below": "No tank is ready when the next batch comes. Shorten the treatment only if the water tests clean.",
        }, caution=SLUDGE_GAS,
    )


def _one_tank(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    r.need("flush.daily", "sludge.headroom", "sludge.tank_volume")
    needed = r.of(
        "batch_tank_volume", sludge="flush.daily", fill_days=2 * r.value("sludge.fill_days"), empty="sludge.headroom"
    )
    there = r.value("sludge.tank_volume")
    return finding(
        r, key, title, harms, needed, Band(1, None, f"{_COURSE}: half stays behind, so two fillings must fit"),
        judge=there / float(needed.value),
        band_text=f"one tank of at least {both(float(needed.value), 'L')}",
        shown=f"one tank of {both(there, 'L')}, drawn down by half", says={
            "fine": "One tank is enough, drawn down by about half each time.",
            "below": "One tank is too small for half to stay behind. Add a tank, or let two take turns.",
        }, caution=SLUDGE_GAS,
    )


def nitrogen(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Where a day's nitrogen goes; the finding is what no row finds again."""
    r.need("feed.daily", "feed.protein", "fish.conversion_ratio", "beds.area")
    gain = r.of("gain_from_feed", feed_fed="feed.daily_mass", conversion_ratio="fish.conversion_ratio")
    wish = float(r.of("plant_uptake", bed_area="beds.area", uptake_rate="crop.uptake").value)
    inputs: dict[str, Any] = {
        "feed_fed": "feed.daily_mass", "protein": "feed.protein", "gain": gain, "fish_protein": "fish.protein",
        "solids_part": "solids.nitrogen_part", "mineralised": "sludge.mineralised", "drawn": "sludge.drawn",
    }
    without = r.of("nitrogen_balance", **inputs)
    in_water = float(without.value[-1].amount)
    r.workings.remove(without)
    # A crop cannot take up more than there is; seven figures keep the sum below what the balance allows.
    balance = r.of("nitrogen_balance", **inputs, uptake=min(wish, in_water * 0.999999))
    rows = balance.value
    left = r.of("nutrient_share", part=max(0.0, float(rows[-1].amount)), fed=float(rows[0].amount))
    table = Table(
        ("part", "from", "g a day", "% of the feed's nitrogen"),
        tuple((row.part, row.source, figures.plain(row.amount, 3), figures.plain(row.share, 3)) for row in rows),
    )
    return finding(
        r, key, title, harms, left, Band(None, 40, f"{_COURSE}; it goes off as gas, builds up, or leaves with water",
        worst_high=70), table=table, says={
            "fine": "Most of the nitrogen is found again."
            + (" The crop could take up more than there is." if wish > in_water else ""),
            "above": "Much of the nitrogen is not found in fish, crop or sludge. More bed area, or less feed, and a "
            "nitrate test every week.",
        },
    )


def leaves(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Whether nothing leaves the farm: water to a drain, and where the sludge goes."""
    r.need("water.to_drain", "system.volume")
    if r.system.file.sludge.goes_to is None:
        raise Missing(("sludge.goes_to",))
    places = r.system.file.sludge.goes_to
    off = [place for place in places if place in ("drain", "sewer", "carted")]
    litres = r.value("water.to_drain")
    worked = r.of("replacement_share", new_water="water.to_drain", system_volume="system.volume")
    band = Band(None, 0, "meaning of zero discharge: nothing to any drain, ditch, sewer or cart")
    true_here = not litres and not off
    return finding(
        r, key, title, harms, worked, band, judge=0.0 if true_here else 1.0,
        band_text="0\u00a0L/day, and no sludge away",
        shown=f"{both(litres, 'L/day')} to a drain; sludge to {', '.join(places)}",
        says={
            "fine": "By this file, zero discharge is true here: what leaves is crop, fish, vapour and gas. Keep the "
            "log that shows it, and count spills.",
            "above": "Zero discharge is not true here"
            + (f": sludge goes to {' and '.join(off)}" if off else "")
            + (", and water goes to a drain" if litres and off else ": water goes to a drain" if litres else "")
            + ". Do not claim it.",
        },
        caution="Discharge, sewer and land rules differ from place to place, and a permit may be needed for the "
        "smallest flow. Ask your authority before anything leaves.",
    )


CHECKS: Final[tuple[Check, ...]] = (
    ("flush", "Flush volume", PEOPLE, flush),
    ("batch_tank", "Mineralisation tank size", PEOPLE, batch_tank),
    ("rotation", "Mineralisation tanks in rotation", PEOPLE, rotation),
    ("fine_solids", "Cleaning of the fine-solids tank", CROP, fine_solids),
    ("replacement", "Replacement water", FISH, replacement),
    ("leaves", "What leaves the farm", PEOPLE, leaves),
    ("nitrogen", "Nitrogen not found again", CROP, nitrogen),
)
