"""Crops over a term: plantings of several ages, what they take up by their age, and what is cut and when."""

from dataclasses import dataclass, replace
from typing import Final

# A crop that is picked again and again has grown up after this share of its time in the bed.
_GROWN_UP: Final = 1 / 3
# A planting that is overdue takes up what a crop of mean age does.
_OVERDUE: Final = 1.0


@dataclass(frozen=True, slots=True)
class BedPlan:
    """One bed of the loop and how its crop is grown; a bed without a known time only takes up its mean."""

    name: str
    crop: str
    area: float
    days: float = 0.0
    picked_every: float = 0.0
    crop_yield: float = 0.0
    unit: str = ""
    worth: float = 0.0
    late_loss: float = 0.0


@dataclass(frozen=True, slots=True)
class Planting:
    """A part of a bed planted on one day: its age, what it wished and what it got, and days since the last pick."""

    age: float
    wished: float = 0.0
    got: float = 0.0
    since: float = 0.0


@dataclass(frozen=True, slots=True)
class Cut:
    """What was harvested from a bed on a day, and what was lost by being late or hungry."""

    bed: str
    amount: float
    lost: float
    worth: float


def first_plantings(bed: BedPlan) -> tuple[Planting, ...]:
    """A crop that is cut stands in weekly plantings of all ages; one that is picked is planted on the first day."""
    if not bed.days or bed.picked_every:
        return (Planting(0.0),)
    count = max(1, round(bed.days / 7))
    return tuple(Planting(bed.days * number / count) for number in range(count))


def stage(bed: BedPlan, age: float) -> float:
    """Uptake at an age over the mean of the crop's time: it rises in a straight line, or rises and then holds."""
    if not bed.days:
        return 1.0
    if age >= bed.days:
        return _OVERDUE
    share = (age + 0.5) / bed.days
    if bed.picked_every:
        return min(1.0, share / _GROWN_UP) / (1 - _GROWN_UP / 2)
    return 2 * share


def wish(bed: BedPlan, plantings: tuple[Planting, ...], rate: float) -> tuple[float, ...]:
    """What each planting of a bed would take up today at a mean rate for a square metre [g]."""
    part = bed.area / len(plantings)
    return tuple(rate * part * stage(bed, planting.age) for planting in plantings)


def grow(
    bed: BedPlan, plantings: tuple[Planting, ...], wished: tuple[float, ...], fed: float, harvest: bool
) -> tuple[tuple[Planting, ...], list[Cut]]:
    """A day older; `fed` is the share of the wish that was met. What is due is cut, if there is a harvest today."""
    cuts: list[Cut] = []
    found = []
    for planting, asked in zip(plantings, wished, strict=True):
        older = replace(
            planting, age=planting.age + 1, wished=planting.wished + asked, got=planting.got + fed * asked,
            since=planting.since + 1,
        )
        found.append(_taken(bed, older, len(plantings), cuts) if harvest else older)
    return tuple(found), cuts


def _taken(bed: BedPlan, planting: Planting, count: int, cuts: list[Cut]) -> Planting:
    if not bed.days:
        return planting
    health = planting.got / planting.wished if planting.wished > 0 else 1.0
    whole = bed.crop_yield * bed.area / count
    if not bed.picked_every:
        if planting.age < bed.days:
            return planting
        late = max(0.0, 1 - bed.late_loss * (planting.age - bed.days))
        cuts.append(_cut(bed, whole, health * late))
        return Planting(0.0)
    grown = planting.age - _GROWN_UP * bed.days
    kept = planting
    if grown > 0 and planting.since >= bed.picked_every:
        days = min(planting.since, grown)
        # What hangs longer than one turn of picking is past its best: half of it is lost.
        fresh = min(days, bed.picked_every)
        of_day = whole / ((1 - _GROWN_UP) * bed.days)
        cuts.append(_cut(bed, of_day * days, health * (fresh + (days - fresh) / 2) / days))
        kept = replace(planting, since=0.0)
    return Planting(0.0) if planting.age >= bed.days else kept


def _cut(bed: BedPlan, whole: float, share: float) -> Cut:
    return Cut(bed.name, whole * share, whole * (1 - share), whole * share * bed.worth)
