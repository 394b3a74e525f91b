"""Values that follow from a growing file by plain sums over its tanks, beds and pipes, each under its own name."""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Final

from waterleaf.calc.loop.levels import pipe_volume
from waterleaf.calc.loop.turnover import round_tank_volume
from waterleaf.growing.model import IN_THE_LOOP, Bed
from waterleaf.growing.shapes import shape_volume


@dataclass(frozen=True, slots=True)
class Rule:
    """How a value follows from others; `needs` names what must be given, `assumes` says what is taken for granted."""

    unit: str
    meaning: str
    work: Callable[[Any], float | None]
    needs: tuple[str, ...] = ()
    assumes: str = ""


def _volume(vessel: Any) -> float | None:
    return vessel.volume if vessel.volume is not None else shape_volume(vessel)


def _total(amounts: Iterable[float | None]) -> float | None:
    """The sum, or nothing where a member is missing or there is none."""
    found = list(amounts)
    if not found or any(amount is None for amount in found):
        return None
    return math.fsum(amount for amount in found if amount is not None)


def _plan_area(system: Any) -> float | None:
    tank = system.file.clarifier
    if tank.diameter is not None:  # a cubic metre for each metre of depth
        return float(round_tank_volume(diameter=tank.diameter, water_depth=1.0)) / 1000
    return tank.length * tank.width if tank.length and tank.width else None


def _beds(system: Any, *kinds: str) -> list[Bed]:
    return [bed for bed in system.file.beds if bed.kind in (kinds or IN_THE_LOOP)]


def _area(*kinds: str) -> Callable[[Any], float | None]:
    return lambda system: _total(bed.area for bed in _beds(system, *kinds))


def _crop_area(kind: str) -> Callable[[Any], float | None]:
    def work(system: Any) -> float | None:
        beds = _beds(system)
        if not beds or any(bed.crop is None for bed in beds):
            return None
        return math.fsum(bed.area for bed in beds if system.kind_of(bed.crop) == kind)

    return work


def _mean_fall(*kinds: str) -> Callable[[Any], float | None]:
    """The fall of the level, weighted by area: it drains as much as each bed with its own."""

    def work(system: Any) -> float | None:
        beds = _beds(system, *kinds)
        drained = _total(None if bed.level_fall is None else bed.area * bed.level_fall for bed in beds)
        return None if drained is None else drained / math.fsum(bed.area for bed in beds)

    return work


def _void(system: Any) -> float | None:
    beds = _beds(system, "media")
    room = _total(None if bed.void_share is None else bed.area * bed.void_share for bed in beds)
    return None if room is None else room / math.fsum(bed.area for bed in beds)


def _bed_water(system: Any) -> float | None:
    return _total(
        None if bed.water_depth is None or (bed.kind == "media" and bed.void_share is None)
        else bed.area * bed.water_depth * (bed.void_share / 100 if bed.kind == "media" and bed.void_share else 1)
        for bed in _beds(system)
    )


def _pipe_drain(system: Any) -> float | None:
    return _total(
        float(pipe_volume(bore=pipe.bore, pipe_length=pipe.length)) for pipe in system.file.pipes
    )


def _named(*names: str) -> Callable[[Any], float | None]:
    """The sum of other values."""
    return lambda system: _total(None if (found := system.get(name)) is None else found.number for name in names)


def _times(first: str, second: str, factor: float = 1) -> Callable[[Any], float | None]:
    def work(system: Any) -> float | None:
        one, two = system.get(first), system.get(second)
        return None if one is None or two is None else one.number * two.number * factor

    return work


def _times_number(name: str, factor: float) -> Callable[[Any], float | None]:
    return lambda system: None if (found := system.get(name)) is None else found.number * factor


def _only_pipe(part: str) -> Callable[[Any], float | None]:
    def work(system: Any) -> float | None:
        pipes = system.file.pipes
        return float(getattr(pipes[0], part)) if len(pipes) == 1 else None

    return work


_SYSTEM: Final = ("tanks.volume", "clarifier.volume", "beds.water", "sump.volume")
_BED_DEPTHS: Final = "water_depth of every bed in the loop (and void_share of media)*"

DERIVED: Final[dict[str, Rule]] = {
    "tanks.volume": Rule("L", "water in all fish tanks", lambda s: _total(map(_volume, s.file.tanks)), ("tanks*",)),
    "tanks.count": Rule("", "number of fish tanks", lambda s: float(len(s.file.tanks)) or None, ("tanks*",)),
    "clarifier.volume": Rule(
        "L", "water in the settling tank, by its measures", lambda s: shape_volume(s.file.clarifier),
        ("clarifier.volume, or its diameter and depth*",),
    ),
    "clarifier.plan_area": Rule(
        "m^2", "settling tank seen from above, by its measures", _plan_area,
        ("clarifier.plan_area, or its diameter*",),
    ),
    "clarifier.flow": Rule(
        "L/min", "water through the settling tank", _named("pump.flow"), ("pump.flow",),
        assumes="all that the pump moves passes the settling tank (one pump, one loop; common practice, no source)",
    ),
    "beds.area": Rule("m^2", "growing area in the loop", _area(), ("beds*",)),
    "beds.raft_area": Rule("m^2", "growing area of the rafts", _area("raft"), ("beds of kind raft*",)),
    "beds.media_area": Rule("m^2", "growing area of the media beds", _area("media"), ("beds of kind media*",)),
    "beds.leafy_area": Rule("m^2", "loop area under leafy crops", _crop_area("leafy"), ("crop of every bed*",)),
    "beds.fruiting_area": Rule(
        "m^2", "loop area under fruiting crops", _crop_area("fruiting"), ("crop of every bed*",)
    ),
    "beds.raft_fall": Rule(
        "mm", "fall of the raft beds' level to the rim, mean by area", _mean_fall("raft"),
        ("level_fall of every raft bed*",),
    ),
    "beds.media_fall": Rule(
        "mm", "fall of the media beds' level, mean by area", _mean_fall("media"), ("level_fall of every media bed*",)
    ),
    "beds.media_void": Rule("percent", "room between the stones", _void, ("void_share of every media bed*",)),
    "beds.water": Rule("L", "water in the beds of the loop", _bed_water, (_BED_DEPTHS,)),
    "pipes.drain": Rule("L", "water in the pipes that empty", _pipe_drain, ("pipes*",)),
    "pipes.bore": Rule("mm", "bore of the pipe, where there is one run", _only_pipe("bore"), ("a single pipe*",)),
    "system.volume": Rule("L", "water in the whole loop", _named(*_SYSTEM), _SYSTEM),
    "fish.biomass": Rule(
        "kg", "live weight of all fish", _times("fish.number", "fish.mean_weight", 1 / 1000),
        ("fish.number", "fish.mean_weight"),
    ),
    "feed.daily_mass": Rule("kg", "feed of one day", _times_number("feed.daily", 1 / 1000), ("feed.daily",)),
    "flush.daily": Rule(
        "L/day", "sludge flushed a day", _times("flush.volume", "flush.times"), ("flush.volume", "flush.times")
    ),
}
