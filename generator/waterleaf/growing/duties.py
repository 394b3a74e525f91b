"""The duties that a growing system asks for, day by day, with the amounts of the day, shared fairly among a crew."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial
from typing import Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.growing.checks_solids import SLUDGE_GAS
from waterleaf.growing.crew import Crew
from waterleaf.growing.finding import Missing, Reckoning, figure
from waterleaf.growing.system import System
from waterleaf.working.units import convert

_WET: Final = "Hands dry before you touch a plug; unplug the pump before you reach into water."
_VINES: Final = "Both feet on the ground: no climbing on beds or chairs. A trained person climbs the ladder."
_KNIFE: Final = "Clean hands, clean blade, cut away from yourself; a cut finger stops the harvest."
# Minutes for a duty, by which duties are shared: common practice, no source. Students will find better ones.
MINUTES: Final = {
    "feed": 10, "flush": 20, "fine": 40, "draw_off": 45, "test": 20, "weekly_test": 30, "sow": 30, "transplant": 40,
    "harvest": 60, "prune": 30, "lower": 30,
}


@dataclass(frozen=True, slots=True)
class Duty:
    """Something that has to be done, in words for the card, with its amount where it has one."""

    key: str
    what: str
    title: str
    minutes: int
    amount: float | None = None
    unit: str = ""
    caution: str = ""
    people: int = 1


@dataclass(frozen=True, slots=True)
class Shift:
    """A duty on a day, and who does it; nobody where nobody is there."""

    day: date
    duty: Duty
    who: tuple[str, ...]


@dataclass(frozen=True)
class Plan:
    """All shifts, minutes by member, and what could not be planned."""

    shifts: tuple[Shift, ...]
    minutes: dict[str, int]
    left_out: tuple[str, ...]


# A duty, every how many days it comes, and on which day of the plan first.
_Rhythm = tuple[Duty, float, float]


def plan(system: System, crew: Crew, weeks: int) -> Plan:
    """All duties of some weeks, each day's longest given out first, to whoever has done least for the days at hand."""
    rhythms, left_out = _rhythms(system)
    minutes = dict.fromkeys((member.name for member in crew.members), 0)
    done: dict[tuple[str, str], int] = {}
    shifts: list[Shift] = []
    for number in range(7 * weeks):
        today = crew.start + timedelta(days=number)
        due = [duty for duty, days, first in rhythms if _is_due(number, days, first)]
        for duty in sorted(due, key=lambda one: (-one.minutes, one.key)):
            # Minutes for each weekday at hand; who did this duty least often comes first among equals.
            there = sorted(
                (member for member in crew.members if today.weekday() in member.days),
                key=lambda member: (minutes[member.name] / len(member.days), done.get((member.name, duty.key), 0)),
            )
            who = tuple(member.name for member in there[: duty.people])
            if len(who) < duty.people:
                left_out.append(f"{today.isoformat()}: {duty.title}: {duty.people} needed, {len(who)} there")
                who = () if duty.people > 1 else who
            for name in who:
                minutes[name] += duty.minutes
                done[name, duty.key] = done.get((name, duty.key), 0) + 1
            shifts.append(Shift(today, duty, who))
    return Plan(tuple(shifts), minutes, tuple(left_out))


def _is_due(day: int, days: float, first: float) -> bool:
    """Whether a duty that comes every so many days, fractions included, falls on a day of the plan."""
    if day < first:
        return False
    return int((day - first) / days + 1e-9) != int((day - first - 1) / days + 1e-9) or day - first < 1


def _rhythms(system: System) -> tuple[list[_Rhythm], list[str]]:
    found: list[_Rhythm] = []
    left_out: list[str] = []
    makers: list[tuple[str, Callable[[Reckoning], list[_Rhythm]]]] = [
        ("Feeding", _feeding), ("Flushing", _flushing), ("Fine solids", _fine), ("Draw-off", _draw_off),
    ]
    makers += [
        (f"{crop}: {title}", partial(make, crop))
        for crop in dict.fromkeys(bed.crop for bed in system.file.beds if bed.crop)
        for title, make in (("rotation", _rotation), ("care", _care))
    ]
    for title, make in makers:
        try:
            found += make(Reckoning(system))
        except Missing as missing:
            left_out.append(f"{title}: missing {'; '.join(name.rstrip('*') for name in missing.names)}")
        except OutOfRange as error:
            left_out.append(f"{title}: {error}")
    found.append((_duty("test", "Test warmth, pH, oxygen and ammonia before the first meal; write them down"), 1, 0))
    told = "Test nitrite, nitrate and alkalinity; tell the trained person who doses base"
    found.append((_duty("weekly_test", told), 7, 0))
    return found, left_out


def _duty(
    kind: str, title: str, amount: float | None = None, unit: str = "", caution: str = "", what: str = "",
    people: int = 1,
) -> Duty:
    return Duty(f"{kind}{' ' + what if what else ''}", kind, title, MINUTES[kind], amount, unit, caution, people)


def _both(amount: float, unit: str, other: str) -> str:
    """An amount as a card has it: whoever measures has a scale or a bucket of one kind."""
    return f"{figure(amount, unit)} ({figure(convert(amount, unit, other), other)})"


def _feeding(r: Reckoning) -> list[_Rhythm]:
    meal = r.of("feed_per_meal", daily_feed="feed.daily", meals="feed.meals")
    count, amount = int(r.value("feed.meals")), _both(float(meal.value), "g", "oz")
    return [
        (_duty("feed", f"Meal {one} of {count}: {amount}; stop when they stop eating, weigh what is left",
               float(meal.value), "g", what=f"meal {one}"), 1, 0)
        for one in range(1, count + 1)
    ]


def _flushing(r: Reckoning) -> list[_Rhythm]:
    r.need("flush.volume", "flush.times")
    litres, times = r.value("flush.volume"), r.value("flush.times")
    title = f"Flush {times:.0f} times over the day, {_both(litres, 'L', 'gallon')} each; measure with a bucket"
    return [(_duty("flush", title, litres * times, "L", f"{SLUDGE_GAS} {_WET}"), 1, 0)]


def _fine(r: Reckoning) -> list[_Rhythm]:
    r.need("fine.cleaned_every")
    days = r.value("fine.cleaned_every")
    return [(_duty("fine", "Clean the fine-solids tank", caution=f"{SLUDGE_GAS} {_WET}", people=2), days, days)]


def _draw_off(r: Reckoning) -> list[_Rhythm]:
    r.need("sludge.fill_days", "sludge.settled", "flush.daily")
    days = r.value("sludge.fill_days")
    clear = r.of(
        "weekly_draw_off", batch=r.value("flush.daily") * days, settled="sludge.settled", fill_days="sludge.fill_days"
    )
    litres = float(clear.value) * days / 7
    title = f"Air off, settle for some hours, draw off {_both(litres, 'L', 'gallon')} clear, air on; test it first"
    return [(_duty("draw_off", title, litres, "L", SLUDGE_GAS, people=2), days, days)]


def _rotation(crop: str, r: Reckoning) -> list[_Rhythm]:
    """Sowing, transplanting and cutting week by week; a crop that is picked has no weekly rotation."""
    place = f"crops.{crop}"
    if r.known(f"{place}.picked_every"):
        days = r.value(f"{place}.picked_every")
        return [(_duty("harvest", f"Pick {crop}; weigh it", caution=_KNIFE, what=crop), days, days)]
    r.need(f"{place}.density", f"{place}.weeks_in_bed", f"{place}.germination", f"{place}.survival")
    area = math.fsum(bed.area for bed in r.system.file.beds if bed.crop == crop)
    heads = r.of("harvest_per_week", bed_area=area, density=f"{place}.density", weeks_in_bed=f"{place}.weeks_in_bed")
    week = float(heads.value)
    seeds = r.of(
        "seeds_to_sow", plants_wanted=week, germination=f"{place}.germination", survival=f"{place}.survival"
    )
    sown = math.ceil(float(seeds.value) - 1e-9)
    return [
        (_duty("sow", f"Sow {sown} seeds of {crop}", sown, "seed", what=crop), 7, 1),
        (_duty("transplant", f"Set out {week:.0f} plants of {crop}", week, "plant", what=crop), 7, 2),
        (_duty("harvest", f"Cut {week:.0f} heads of {crop}, the oldest first", week, "head", _KNIFE, crop), 7, 2),
    ]


def _care(crop: str, r: Reckoning) -> list[_Rhythm]:
    found: list[_Rhythm] = []
    for kind, name, title in (
        ("prune", "pruned_every", f"Prune {crop}"), ("lower", "lowered_every", f"Lower the vines of {crop}"),
    ):
        if r.known(f"crops.{crop}.{name}"):
            days = r.value(f"crops.{crop}.{name}")
            found.append((_duty(kind, title, caution=_VINES if kind == "lower" else _KNIFE, what=crop), days, days / 2))
    return found


def by_day(shifts: Sequence[Shift]) -> dict[date, list[Shift]]:
    """Shifts in the order of the days."""
    found: dict[date, list[Shift]] = {}
    for shift in shifts:
        found.setdefault(shift.day, []).append(shift)
    return found
