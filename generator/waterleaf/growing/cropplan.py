"""Which crops earn the space this season: the best areas under bed, labour and lamp light, and what one unit more of
each is worth; then the same in whole beds."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

from waterleaf.calc.money.plan import crop_plan_areas, crop_plan_limits, crop_plan_margin
from waterleaf.calc.quantity import OutOfRange
from waterleaf.faults import refuse
from waterleaf.growing.checks_house import crop_margin
from waterleaf.growing.finding import Missing, Reckoning
from waterleaf.growing.model import IN_THE_LOOP, Bed
from waterleaf.growing.system import System

# A nudge that is small against any bed, by which the worth of a little more and a little less is told apart.
_NUDGE: Final = 1e-3
_TIE: Final = 1e-6
_UNLIMITED: Final = 1e6


@dataclass(frozen=True, slots=True)
class Candidate:
    """A crop with what it earns and needs for a square metre, and the least and largest area of it."""

    name: str
    margin: float
    labour: float
    lamp: float
    least: float
    largest: float


@dataclass(frozen=True, slots=True)
class Worth:
    """A limit: how much there is and is used, and what one unit more brings and one less costs, a week."""

    key: str
    unit: str
    available: float
    used: float
    more: float
    less: float
    holds: float

    @property
    def binds(self) -> bool:
        """Whether nothing of it is left."""
        return self.available - self.used < _TIE * max(1.0, self.available)


@dataclass(frozen=True)
class CropPlan:
    """The best plan, its limits, crops that could change places at no loss, and the best plan in whole beds."""

    candidates: tuple[Candidate, ...]
    areas: tuple[float, ...]
    margin: float
    worths: tuple[Worth, ...]
    ties: tuple[tuple[str, float, float], ...]
    beds: tuple[tuple[str, float, str], ...] | None
    whole_margin: float
    left_out: tuple[str, ...]
    reckoning: Reckoning


class Impossible(ValueError):
    """What was promised cannot be grown with what there is."""


def choose(system: System, kinds: Sequence[str] = IN_THE_LOOP) -> CropPlan:
    """The best plan for the beds of some kinds.

    Raises Faults where the file lacks what a plan needs, Impossible where what was promised does not fit.
    """
    r = Reckoning(system)
    where = system.shown_as or "growing file"
    beds = [bed for bed in system.file.beds if bed.kind in kinds]
    if not beds:
        raise refuse(where, f"no bed of kind {', '.join(kinds)} stands in the file. Add beds, or give other kinds.")
    total = math.fsum(bed.area for bed in beds)
    lacking = [name for name in ("season.labour", "season.sun", "season.lamp_light") if not r.known(name)]
    candidates, left_out = _candidates(r)
    if lacking or not candidates:
        names = "; ".join(lacking or ["labour, light and a margin for at least one crop"])
        raise refuse(where, f"the choice of crops needs more: {names}. Write them into the file.")
    supplies = (total, r.value("season.labour"), r.value("season.lamp_light"))
    _promises(candidates, supplies)
    try:
        areas, margin = _solve(candidates, supplies)
        worths = _worths(candidates, supplies, areas)
    except OutOfRange as error:
        raise refuse(where, f"the plan cannot be worked out. {error}") from None
    whole = _whole_beds(candidates, beds, supplies)
    return CropPlan(
        candidates, areas, margin, worths, _ties(candidates, supplies, margin), whole[0], whole[1], left_out, r
    )


def _candidates(r: Reckoning) -> tuple[tuple[Candidate, ...], tuple[str, ...]]:
    found, left_out = [], []
    for name, crop in r.system.file.crops.items():
        try:
            r.need(f"crops.{name}.labour", f"crops.{name}.light")
            margin = float(crop_margin(r, name).value)
        except Missing as missing:
            left_out.append(f"{name}: missing {'; '.join(one.rstrip('*') for one in missing.names)}")
            continue
        except OutOfRange as error:
            left_out.append(f"{name}: {error}")
            continue
        sun = r.value("season.sun") if r.known("season.sun") else 0.0
        lamp = max(0.0, r.value(f"crops.{name}.light") - sun)
        largest = crop.largest_area or _UNLIMITED
        found.append(Candidate(name, margin, r.value(f"crops.{name}.labour"), lamp, crop.promised_area or 0.0, largest))
    return tuple(found), tuple(left_out)


def _promises(candidates: Sequence[Candidate], supplies: Sequence[float]) -> None:
    """Refuse promises that do not fit, naming the limit that breaks."""
    reasons = [
        f"{one.name}: {one.least:g} m² are promised, and at most {one.largest:g} m² can be sold"
        for one in candidates if one.least > one.largest
    ]
    needs = _needs(candidates)
    for (key, unit), row, supply in zip(_LIMITS, needs, supplies, strict=True):
        need = math.fsum(a * one.least for a, one in zip(row, candidates, strict=True))
        if need > supply + _TIE:
            reasons.append(f"{key}: what is promised needs {need:.3g} {unit}, and there are {supply:.3g}")
    if reasons:
        raise Impossible("; ".join(reasons))


_LIMITS: Final = (("bed", "m²"), ("labour", "hours a week"), ("lamp light", "mol a day"))


def _needs(candidates: Sequence[Candidate]) -> tuple[tuple[float, ...], ...]:
    return (
        tuple(1.0 for _ in candidates), tuple(one.labour for one in candidates), tuple(one.lamp for one in candidates)
    )


def _inputs(candidates: Sequence[Candidate], supplies: Sequence[float]) -> dict[str, Any]:
    """Arguments of the relations for what is left when the promised areas are taken off; a hair stays of each."""
    left = [
        supply - math.fsum(a * one.least for a, one in zip(row, candidates, strict=True))
        for row, supply in zip(_needs(candidates), supplies, strict=True)
    ]
    return {
        "margins": [one.margin for one in candidates], "labour_needs": [one.labour for one in candidates],
        "light_needs": [one.lamp for one in candidates],
        "largest_areas": [one.largest - one.least for one in candidates],
        "bed_area": max(0.01, left[0]), "labour_supply": max(0.01, left[1]), "light_supply": max(0.0, left[2]),
    }  # fmt: skip


def _solve(candidates: Sequence[Candidate], supplies: Sequence[float]) -> tuple[tuple[float, ...], float]:
    inputs = _inputs(candidates, supplies)
    areas = crop_plan_areas(**inputs)
    margin = crop_plan_margin(**inputs) + math.fsum(one.margin * one.least for one in candidates)
    return tuple(area + one.least for area, one in zip(areas, candidates, strict=True)), margin


def _worths(
    candidates: tuple[Candidate, ...], supplies: tuple[float, ...], areas: Sequence[float]
) -> tuple[Worth, ...]:
    rows = crop_plan_limits(**_inputs(candidates, supplies))
    found = []
    for place, ((key, unit), supply, row) in enumerate(zip(_LIMITS, supplies, _needs(candidates), strict=True)):
        used = math.fsum(a * area for a, area in zip(row, areas, strict=True))
        more = _change(candidates, supplies, place, _NUDGE) / _NUDGE
        room = supply > 2 * _NUDGE and used > 0
        less = -_change(candidates, supplies, place, -_NUDGE) / _NUDGE if room else rows[place].shadow_price
        holds = _holds(candidates, supplies, place, more)
        found.append(Worth(key, unit, supply, used, _clean(more), _clean(less), holds))
    return tuple(found)


def _clean(price: float) -> float:
    return 0.0 if abs(price) < _TIE * 10 else price


def _change(candidates: tuple[Candidate, ...], supplies: tuple[float, ...], place: int, step: float) -> float:
    """What the margin gains when one supply changes by a step."""
    moved = tuple(supply + step * (number == place) for number, supply in enumerate(supplies))
    return _margin(candidates, moved) - _margin(candidates, supplies)


def margin_of(candidates: tuple[Candidate, ...], supplies: tuple[float, ...]) -> float:
    """What the best plan for some crops and supplies earns, what is promised counted in."""
    return _margin(candidates, supplies) + math.fsum(one.margin * one.least for one in candidates)


@lru_cache(maxsize=64)
def _margin(candidates: tuple[Candidate, ...], supplies: tuple[float, ...]) -> float:
    return crop_plan_margin(**_inputs(candidates, supplies))


def _holds(candidates: tuple[Candidate, ...], supplies: tuple[float, ...], place: int, price: float) -> float:
    """How much more of a supply keeps its price; doubled until it breaks, then halved in between."""
    if abs(price) < _TIE * 10:
        return 0.0
    low, high = 0.0, 4 * max(1.0, supplies[place])

    def keeps(step: float) -> bool:
        return abs(_change(candidates, supplies, place, step) - price * step) <= 1e-6 * max(1.0, abs(price * step))

    if keeps(high):
        return high
    for _ in range(24):
        middle = (low + high) / 2
        low, high = (middle, high) if keeps(middle) else (low, middle)
    return low


def _ties(
    candidates: Sequence[Candidate], supplies: Sequence[float], margin: float
) -> tuple[tuple[str, float, float], ...]:
    """Crops whose area may differ at the same margin, with the least and the largest area."""
    from scipy.optimize import linprog

    rows = [*map(list, _needs(candidates)), [-one.margin for one in candidates]]
    limits = [*supplies, -margin + 1e-7 * max(1.0, abs(margin))]
    bounds = [(one.least, one.largest) for one in candidates]
    found = []
    for place, one in enumerate(candidates):
        ends = []
        for sign in (1.0, -1.0):
            aim = [sign * (number == place) for number in range(len(candidates))]
            solved = linprog(aim, A_ub=rows, b_ub=limits, bounds=bounds, method="highs")
            if solved.x is not None:
                ends.append(float(solved.x[place]))
        if len(ends) == 2 and ends[1] - ends[0] > 1e-3:
            found.append((one.name, ends[0], ends[1]))
    return tuple(found)


def _whole_beds(
    candidates: Sequence[Candidate], beds: Sequence[Bed], supplies: Sequence[float]
) -> tuple[tuple[tuple[str, float, str], ...] | None, float]:
    """The best crop for every bed as a whole, or nothing where what is promised cannot be met so."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    crops = len(candidates)
    size = crops * len(beds)
    areas = [bed.area for bed in beds for _ in candidates]
    aim = [-one.margin * bed.area for bed in beds for one in candidates]
    rows: list[list[float]] = []
    low: list[float] = []
    high: list[float] = []
    for place in range(len(beds)):
        rows.append([float(number // crops == place) for number in range(size)])
        low.append(0.0)
        high.append(1.0)
    for need, supply in zip(_needs(candidates)[1:], supplies[1:], strict=True):
        rows.append([areas[number] * need[number % crops] for number in range(size)])
        low.append(0.0)
        high.append(supply)
    for place, one in enumerate(candidates):
        rows.append([areas[number] * (number % crops == place) for number in range(size)])
        low.append(one.least)
        high.append(one.largest)
    solved = milp(aim, constraints=LinearConstraint(rows, low, high), integrality=[1] * size, bounds=Bounds(0, 1))
    if solved.x is None:
        return None, 0.0
    chosen = []
    for place, bed in enumerate(beds):
        own = solved.x[place * crops : (place + 1) * crops]
        crop = next((one.name for one, take in zip(candidates, own, strict=True) if take > 0.5), "empty")
        chosen.append((bed.name, bed.area, crop))
    return tuple(chosen), 0.0 - float(solved.fun)
