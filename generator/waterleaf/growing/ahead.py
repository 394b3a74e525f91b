"""What happens if: a term as planned beside the same term with something gone wrong, in numbers and in words."""

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any, Final

from waterleaf import __version__
from waterleaf.calc.air.term import hours_of_oxygen
from waterleaf.calc.quantity import RELATIONS, OutOfRange
from waterleaf.faults import refuse
from waterleaf.growing.facts import reference
from waterleaf.growing.finding import Missing, Reckoning, both, figure
from waterleaf.growing.report import BEFORE_ACTING, relation_line
from waterleaf.growing.system import System
from waterleaf.growing.term import Reading, Term, run, start
from waterleaf.growing.term_events import Event, todays
from waterleaf.growing.term_limits import MAINS, Crossing, Limit, crossings, limits_of, stress_days
from waterleaf.growing.term_rates import Rates, rates_of
from waterleaf.working import figures
from waterleaf.working.units import convert, with_unit

LONGEST: Final = 365
# What the table shows: field of the reading, heading, unit, decimals.
COLUMNS: Final = (
    ("temperature", "water", "°C", 1), ("oxygen", "oxygen", "mg/L", 1), ("ph", "pH", "", 2),
    ("ammonia", "ammonia", "mg/L", 2), ("harmful", "harmful part", "mg/L", 3), ("nitrite", "nitrite", "mg/L", 2),
    ("nitrate", "nitrate", "mg/L", 0),
    ("suspended", "suspended", "mg/L", 0), ("cone", "cone", "%", 0), ("lacking", "lacking", "L", 0),
)  # fmt: skip
NOT_MODELLED: Final = (
    "The sums leave out deaths, disease, pests, light, appetite in the cold, what heat does to a crop, and what comes "
    "once the pump has run dry. They follow one mean day after another. Nitrate comes out too high where sludge lies "
    "long in nets or under rafts, since microbes there turn more of it into nitrogen gas than the share that is "
    "assumed. A real system can be worse: test, and trust the test."
)


@dataclass(frozen=True)
class Ahead:
    """A term as planned, the same with its events, and the limits of the system."""

    system: System
    rates: Rates
    reckoning: Reckoning
    events: tuple[Event, ...]
    plan: Term
    term: Term
    limits: tuple[Limit, ...]

    @property
    def crossed(self) -> list[Crossing]:
        """Limits that the term crosses."""
        return crossings(self.term, self.limits)

    @property
    def stressed(self) -> int:
        """Days on which fish suffer."""
        return len(stress_days(self.term, self.limits))


def ready(system: System) -> tuple[Rates, Reckoning]:
    """The rates of a system.

    Raises Faults naming everything that the file lacks, or the value with which no look ahead is possible.
    """
    where = system.shown_as or "growing file"
    try:
        return rates_of(system)
    except Missing as missing:
        names = "; ".join(name.rstrip("*") for name in missing.names)
        raise refuse(where, f"a look ahead needs more: {names}. Write them into the file.") from None
    except OutOfRange as error:
        raise refuse(where, f"a look ahead cannot be worked out. {error}") from None


def look_ahead(system: System, days: int, events: Sequence[Event]) -> Ahead:
    """The term with and without its events.

    Raises Faults where the file lacks something.
    """
    rates, reckoning = ready(system)
    plan = run(rates, todays((), 1, days))
    term = run(rates, todays(events, 1, days)) if events else plan
    return Ahead(system, rates, reckoning, tuple(events), plan, term, limits_of(system, rates))


def table(ahead: Ahead) -> tuple[list[str], list[list[str]]]:
    """Headings and rows: a row a week, more around what goes wrong; the plan's value in brackets where it differs."""
    last = len(ahead.term.days)
    wanted = {1, last, *range(7, last + 1, 7)}
    for event in ahead.events:
        wanted |= {event.first, event.last, min(last, event.last + 1), min(last, event.last + 3)}
    wanted |= {crossing.first for crossing in ahead.crossed} | {crossing.worst_day for crossing in ahead.crossed}
    headings = ["day", *(f"{title} {unit}".strip() for _, title, unit, _ in COLUMNS)]
    rows = [
        [str(day), *(_cell(ahead.term.days[day - 1], ahead.plan.days[day - 1], name, places)
                     for name, _, _, places in COLUMNS)]
        for day in sorted(wanted)
    ]  # fmt: skip
    return headings, rows


def table_note(ahead: Ahead) -> str:
    """What somebody has to know who reads the table."""
    brackets = "In brackets: as planned, where it differs. " if ahead.events else ""
    return f"{brackets}In °F: 1.8 times the °C, and 32 more. A US gallon is 3.79\u00a0L."


def _cell(found: Reading, planned: Reading, name: str, places: int) -> str:
    one, two = (figures.decimals(getattr(reading, name), places) for reading in (found, planned))
    return one if one == two else f"{one} ({two})"


def totals(ahead: Ahead) -> list[tuple[str, str, str]]:
    """What the term used and brought: name, as planned, with the events."""
    plan, term = ahead.plan, ahead.term
    rows = [
        ("new water", _litres(math.fsum(d.top_up for d in plan.days)), _litres(math.fsum(d.top_up for d in term.days))),
        ("water splashed or drained", _litres(math.fsum(d.drained for d in plan.days)),
         _litres(math.fsum(d.drained for d in term.days))),
        ("base, as calcium carbonate", _grams(math.fsum(d.base for d in plan.days)),
         _grams(math.fsum(d.base for d in term.days))),
        ("feed left to rot", _grams(math.fsum(d.uneaten for d in plan.days)),
         _grams(math.fsum(d.uneaten for d in term.days))),
        ("live fish at the end", _kilograms(plan.end.biomass), _kilograms(term.end.biomass)),
        ("days on which fish suffer", str(len(stress_days(plan, ahead.limits))), str(ahead.stressed)),
        ("nitrogen fed", _grams(-_nitrogen(plan, ("feed",))), _grams(-_nitrogen(term, ("feed",)))),
        *((f"nitrogen {name}", _grams(_nitrogen(plan, places)), _grams(_nitrogen(term, places)))
          for name, places in _FATES.items()),
        ("nitrogen gained by water and sludge", _grams(_gained(ahead, plan)), _grams(_gained(ahead, term))),
    ]  # fmt: skip
    for bed in ahead.rates.beds:
        if bed.days and bed.unit:
            amounts = [
                math.fsum(cut.amount for day in one.days for cut in day.cuts if cut.bed == bed.name)
                for one in (plan, term)
            ]
            rows.append((f"{bed.crop} from {bed.name}", *(f"{amount:.0f}\u00a0{bed.unit}" for amount in amounts)))  # type: ignore[arg-type]
    if any(bed.worth for bed in ahead.rates.beds):
        rows.append(("taken for the harvest", *(f"${income(one):.0f}" for one in (plan, term))))  # type: ignore[arg-type]
    return rows


_FATES: Final = {
    "in fish": ("fish",), "in the crop": ("crop",), "gone as gas": ("air",), "in compost": ("compost",),
    "lost with water": ("drain",),
}  # fmt: skip


def income(term: Term) -> float:
    """What the harvest brings, at the prices of the file [dollar]."""
    return math.fsum(cut.worth for day in term.days for cut in day.cuts)


def _nitrogen(term: Term, places: tuple[str, ...]) -> float:
    return term.end.books.total("nitrogen", places=places)


def _gained(ahead: Ahead, term: Term) -> float:
    """Nitrogen that stays in the loop and its sludge beyond what was there at first [g]; may be below zero."""
    places = ("loop", "suspended", "cone", "fine", "fresh", "tank")
    return _nitrogen(term, places) - start(ahead.rates).books.total("nitrogen", places=places)


def _litres(litres: float) -> str:
    return _both(litres, "L", 0, "gallon", 0)


def _grams(grams: float) -> str:
    return _both(grams, "g", 0, "lb", 1)


def _kilograms(kilograms: float) -> str:
    return _both(kilograms, "kg", 1, "lb", 0)


def _both(amount: float, unit: str, places: int, other: str, other_places: int) -> str:
    """An amount, and the same in US customary units in brackets; a number stays with its unit."""
    one, two = (
        with_unit(figures.grouped(figures.decimals(value, shown)), name)
        for value, name, shown in ((amount, unit, places), (convert(amount, unit, other), other, other_places))
    )
    return f"{one} ({two})"


def crossing_line(crossing: Crossing) -> str:
    """What is crossed, when and how badly, in a sentence."""
    limit = crossing.limit
    side = "above" if limit.above else "below"
    worst, bound = (both(value, limit.unit) for value in (crossing.worst, limit.value))
    days = "1 day" if crossing.days == 1 else f"{crossing.days} days"
    start = f"{limit.title}: {side} {bound} from day {crossing.first}, {days} in all"
    return f"{start}; worst {worst} on day {crossing.worst_day}."


def cautions(ahead: Ahead) -> list[str]:
    """What to know before anybody tries such a thing for real."""
    found = []
    kinds = {event.kind for event in ahead.events}
    if "pump-stop" in kinds or any(crossing.limit.key in ("level", "oxygen") for crossing in ahead.crossed):
        found.append(f"{air_alone_line(ahead.rates)} {MAINS}")
    if kinds:
        found.append("Never let such a thing happen on purpose to see what comes: fish suffer, and it is for nothing.")
    return found


def air_alone_line(rates: Rates) -> str:
    """How long the oxygen lasts when the air stops too."""
    waters = rates.waters
    lowest = min(3.0, waters.oxygen)
    hours = hours_of_oxygen(
        oxygen=waters.oxygen, lowest_oxygen=lowest, tank_volume=waters.tank_volume, oxygen_demand=waters.oxygen_use
    )
    return (
        "These sums let the air stones run on when the pump stops. If the air stops too, the oxygen in the tanks falls "
        f"to {figure(lowest, 'mg/L', 1)} in about {60 * hours:.0f}\u00a0minutes, and fish die."
    )


def text(ahead: Ahead) -> str:
    """The look ahead for a terminal."""
    headings, rows = table(ahead)
    widths = [max(len(row[place]) for row in [headings, *rows]) for place in range(len(headings))]
    lines = [title(ahead), *([ahead.system.file.note] if ahead.system.file.note else []), "", BEFORE_ACTING]
    lines += [f"Take care. {caution}" for caution in cautions(ahead)]
    lines += ["", *(event.told for event in ahead.events), ""] if ahead.events else [""]
    lines += ["  ".join(f"{cell:>{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
              for row in (headings, *rows)]  # fmt: skip
    lines += [table_note(ahead), "", *_crossing_lines(ahead), ""]
    lines += [f"{name}: {planned}" + (f"; with the events {found}" if found != planned else "")
              for name, planned, found in totals(ahead)]  # fmt: skip
    lines += ["", NOT_MODELLED, "", "Assumed, since the file gives no value of its own (put yours under `measured`):"]
    return "\n".join([*lines, *(f"  {note}" for note in ahead.reckoning.notes)])


def _crossing_lines(ahead: Ahead) -> list[str]:
    lines = []
    for crossing in ahead.crossed:
        lines.append(crossing_line(crossing))
        if crossing.limit.caution:
            lines.append(f"    Take care. {crossing.limit.caution}")
        lines += [f"    {crossing.limit.act}", f"    limit: {crossing.limit.source}"]
    return lines or ["No limit is crossed."]


def title(ahead: Ahead) -> str:
    """What the page is called."""
    return f"{len(ahead.term.days)} days ahead: {ahead.system.file.name}"


def data(ahead: Ahead) -> str:
    """The look ahead as JSON, each day in full."""
    return json.dumps(
        {
            "name": ahead.system.file.name, "version": __version__,
            "events": [{"told": event.told, **asdict(event)} for event in ahead.events],
            "crossed": [
                {"limit": c.limit.key, "value": c.limit.value, "unit": c.limit.unit, "first_day": c.first,
                 "days": c.days, "worst": c.worst, "worst_day": c.worst_day, "act": c.limit.act,
                 "caution": c.limit.caution}
                for c in ahead.crossed
            ],
            "planned": _days(ahead.plan), "with_events": _days(ahead.term),
            "totals": [{"name": name, "planned": planned, "with_events": found}
                       for name, planned, found in totals(ahead)],
            "relations": relations(ahead),
            "assumed": list(ahead.reckoning.notes),
        },
        ensure_ascii=False, indent=2,
    )  # fmt: skip


def relations(ahead: Ahead) -> list[str]:
    """The relations behind the rates, then those that each day asks, with their sources."""
    found = [relation_line(working) for working in ahead.reckoning.workings]
    found += [f"{name}: {'; '.join(map(reference, RELATIONS[name].sources))}" for name in _EVERY_DAY]
    return list(dict.fromkeys(found))


_EVERY_DAY: Final = (
    "oxygen_saturation", "oxygen_at_demand", "ph_after_alkalinity", "un_ionised_ammonia",
    "vapour_pressure_at_saturation", "hours_of_oxygen",
)  # fmt: skip


def _days(term: Term) -> list[Mapping[str, Any]]:
    return [asdict(reading) for reading in term.days]
