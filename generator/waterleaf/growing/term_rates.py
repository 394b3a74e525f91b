"""The daily rates of a growing system, worked out once from its file through the relations of the course."""

import math
from dataclasses import dataclass
from typing import Any, Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.growing.checks_water import SUMP_USED
from waterleaf.growing.facts import SPECIES
from waterleaf.growing.finding import Missing, Reckoning
from waterleaf.growing.model import IN_THE_LOOP, Bed
from waterleaf.growing.system import System
from waterleaf.growing.term_crops import BedPlan

# The warmth at which the doubling times of the bacteria are published [degC].
_DOUBLINGS_AT: Final = 20.0
_SETTLED: Final = 0.25  # share of a batch of sludge that settles: common practice, no source; the list says so


@dataclass(frozen=True, slots=True)
class Feeding:
    """Feed of a day [g], and what a gram that is eaten becomes [g/g]; appetite falls above the warmest degree."""

    daily: float
    gain: float
    nitrogen: float
    phosphorus: float
    kept_n: float
    kept_p: float
    bound_n: float
    bound_p: float
    solids: float
    dry: float
    extra_eaten: float
    warmest: float
    appetite_lost: float


@dataclass(frozen=True, slots=True)
class Settling:
    """Shares kept, what cone and fine tank hold [g], sludge [g/L], flush [L/day], breakdown, usual rot [g/day]."""

    capture: float
    fine_capture: float
    cone_holds: float
    cone_litres: float
    fine_holds: float
    fine_every: int
    strength: float
    flush: float
    breakdown: float
    resettled: float
    usual_rot: float


@dataclass(frozen=True, slots=True)
class SludgeTank:
    """The tank under air: days between draw-offs, shares drawn and taken out, breakdown by the day, where it goes."""

    every: int
    drawn: float
    settled: float
    residue_out: float
    breakdown_n: float
    breakdown_p: float
    clear_to: str
    residue_to: str


@dataclass(frozen=True, slots=True)
class Step:
    """One step of nitrification: part removed in a pass, capacity [g/day], growth of its bacteria [1/day]."""

    pass_share: float
    capacity: float
    growth: float


@dataclass(frozen=True, slots=True)
class Filter:
    """Flow past the bacteria [L/day], the two steps at the warmth read, shares grown at the start, and the cost."""

    flow: float
    ammonia: Step
    nitrite: Step
    ammonia_grown: float
    nitrite_grown: float
    warmth_base: float
    alkalinity: float
    denitrified: float


@dataclass(frozen=True, slots=True)
class Waters:
    """Water of the loop [L], vapour and splash [L/day], new water, base, oxygen used [g/day], readings at the start."""

    volume: float
    reserve: float
    vapour: float
    splash: float
    temperature: float
    warming: float
    ph: float
    ammonia: float
    nitrite: float
    nitrate: float
    phosphate: float
    alkalinity: float
    wished_alkalinity: float
    raising_days: float
    tap_alkalinity: float
    oxygen: float
    oxygen_base: float
    oxygen_use: float
    oxygen_for_solids: float
    tank_volume: float
    pump_part: float


@dataclass(frozen=True)
class Rates:
    """Everything that a day needs to know about the system."""

    feeding: Feeding
    settling: Settling
    tank: SludgeTank | None
    filter: Filter
    waters: Waters
    beds: tuple[BedPlan, ...]
    uptake_n: float
    uptake_p: float
    biomass: float
    oxygen_held: float
    nitrate_limit: float
    suspended_limit: float


_NEEDED = (
    "system.volume", "tanks.volume", "feed.daily", "feed.protein", "fish.biomass", "fish.conversion_ratio",
    "water.temperature", "water.ph", "water.ammonia", "water.nitrate", "water.alkalinity", "water.oxygen",
    "pump.flow", "flush.daily", "clarifier.cone_volume", "beds.area",
)  # fmt: skip


def rates_of(system: System) -> tuple[Rates, Reckoning]:
    """The rates, and the reckoning that holds every relation used and every value assumed.

    Raises Missing naming all that the file lacks, OutOfRange where a relation refuses a value.
    """
    r = Reckoning(system)
    r.need(*_NEEDED)
    if system.file.fish is None:
        raise Missing(("fish",))
    if not r.known("filter.media_volume") and not r.known("beds.raft_area"):
        raise Missing(("filter.media_volume", "filter.specific_surface"))
    looped = [bed for bed in system.file.beds if bed.kind in IN_THE_LOOP]
    for bed in looped:
        if not bed.crop:
            r.bridge(f"{bed.name}: no crop in the file: nothing is taken up there")
    beds = tuple(_bed(r, bed) for bed in looped if bed.crop)
    tank = _tank(r)
    found = Rates(
        _feeding(r), _settling(r), tank, _filter(r), _waters(r, tank), beds, r.value("crop.uptake"),
        r.value("crop.phosphorus_uptake"), r.value("fish.biomass"), r.value("oxygen.held"),
        r.value("limit.nitrate"), r.value("limit.suspended"),
    )
    return found, r


def _share(r: Reckoning, name: str) -> float:
    return r.value(name) / 100


def _feeding(r: Reckoning) -> Feeding:
    daily = r.value("feed.daily")
    gain = r.of("gain_from_feed", feed_fed="feed.daily_mass", conversion_ratio="fish.conversion_ratio")
    fed_n = r.of("feed_nitrogen", feed_fed="feed.daily_mass", protein="feed.protein")
    kept_n = r.of("fish_nitrogen", gain=gain, fish_protein="fish.protein")
    fed_p = r.of("feed_phosphorus", feed_fed="feed.daily_mass", phosphorus="feed.phosphorus")
    kept_p = r.of("fish_phosphorus", gain=gain, phosphorus="fish.phosphorus")
    if float(kept_n.value) >= float(fed_n.value) or float(kept_p.value) >= float(fed_p.value):
        raise OutOfRange(
            "fish.conversion_ratio: the fish would hold all that the feed brings, or more. Weigh fish and feed again."
        )
    waste_n = r.of("nutrient_waste", fed=fed_n, kept=kept_n)
    waste_p = r.of("nutrient_waste", fed=fed_p, kept=kept_p)
    bound_n = r.of("nutrient_in_solids", waste=waste_n, solids_part="solids.nitrogen_part")
    bound_p = r.of("nutrient_in_solids", waste=waste_p, solids_part="solids.phosphorus_part")
    solids = r.of("faecal_solids", daily_feed="feed.daily", solids_share="solids.share")
    fish = r.system.file.fish
    assert fish is not None
    return Feeding(
        daily, 1 / r.value("fish.conversion_ratio"), float(fed_n.value) / daily, float(fed_p.value) / daily,
        float(kept_n.value) / daily, float(kept_p.value) / daily, float(bound_n.value) / daily,
        float(bound_p.value) / daily, float(solids.value) / daily, _share(r, "feed.dry"),
        _share(r, "feed.extra_eaten"), SPECIES[fish.species].warmest, _share(r, "fish.appetite_lost"),
    )


def _settling(r: Reckoning) -> Settling:
    strength = 10 * r.value("solids.sludge")  # a per cent of sludge is ten grams in a litre
    fine = r.known("fine.volume") and r.known("fine.full_at") and r.known("fine.cleaned_every")
    if not fine:
        r.bridge("no tank for fine solids in the file: what the settling tank lets pass stays in the water")
    every = max(1, round(r.value("fine.cleaned_every"))) if fine else 0
    fine_part = _share(r, "solids.fine_capture") if fine else 0.0
    breakdown = _share(r, "solids.breakdown")
    # What the settling tank lets pass rots in the water and in the fine tank, day by day.
    loose = r.value("feed.daily") * _share(r, "solids.share") * (1 - _share(r, "solids.capture"))
    return Settling(
        _share(r, "solids.capture"), fine_part,
        r.value("clarifier.cone_volume") * strength, r.value("clarifier.cone_volume"),
        r.value("fine.volume") * _share(r, "fine.full_at") * strength if fine else 0.0,
        every, strength, r.value("flush.daily"),
        breakdown, _share(r, "solids.resettled"),
        breakdown * (loose * (1 - fine_part) / (breakdown + _share(r, "solids.resettled"))
                     + loose * fine_part * (every - 1) / 2),
    )  # fmt: skip


def _tank(r: Reckoning) -> SludgeTank | None:
    if not r.known("sludge.fill_days"):
        r.bridge("no sludge tank in the file: flushed sludge leaves the loop with its water")
        return None
    fill = r.value("sludge.fill_days")
    days = fill + (r.value("sludge.treat_days") if r.known("sludge.treat_days") else 0.0)
    rates = [
        float(r.of("breakdown_rate", share=name, days=days).value)
        for name in ("sludge.mineralised", "sludge.phosphorus_mineralised")
    ]
    if not r.known("sludge.settled"):
        r.bridge(
            f"no share that settles in the file (sludge.settled): {100 * _SETTLED:g} % of a batch is taken "
            "(common practice, no source)"
        )
    settled = _share(r, "sludge.settled") if r.known("sludge.settled") else _SETTLED
    goes: Any = r.system.file.sludge.goes_to or []
    if not goes:
        r.bridge("no way for the sludge in the file: clear water goes back to the loop, and residue to the compost")
    return SludgeTank(
        max(1, round(fill)), min(_share(r, "sludge.drawn"), 1 - settled), settled, _share(r, "sludge.residue_out"),
        rates[0], rates[1], "loop" if "loop" in goes or not goes else "drain",
        "drain" if set(goes) & {"drain", "sewer"} and not set(goes) & {"compost", "garden", "carted"} else "compost",
    )


def _filter(r: Reckoning) -> Filter:
    capacity = 0.0
    if r.known("filter.media_volume"):
        r.need("filter.specific_surface")
        surface = r.value("filter.media_volume") / 1000 * r.value("filter.specific_surface")
        capacity += surface * r.value("filter.removal")
    if r.known("beds.raft_area"):
        capacity += r.value("beds.raft_area") * r.value("filter.raft_removal")
    cost = r.of("nitrification_alkalinity", nitrified=1.0)
    base, taken, ratio = r.value("filter.warmth_base"), _share(r, "filter.pass_share"), r.value("filter.nitrite_ratio")
    warmth = base ** (r.value("water.temperature") - _DOUBLINGS_AT)
    growths = [
        24 * math.log(2) / r.value(name) * warmth for name in ("filter.doubling_hours", "filter.nitrite_doubling_hours")
    ]
    return Filter(
        r.value("pump.flow") * 1440, Step(taken, capacity, growths[0]),
        Step(1 - (1 - taken) ** ratio, capacity * ratio, growths[1]),
        _share(r, "filter.grown"), _share(r, "filter.nitrite_grown"), base, float(cost.value),
        _share(r, "loop.denitrified"),
    )


def _waters(r: Reckoning, tank: SludgeTank | None) -> Waters:
    evaporation = r.of("evaporation_loss", water_area=_open_water(r), evaporation="water.evaporation")
    vapour = float(evaporation.value) + r.value("beds.area") * r.value("crop.transpiration")
    drained = r.value("water.to_drain") if r.known("water.to_drain") else 0.0
    splash = drained
    if not r.known("water.new_water"):
        r.bridge("no meter of new water in the file: nothing is lost but vapour, residue and what goes to the drain")
    else:
        # What the meter shows beyond vapour and residue is splash, leaks and washing; it takes along what is dissolved.
        metered = max(0.0, r.value("water.new_water") - r.value("flush.daily") * _residue_part(tank))
        splash = max(drained, metered - vapour)
        vapour = max(0.0, min(vapour, metered - splash))
    use = r.of("oxygen_demand_of_feed", daily_feed="feed.daily", oxygen_per_feed="oxygen.per_feed")
    rot = r.of("breakdown_oxygen", organic_carbon=1.0)  # for a gram of carbon
    if not r.known("water.wished_alkalinity"):
        r.bridge("no wished alkalinity in the file: it is held where it was read")
    if not r.known("sump.volume"):
        r.bridge("no volume of the sump in the file: without a twentieth of all water the pump is taken to run dry")
    wished = "water.wished_alkalinity" if r.known("water.wished_alkalinity") else "water.alkalinity"
    return Waters(
        r.value("system.volume"), SUMP_USED * r.value("sump.volume") if r.known("sump.volume") else r.value(
            "system.volume") / 20,
        vapour, splash, r.value("water.temperature"), _share(r, "water.warming"), r.value("water.ph"),
        r.value("water.ammonia"), r.value("water.nitrite"), r.value("water.nitrate"), r.value("water.phosphorus"),
        r.value("water.alkalinity"),
        r.value(wished), r.value("water.raising_days"), r.value("water.tap_alkalinity"), r.value("water.oxygen"),
        r.value("oxygen.warmth_base"), float(use.value), float(rot.value) * _share(r, "solids.carbon"),
        r.value("tanks.volume"), _share(r, "oxygen.pump_part"),
    )


def _residue_part(tank: SludgeTank | None) -> float:
    """Part of the flushed water that does not come back."""
    if tank is None or tank.clear_to != "loop":
        return 1.0
    residue = tank.settled * tank.residue_out
    return residue / (residue + tank.drawn) if residue + tank.drawn else 1.0


def _open_water(r: Reckoning) -> float:
    """Water surface open to the air: tanks and settling tank; a raft covers what lies under it."""
    area = r.value("clarifier.plan_area") if r.known("clarifier.plan_area") else 0.0
    for tank in r.system.file.tanks:
        if tank.diameter is not None:
            area += 3.141592653589793 / 4 * tank.diameter**2
        elif tank.length is not None and tank.width is not None:
            area += tank.length * tank.width
        elif tank.volume is not None:
            r.bridge(f"{tank.name}: no measures in the file: the water is taken to be a metre deep")
            area += tank.volume / 1000  # a metre deep, where only the volume is known
    return max(area, 0.01)


def _bed(r: Reckoning, bed: Bed) -> BedPlan:
    crop = r.system.file.crops.get(bed.crop or "")
    place = f"crops.{bed.crop}"
    if crop is None or crop.weeks_in_bed is None:
        r.bridge(f"{bed.name}: no time in the bed is known of {bed.crop}: nutrients are taken up, no harvest is told")
        return BedPlan(bed.name, str(bed.crop), bed.area)
    sold = 1 - (r.value(f"{place}.loss") / 100 if r.known(f"{place}.loss") else 0.0)
    by_weight = crop.yield_ is not None
    amount = crop.yield_ if by_weight else crop.density
    worth = crop.price_by_weight if by_weight else crop.price
    return BedPlan(
        bed.name, str(bed.crop), bed.area, crop.weeks_in_bed * 7, crop.picked_every or 0.0,
        (amount or 0.0) * sold, "kg" if by_weight else "heads", worth or 0.0, _share(r, "crop.late_loss"),
    )
