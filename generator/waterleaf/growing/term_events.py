"""What may go wrong in a term, as people type it: `missed-flush:10-14`, `pump-stop:20:5 hours`, `heat-wave:30:6 C`."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from waterleaf.faults import Fault, Faults, nearest
from waterleaf.growing.measures import Measure
from waterleaf.growing.term import Today
from waterleaf.working import figures

_SHAPE: Final = re.compile(r"\s*([a-z-]+)\s*:\s*(\d{1,4})(?:\s*-\s*(\d{1,4}))?\s*(?::\s*(.+?))?\s*")
_DEGREES: Final = re.compile(r"\s*°?\s*([CF])$")


@dataclass(frozen=True, slots=True)
class Kind:
    """One thing that may go wrong: which part of a day it changes, its amount, and how it is told; `sign` turns the
    amount as typed into what the day takes."""

    part: str
    told: str
    amount: Measure | None = None
    example: str = ""
    value: Any = False
    sign: float = 1


KINDS: Final[dict[str, Kind]] = {
    "missed-flush": Kind("flush", "nobody flushes the settling tank"),
    "pump-stop": Kind("pump_off", "the pump stands still for {amount} a day", Measure("hour", 0.25, 24), "5 hours"),
    "heat-wave": Kind("warmer", "the air is {amount} warmer", Measure("delta_degC", 0.5, 15), "6 C"),
    "cold-snap": Kind("warmer", "the air is {amount} colder", Measure("delta_degC", 0.5, 15), "6 C", sign=-1),
    "over-feeding": Kind("feed", "{amount} times the planned feed is thrown in", Measure("", 1.01, 4), "1.5"),
    "short-feeding": Kind("feed", "{amount} times the planned feed is given", Measure("", 0, 0.99), "0.5"),
    "no-top-up": Kind("top_up", "nobody tops the water up"),
    "late-harvest": Kind("harvest", "nothing is cut or picked"),
    "no-base": Kind("base", "no base is dosed"),
    "filter-loss": Kind(
        "filter_lost", "{amount} of the filter's bacteria die", Measure("percent", 1, 100), "90 %", sign=0.01
    ),
}


@dataclass(frozen=True, slots=True)
class Event:
    """Something that goes wrong from one day to another, both counted in."""

    kind: str
    first: int
    last: int
    amount: float | None = None

    @property
    def told(self) -> str:
        """The event in words."""
        days = f"on day {self.first}" if self.first == self.last else f"from day {self.first} to day {self.last}"
        text = KINDS[self.kind].told.format(amount=self._amount)
        return f"{text[0].upper()}{text[1:]} {days}."


    @property
    def _amount(self) -> str:
        unit = KINDS[self.kind].amount
        number = figures.plain(self.amount or 0.0, 3)
        if KINDS[self.kind].part == "warmer":
            return f"{number} °C ({figures.plain(1.8 * (self.amount or 0.0), 2)} °F)"
        if self.kind == "filter-loss":
            return f"{number} %"
        return f"{number} {'hour' if number == '1' else 'hours'}" if unit and unit.unit else number


def read_events(typed: Sequence[str], days: int) -> list[Event]:
    """The events in typed words, for a term of some days.

    Raises Faults with everything that is wrong in them.
    """
    found: list[Event] = []
    faults: list[Fault] = []
    for text in typed:
        try:
            event = _event(text, days)
        except ValueError as error:
            faults.append(Fault("--if", text, str(error)))
            continue
        part = KINDS[event.kind].part
        clash = next(
            (e for e in found if KINDS[e.kind].part == part and e.first <= event.last and event.first <= e.last), None
        )
        if clash:
            faults.append(Fault("--if", text, f"a day stands in {clash.kind} already. Let the days not overlap."))
        found.append(event)
    if faults:
        raise Faults(faults)
    return found


def _event(text: str, days: int) -> Event:
    shape = _SHAPE.fullmatch(text)
    if not shape:
        raise ValueError("this does not read as an event. Write name:day, name:day-day or name:day-day:amount.")
    name, first_text, last_text, amount = shape.groups()
    if name not in KINDS:
        raise ValueError(f"{name} is no event.{nearest(name, KINDS)} Events are {', '.join(KINDS)}.")
    first, last = int(first_text), int(last_text or first_text)
    if last < first:
        raise ValueError(f"day {last} comes before day {first}. Write the earlier day first.")
    if first < 1 or last > days:
        raise ValueError(f"day {last if last > days else first} lies outside the term. Give days from 1 to {days}.")
    kind = KINDS[name]
    if kind.amount is None:
        if amount:
            raise ValueError(f"{name} takes no amount. Write {name}:{first}-{last}.")
        return Event(name, first, last)
    if not amount:
        raise ValueError(f"{name} needs an amount. Write for example {name}:{first}-{last}:{kind.example}.")
    read = _DEGREES.sub(r" delta_deg\1", amount) if kind.part == "warmer" else amount
    try:
        value = kind.amount.read(float(read) if not kind.amount.unit else read)
    except ValueError as error:
        raise ValueError(str(error).replace(read, amount).replace("delta_degC", "C")) from None
    return Event(name, first, last, value)


def todays(events: Iterable[Event], first: int, last: int) -> list[Today]:
    """The days from one to another, both counted in, with what goes wrong on each."""
    found = [Today() for _ in range(first, last + 1)]
    for event in events:
        kind = KINDS[event.kind]
        change: dict[str, Any] = {kind.part: kind.value if event.amount is None else kind.sign * event.amount}
        for day in range(max(first, event.first), min(last, event.last) + 1):
            found[day - first] = replace(found[day - first], **change)
    return found
