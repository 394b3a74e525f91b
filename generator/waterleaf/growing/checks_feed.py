"""Findings on feed, stock and flow: does the system get what its beds, fish and tanks ask for?"""

from collections.abc import Callable
from typing import Final

from waterleaf.calc.quantity import cite
from waterleaf.growing.facts import SPECIES
from waterleaf.growing.finding import CROP, FISH, Band, Finding, Reckoning, both, finding, reference

Check = tuple[str, str, int, Callable[[Reckoning, str, str, int], Finding]]

_RAFT_TOP: Final = 100.0
_LEAFY_LOW, _FRUITING_LOW = 40.0, 50.0
_SLACK: Final = 0.25  # beyond a band by more than a quarter of its end, something is wrong with the plan itself
_GUIDE: Final = "chapter 8"


def feed_ratio(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Feed for each square metre of bed, against the crops that stand there."""
    r.need("feed.daily", "beds.area", "beds.leafy_area", "beds.fruiting_area")
    worked = r.of("feed_ratio", daily_feed="feed.daily", bed_area="beds.area")
    leafy, fruiting = r.value("beds.leafy_area"), r.value("beds.fruiting_area")
    low = (leafy * _LEAFY_LOW + fruiting * _FRUITING_LOW) / (leafy + fruiting)
    source = (
        f"from {reference(cite('somerville2014', 'section 8.1: 40 under leafy, 50 under fruiting crops, by area'))}, "
        f"to {reference(cite('rakocy2007', 'guideline 1: 60 to 100 on rafts'))}"
    )
    band = Band(low, _RAFT_TOP, source, low * (1 - _SLACK), _RAFT_TOP * (1 + _SLACK))
    return finding(r, key, title, harms, worked, band, says={
        "fine": "Feed and beds go together.",
        "below": "The crops get little. Take on fish and feed slowly, or rest a bed, and watch nitrate.",
        "above": "More feed than the beds can use. Plant more, or feed less; nitrate will climb.",
    })


def ration(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Feed as a share of the live weight."""
    worked = r.of("ration_from_biomass", daily_feed="feed.daily", biomass="fish.biomass")
    band = Band(1, 2, reference(cite("somerville2014", f"{_GUIDE}: fish over 50 g", "memory")), 0.5, 3)
    return finding(r, key, title, harms, worked, band, says={
        "fine": "The fish can eat what they get.",
        "below": "The fish stand hungry for what they weigh. Weigh a sample before you change anything.",
        "above": "More than fish of this size usually eat. Weigh a sample, and take off what is not eaten.",
    }, caution="Feed that is not eaten rots, takes oxygen and makes ammonia: fish can die of it overnight. Cut the "
        "feed first, then look for the cause. Young fish eat a larger share than grown ones.")


def meals(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """The day's feed split into meals."""
    r.need("feed.daily", "feed.meals")
    count = r.value("feed.meals")
    worked = r.of("feed_per_meal", daily_feed="feed.daily", meals="feed.meals")
    source = f"{reference(cite('hicks2009', 'bluegill fed three times daily'))}; 2 to 4 is common practice, no source"
    return finding(r, key, title, harms, worked, Band(2, 4, source), judge=count, band_text="2 to 4 meals a day", says={
        "fine": f"{count:.0f} meals a day.",
        "below": "One large meal takes the oxygen down hard in the hours after it. Split it.",
        "above": "Many small meals: sound for young fish, and more work than a class can keep up at weekends.",
    })


def density(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Live weight in a cubic metre of tank."""
    worked = r.of("stocking_density", biomass="fish.biomass", tank_volume="tanks.volume")
    source = reference(cite("somerville2014", "chapter 7: upper limit for small systems", "memory"))
    return finding(r, key, title, harms, worked, Band(None, 20, source, worst_high=20), says={
        "fine": "There is time to act when a pump stops.",
        "above": "Too many fish for a school's tanks. Harvest or move fish until the figure is back in the band.",
    }, caution="Above this density fish may be dead within an hour of a stopped blower or pump. Have an alarm, a "
        "spare blower and somebody on call tonight. The welfare rules of your authority and school come first.")


def warmth(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Water temperature against the fish; turned into a heat for the whole loop, so that it can be planned."""
    r.need("fish.number", "water.temperature", "system.volume")
    fish = r.system.file.fish
    assert fish is not None
    species, now = SPECIES[fish.species.lower()], r.value("water.temperature")
    wished = min(max(now, species.coldest), species.warmest)
    band = Band(species.coldest, species.warmest, reference(species.source), species.coldest - 8, species.warmest + 2)
    change = abs(wished - now)
    worked = r.of("water_heating", water_volume="system.volume", temperature_change=change) if change else None
    return finding(
        r, key, title, harms, worked, band, judge=now, shown=both(now, "degC"),
        band_text=band.text("degC"), says={
            "fine": f"The water suits {fish.species}.",
            "below": f"Cool for {fish.species}: they eat and grow less. The working gives the heat that would bring "
            "the loop into the band. Feed by what they eat.",
            "above": f"Too warm for {fish.species}. Shade the tanks, feed less, and watch oxygen; warm water holds "
            "little of it.",
        },
        caution="Change the temperature of fish water by no more than a degree or two a day (common practice, no "
        "source). A heater in water needs a ground-fault device (GFCI, RCD), and is unplugged before anybody "
        "reaches in.",
    )


def turnover(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Time in which the pump turns over the fish tanks."""
    worked = r.of("turnover_time", tank_volume="tanks.volume", flow="pump.flow")
    source = (
        f"{reference(cite('somerville2014', 'about half an hour in small systems', 'memory'))}; "
        f"{reference(cite('uvi_slides', '1.37 h in a large raft system'))}"
    )
    return finding(r, key, title, harms, worked, Band(0.4, 1.4, source, 0.2, 2.1), says={
        "fine": "The tanks are turned over in good time.",
        "below": "Faster than systems usually run. Check that the settling tank can bear the flow.",
        "above": "Slow: waste stays with the fish. Clean the pump and pipes, measure the flow again, then think of a "
        "larger pump.",
    }, caution="Waste and ammonia gather where water stands. Unplug the pump before you open or lift it.")


def retention(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """Time that water has to settle."""
    worked = r.of("retention_time", settling_volume="clarifier.volume", water_flow="clarifier.flow")
    source = (
        f"{reference(cite('hager2021', 'clarifier sizing, 30 minutes'))}; {reference(cite('uvi2010', '20 minutes'))}; "
        "hatchery basins up to 2 hours (from memory)"
    )
    return finding(r, key, title, harms, worked, Band(20, 120, source, worst_low=15), says={
        "fine": "Solids have the time to sink.",
        "below": "The water leaves before the solids have sunk. Send part of the flow past it, or build a larger one.",
        "above": "Longer than it needs. Solids that lie long begin to rot, so flush often.",
    })


def overflow(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """How fast water rises in the settling tank."""
    worked = r.of("overflow_rate", water_flow="clarifier.flow", plan_area="clarifier.plan_area")
    source = (
        f"{reference(cite('rakocy2006', '104 m a day by its flow and diameter', 'memory'))}; "
        f"beyond {reference(cite('davidson2005', '268 m a day, 37 to 78 % caught'))}"
    )
    return finding(r, key, title, harms, worked, Band(None, 104, source, worst_high=268), says={
        "fine": "Water rises more slowly than whole droppings sink.",
        "above": "Water rises fast and takes fine solids along. A wider tank helps, a deeper one does not.",
    })


CHECKS: Final[tuple[Check, ...]] = (
    ("density", "Stocking density", FISH, density),
    ("ration", "Feed for the standing biomass", FISH, ration),
    ("warmth", "Water temperature", FISH, warmth),
    ("turnover", "Turnover of the fish tanks", FISH, turnover),
    ("feed_ratio", "Feed ratio for the crop mix", CROP, feed_ratio),
    ("meals", "Feed a meal", FISH, meals),
    ("retention", "Retention in the settling tank", CROP, retention),
    ("overflow", "Overflow rate of the settling tank", CROP, overflow),
)
