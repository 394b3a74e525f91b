"""A term of a growing system, day by day: water, nitrogen, phosphorus, alkalinity, solids, fish and crops.

Each day's amounts are entered twice, from where they leave and where they go (`term_books`), so that water, nitrogen
and phosphorus close. Left out: deaths, pests, light, and what a hot day does to a crop.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from waterleaf.calc.air.oxygen import oxygen_saturation
from waterleaf.calc.air.term import oxygen_at_demand
from waterleaf.calc.chemistry.ammonia import un_ionised_ammonia
from waterleaf.calc.chemistry.term import ph_after_alkalinity
from waterleaf.calc.energy.vapour import vapour_pressure_at_saturation
from waterleaf.growing.term_books import BOUND, Books
from waterleaf.growing.term_crops import Cut, Planting, first_plantings, grow, wish
from waterleaf.growing.term_filter import Colonies, nitrify
from waterleaf.growing.term_rates import Rates, SludgeTank

# The relations for pH and ammonia hold between these values.
_LOWEST_PH: Final = 5.0
_HIGHEST_PH: Final = 8.5


@dataclass(frozen=True, slots=True)
class Today:
    """What is done on a day, and what goes wrong: hours without the pump, degrees warmer, feed over the plan, part
    of the filter's bacteria that dies."""

    flush: bool = True
    pump_off: float = 0.0
    warmer: float = 0.0
    feed: float = 1.0
    top_up: bool = True
    harvest: bool = True
    base: bool = True
    filter_lost: float = 0.0


@dataclass(frozen=True, slots=True)
class Reading:
    """How the system stands at the end of a day; contents in mg/L, amounts of the day in litres, grams and money."""

    day: int
    water: float
    temperature: float
    oxygen: float
    ph: float
    ammonia: float
    harmful: float
    nitrite: float
    nitrate: float
    phosphate: float
    alkalinity: float
    suspended: float
    cone: float
    biomass: float
    lacking: float
    top_up: float
    drained: float
    base: float
    nitrified: float
    uneaten: float
    cuts: tuple[Cut, ...]


@dataclass
class State:
    """Where the system stands between two days."""

    day: int
    temperature: float
    biomass: float
    books: Books
    plantings: dict[str, tuple[Planting, ...]]
    colonies: Colonies

    def copy(self) -> "State":
        """A state that goes on by itself."""
        return State(
            self.day, self.temperature, self.biomass, self.books.copy(), dict(self.plantings), self.colonies.copy()
        )


@dataclass(frozen=True)
class Term:
    """The days of a term, and how it ended."""

    days: tuple[Reading, ...]
    end: State


def start(rates: Rates) -> State:
    """The system on the eve of the first day, as its readings say; the cone has just been flushed."""
    waters = rates.waters
    grams = {
        "ammonia@loop": waters.ammonia, "nitrite@loop": waters.nitrite, "nitrate@loop": waters.nitrate,
        "phosphate@loop": waters.phosphate, "alkalinity@loop": waters.alkalinity,
    }  # fmt: skip
    accounts = {name: content * waters.volume / 1000 for name, content in grams.items()}
    return State(
        0, waters.temperature, rates.biomass, Books({**accounts, "water@loop": waters.volume}),
        {bed.name: first_plantings(bed) for bed in rates.beds},
        Colonies(rates.filter.ammonia_grown, rates.filter.nitrite_grown),
    )


def run(rates: Rates, days: Iterable[Today], since: State | None = None) -> Term:
    """The days one after another, from the start or from a state in between, which is left as it was."""
    state = (since or start(rates)).copy()
    readings = [advance(rates, state, today) for today in days]
    return Term(tuple(readings), state)


def advance(rates: Rates, state: State, today: Today) -> Reading:
    """Let one day go by in a state, and return its reading."""
    books, waters = state.books, rates.waters
    state.day += 1
    state.temperature += waters.warming * (waters.temperature + today.warmer - state.temperature)
    dry = waters.volume - books.of("water@loop") > waters.reserve
    running = 0.0 if dry else 1 - today.pump_off / 24
    eaten, left = _feed(rates, state, today)
    _settle(rates, books, running)
    freed, rotted = _break_down(rates, books)
    load = freed + eaten * (rates.feeding.nitrogen - rates.feeding.kept_n - rates.feeding.bound_n)
    state.colonies.lose(today.filter_lost)
    nitrified = nitrify(
        rates.filter, books, state.colonies, state.temperature - waters.temperature, running, load
    )
    cuts = _crops(rates, state, today.harvest)
    drained = _lose(rates, state)
    _sludge(rates, state, today.flush and running > 0)
    top_up, overflow = _fill(rates, books, today.top_up)
    base = _dose(rates, books, nitrified) if today.base else 0.0
    more_rot = max(0.0, rotted - rates.settling.usual_rot)  # the usual use has the usual rot in it
    use = (eaten + left) / rates.feeding.daily + more_rot * waters.oxygen_for_solids / waters.oxygen_use
    return _reading(
        rates, state, {
            "oxygen": _oxygen(rates, state, use, running), "top_up": top_up, "drained": drained + overflow,
            "base": base, "nitrified": nitrified, "uneaten": left,
        }, cuts,
    )


def _feed(rates: Rates, state: State, today: Today) -> tuple[float, float]:
    """Feed the fish; return what was eaten and what was left, which is now solids [g]."""
    feeding, books = rates.feeding, state.books
    offered = feeding.daily * today.feed
    wanted = feeding.daily * (min(1.0, today.feed) + feeding.extra_eaten * max(0.0, today.feed - 1))
    appetite = max(0.0, 1 - feeding.appetite_lost * max(0.0, state.temperature - feeding.warmest))
    eaten = wanted * appetite
    left = offered - eaten
    state.biomass += eaten * feeding.gain / 1000
    for kind, kept, bound, whole, dissolved in (
        ("n", feeding.kept_n, feeding.bound_n, feeding.nitrogen, "ammonia@loop"),
        ("p", feeding.kept_p, feeding.bound_p, feeding.phosphorus, "phosphate@loop"),
    ):
        stuff = "nitrogen" if kind == "n" else "phosphorus"
        books.move(f"{stuff}@feed", f"{stuff}@fish", eaten * kept)
        books.move(f"{stuff}@feed", f"bound_{kind}@fresh", eaten * bound + left * whole)
        books.move(f"{stuff}@feed", dissolved, eaten * (whole - kept - bound))
    books.move("solids@feed", "solids@fresh", eaten * feeding.solids + left * feeding.dry)
    return eaten, left


def _settle(rates: Rates, books: Books, running: float) -> None:
    """Solids into the cone and the fine tank while the pump runs, as long as there is room; the rest stays loose."""
    settling = rates.settling
    for source, share in (("suspended", settling.resettled), ("fresh", settling.capture)):
        there = books.of(f"solids@{source}")
        room = max(0.0, settling.cone_holds - books.of("solids@cone"))
        books.share(BOUND, source, "cone", min(share * running, room / there) if there > 0 else 0.0)
    there = books.of("solids@fresh")
    room = max(0.0, settling.fine_holds - books.of("solids@fine"))
    books.share(BOUND, "fresh", "fine", min(settling.fine_capture * running, room / there) if there > 0 else 0.0)
    books.share(BOUND, "fresh", "suspended", 1.0)


def _break_down(rates: Rates, books: Books) -> tuple[float, float]:
    """Solids in the loop break down and set their nutrients free; return the ammonia nitrogen and the solids [g]."""
    freed = rotted = 0.0
    for place in ("suspended", "cone", "fine"):
        part = rates.settling.breakdown
        freed += books.move(f"bound_n@{place}", "ammonia@loop", part * books.of(f"bound_n@{place}"))
        books.move(f"bound_p@{place}", "phosphate@loop", part * books.of(f"bound_p@{place}"))
        rotted += books.move(f"solids@{place}", "solids@gone", part * books.of(f"solids@{place}"))
    return freed, rotted


def _crops(rates: Rates, state: State, harvest: bool) -> tuple[Cut, ...]:
    """Let every bed take up what it wishes and finds, grow a day older, and be cut."""
    books = state.books
    wishes = {bed.name: wish(bed, state.plantings[bed.name], rates.uptake_n) for bed in rates.beds}
    total = math.fsum(map(math.fsum, wishes.values()))
    if total <= 0:
        return ()
    phosphorus = total * rates.uptake_p / rates.uptake_n
    got_n = books.move("nitrate@loop", "nitrogen@crop", total) / total
    got_p = books.move("phosphate@loop", "phosphorus@crop", phosphorus) / phosphorus
    cuts: list[Cut] = []
    for bed in rates.beds:
        state.plantings[bed.name], found = grow(
            bed, state.plantings[bed.name], wishes[bed.name], min(got_n, got_p), harvest
        )
        cuts += found
    return tuple(cuts)


def _lose(rates: Rates, state: State) -> float:
    """Vapour, which takes nothing along, and splash, which does; return the litres splashed."""
    waters, books = rates.waters, state.books
    more = _vapour(state.temperature) / _vapour(waters.temperature)
    books.move("water@loop", "water@air", waters.vapour * more)
    return _spill(books, waters.splash)


def _spill(books: Books, litres: float) -> float:
    there = books.of("water@loop")
    spilled = books.carry("loop", "drain", litres)
    books.share(BOUND, "suspended", "drain", spilled / there if there > 0 else 0.0)
    return spilled


def _sludge(rates: Rates, state: State, flush: bool) -> None:
    """Flush until it runs clear, clean the fine tank on its day, and look after the tank under air."""
    settling, books, tank = rates.settling, state.books, rates.tank
    target = "tank" if tank else "compost"
    if flush:
        litres = min(max(settling.flush, books.of("solids@cone") / settling.strength), settling.cone_litres)
        _draw(books, "cone", target, max(litres, settling.flush), settling.strength)
    if settling.fine_every and state.day % settling.fine_every == 0:
        _draw(books, "fine", target, books.of("solids@fine") / settling.strength, settling.strength)
    if tank:
        _under_air(tank, state)


def _draw(books: Books, source: str, target: str, litres: float, strength: float) -> None:
    """Sludge out of a cone: water of the loop, and as many solids as it can carry."""
    books.carry("loop", target, litres)
    there = books.of(f"solids@{source}")
    books.share(BOUND, source, target, min(1.0, litres * strength / there) if there > 0 else 0.0)


def _under_air(tank: SludgeTank, state: State) -> None:
    books = state.books
    part_n, part_p = 1 - math.exp(-tank.breakdown_n), 1 - math.exp(-tank.breakdown_p)
    books.move("bound_n@tank", "ammonia@tank", part_n * books.of("bound_n@tank"))
    books.move("bound_p@tank", "phosphate@tank", part_p * books.of("bound_p@tank"))
    books.move("solids@tank", "solids@gone", part_n * books.of("solids@tank"))
    if state.day % tank.every == 0:
        there = books.of("water@tank")
        books.carry("tank", tank.clear_to, tank.drawn * there)
        books.carry("tank", tank.residue_to, tank.settled * tank.residue_out * there)
        books.share(BOUND, "tank", tank.residue_to, tank.residue_out)


def _fill(rates: Rates, books: Books, top_up: bool) -> tuple[float, float]:
    """Bring the loop back to its level; return the litres that came in and those that ran over."""
    waters = rates.waters
    lacking = waters.volume - books.of("water@loop")
    if lacking < 0:
        return 0.0, _spill(books, -lacking)
    if not top_up:
        return 0.0, 0.0
    books.move("alkalinity@tap", "alkalinity@loop", lacking * waters.tap_alkalinity / 1000)
    return books.move("water@tap", "water@loop", lacking), 0.0


def _dose(rates: Rates, books: Books, nitrified: float) -> float:
    """Base for the day, as calcium carbonate: what was used up, and a part of what is still lacking [g]."""
    waters = rates.waters
    lacking = waters.wished_alkalinity * waters.volume / 1000 - books.of("alkalinity@loop")
    dose = min(lacking, nitrified * rates.filter.alkalinity + max(0.0, lacking) / waters.raising_days)
    return books.move("alkalinity@base", "alkalinity@loop", dose)


def _oxygen(rates: Rates, state: State, use: float, running: float) -> float:
    """Lowest oxygen of the day: warmth, feed, rotting solids and a still pump pull it down [mg/L]."""
    waters = rates.waters
    # The relation holds up to a hundred times the usual use; there is no oxygen left long before.
    demand = min(100.0, use * waters.oxygen_base ** (state.temperature - waters.temperature))
    settled = [
        oxygen_at_demand(
            usual_saturation=_saturation(waters.temperature), usual_oxygen=waters.oxygen,
            saturation=_saturation(state.temperature), demand_ratio=demand, supply_ratio=supply,
        )
        for supply in (1.0, 1 - waters.pump_part)
    ]
    if running == 1:
        return max(0.0, settled[0])
    # Without the pump, oxygen falls towards where the air stones alone hold it, as fast as they renew it.
    lack = max(0.1, _saturation(waters.temperature) - waters.oxygen)
    renewed = waters.oxygen_use * 1000 / (waters.tank_volume * lack) * (1 - waters.pump_part)
    return max(0.0, settled[1] + (settled[0] - settled[1]) * math.exp(-renewed * (1 - running)))


@lru_cache(maxsize=1024)
def _saturation(temperature: float) -> float:
    return oxygen_saturation(temperature=temperature)


@lru_cache(maxsize=1024)
def _vapour(temperature: float) -> float:
    return vapour_pressure_at_saturation(temperature=temperature)


def _reading(rates: Rates, state: State, of_day: Mapping[str, float], cuts: tuple[Cut, ...]) -> Reading:
    books, waters = state.books, rates.waters
    water = books.of("water@loop")
    milligrams = 1000 / water if water > 0 else 0.0
    alkalinity = books.of("alkalinity@loop") * milligrams
    ph = ph_after_alkalinity(
        first_ph=waters.ph, first_alkalinity=max(0.01, waters.alkalinity),
        later_alkalinity=min(1000.0, max(0.01, alkalinity)),
    )
    ph = min(_HIGHEST_PH, max(_LOWEST_PH, ph))
    ammonia = min(1000.0, books.of("ammonia@loop") * milligrams)
    return Reading(
        day=state.day, water=water, temperature=state.temperature, ph=ph, ammonia=ammonia,
        harmful=un_ionised_ammonia(total_ammonia=ammonia, temperature=state.temperature, ph=ph),
        nitrite=books.of("nitrite@loop") * milligrams, nitrate=books.of("nitrate@loop") * milligrams,
        phosphate=books.of("phosphate@loop") * milligrams, alkalinity=alkalinity,
        suspended=books.of("solids@suspended") * milligrams,
        cone=100 * books.of("solids@cone") / rates.settling.cone_holds, biomass=state.biomass,
        lacking=max(0.0, waters.volume - water), cuts=cuts, **of_day,
    )  # fmt: skip
