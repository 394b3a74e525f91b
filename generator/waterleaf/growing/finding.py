"""What a check finds: a figure with its working, the accepted band with its source, and where the system stands."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from waterleaf.calc.quantity import RELATIONS, OutOfRange
from waterleaf.growing.facts import reference
from waterleaf.growing.system import System, Value
from waterleaf.working import figures
from waterleaf.working.steps import Working, work
from waterleaf.working.units import convert, with_unit

Standing = Literal["fine", "look", "mend", "missing"]
ORDER: Final[tuple[Standing, ...]] = ("mend", "look", "missing", "fine")

# US customary units that stand in brackets behind a metric figure.
_CUSTOMARY: Final = {
    "kg/m^3": "lb/gallon", "L": "gallon", "L/day": "gallon/day", "g/m^2/day": "lb/ft^2/day", "g/day": "lb/day",
    "m/day": "gallon/min/ft^2", "degC": "degF", "W": "Btu/hour", "g/meal": "oz/meal", "g": "lb",
    "dollar/m^2/week": "dollar/ft^2/week",
}  # fmt: skip

# What can be hurt, most urgent first: it orders the findings that stand alike.
PEOPLE, FISH, CROP, MONEY = 0, 1, 2, 3


class Missing(Exception):
    """The growing file does not lead to a value."""

    def __init__(self, names: Sequence[str], note: str = "") -> None:
        """Note every name that is missing, and what can be said all the same."""
        self.note = note
        self.names = tuple(dict.fromkeys(names))
        super().__init__(", ".join(self.names))


@dataclass(frozen=True, slots=True)
class Band:
    """Values that are fine, values beyond which it must be mended, and where the band comes from."""

    low: float | None
    high: float | None
    source: str
    worst_low: float | None = None
    worst_high: float | None = None

    def stands(self, value: float) -> Standing:
        """Where a value stands; between fine and the worst there is room to look."""
        if self.worst_low is not None and value < self.worst_low:
            return "mend"
        if self.worst_high is not None and value > self.worst_high:
            return "mend"
        below, above = self.low is not None and value < self.low, self.high is not None and value > self.high
        return "look" if below or above else "fine"

    def text(self, unit: str, shown: int = 3) -> str:
        """The band in words, in US customary units too where these differ."""
        ends = [end for end in (self.low, self.high) if end is not None]
        if not ends:
            return "no band; see the text"
        words = "" if len(ends) == 2 else "at most " if self.low is None else "at least "
        other = _CUSTOMARY.get(unit)
        more = f" ({_span([convert(end, unit, other) for end in ends], other, shown)})" if other else ""
        return f"{words}{_span(ends, unit, shown)}{more}"


def _span(ends: Sequence[float], unit: str, shown: int) -> str:
    numbers = [figures.grouped(figures.plain(end, shown)) for end in dict.fromkeys(ends)]
    return " to ".join([*numbers[:-1], with_unit(numbers[-1], unit)])


@dataclass(frozen=True, slots=True)
class Table:
    """Rows that belong to a finding."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Finding:
    """One line of the findings sheet."""

    key: str
    title: str
    harms: int
    standing: Standing
    say: str
    value: float | None = None
    unit: str = ""
    shown: str = ""
    workings: tuple[Working, ...] = ()
    band: str = ""
    band_source: str = ""
    caution: str = ""
    missing: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    table: Table | None = None


@dataclass
class Reckoning:
    """Works relations out from the values of a system, and notes what was assumed on the way."""

    system: System
    assumed: dict[str, Value] = field(default_factory=dict)
    workings: list[Working] = field(default_factory=list)
    bridged: list[str] = field(default_factory=list)

    def bridge(self, gap: str) -> None:
        """Note a gap in the file, and how it is bridged; nothing is filled in silently."""
        if gap not in self.bridged:
            self.bridged.append(gap)

    def value(self, name: str, unit: str | None = None) -> float:
        """A value of the system.

        Raises Missing where the file does not lead to it.
        """
        found = self.system.get(name)
        if found is None:
            raise Missing(self.system.lacking(name))
        if found.origin == "assumed":
            self.assumed[name] = found
        # A bare count, such as three meals, is in the relation's own unit.
        return found.number if unit is None or not found.unit else convert(found.number, found.unit, unit)

    def known(self, name: str) -> bool:
        """Whether the system has a value."""
        return self.system.get(name) is not None

    def given(self, name: str) -> bool:
        """Whether the value was given or follows from what was."""
        found = self.system.get(name)
        return found is not None and found.origin != "assumed"

    def need(self, *names: str) -> None:
        """Ask for several values at once, so that all that are missing are named together."""
        lacking = [inner for name in names if self.system.get(name) is None for inner in self.system.lacking(name)]
        if lacking:
            raise Missing(lacking)

    def of(self, relation: str, **inputs: Any) -> Working:
        """A relation worked out; an input is a dotted name, an earlier working, or a number in the relation's unit.

        Raises Missing naming every value that is missing, OutOfRange where the relation refuses a value.
        """
        self.need(*(given for given in inputs.values() if isinstance(given, str)))
        parameters, values = RELATIONS[relation].parameters, {}
        for argument, given in inputs.items():
            unit = parameters[argument].unit
            if isinstance(given, str):
                values[argument] = self.value(given, unit)
            elif isinstance(given, Working):
                values[argument] = convert(given.value, given.relation.result.unit, unit)
            else:
                values[argument] = given
        # A student with a calculator must get the printed lines: start from seven figures, as the sheets do.
        values = {name: float(figures.plain(v, 7)) if isinstance(v, float) else v for name, v in values.items()}
        whole = {name for name, quantity in parameters.items() if quantity.whole}
        found = work(relation, {name: int(v) if name in whole else v for name, v in values.items()})
        if not any(found == earlier for earlier in self.workings):
            self.workings.append(found)
        return found

    def times(self, amount: float | Working, reference_: float | Working) -> Working:
        """How many times as much one amount is as another, both in the same unit."""
        one = float(amount.value if isinstance(amount, Working) else amount)
        other = float(reference_.value if isinstance(reference_, Working) else reference_)
        if isinstance(amount, Working) and isinstance(reference_, Working):
            one = convert(one, amount.relation.result.unit, reference_.relation.result.unit)
        return self.of("times_as_much", amount=one, reference=other)

    @property
    def notes(self) -> tuple[str, ...]:
        """The assumed values, each with its source, and the gaps that were bridged."""
        return (*(assumption(name, value) for name, value in self.assumed.items()), *self.bridged)


def assumption(name: str, value: Value) -> str:
    """An assumed value on one line: meaning, name, number, source."""
    amount = with_unit(figures.grouped(figures.plain(value.number, 4)), value.unit)
    return f"{value.meaning} ({name}): {amount}. {value.source}"


def figure(value: float, unit: str, shown: int = 3) -> str:
    """A number with its unit, as it stands on the sheet; percent a day and the like are written out."""
    return with_unit(figures.grouped(figures.plain(value, shown)), unit)


def also(value: float, unit: str, shown: int = 3) -> str:
    """The same in US customary units, in brackets; nothing where both systems say the same."""
    other = _CUSTOMARY.get(unit)
    if other is None or (value == 0 and unit != "degC"):
        return ""
    return f" ({figure(convert(value, unit, other), other, shown)})"


def both(value: float, unit: str, shown: int = 3) -> str:
    """A number with its unit, and the same in US customary units in brackets."""
    return figure(value, unit, shown) + also(value, unit, shown)


def finding(
    r: Reckoning, key: str, title: str, harms: int, worked: Working | None, band: Band, *, says: dict[str, str],
    caution: str = "", table: Table | None = None, judge: float | None = None, shown: str = "", band_text: str = "",
) -> Finding:
    """A finding from its last working, or from a reading; `says` has a sentence for below, above and fine.

    `judge` is the number that is held against the band, where it is not the result of the working.
    """
    unit = worked.relation.result.unit if worked else ""
    value = float(worked.value) if worked else float(judge or 0)
    judged = value if judge is None else judge
    standing = band.stands(judged)
    side = "fine"
    if standing != "fine":
        low = band.low if band.low is not None else band.worst_low
        side = "below" if low is not None and judged < low else "above"
    return Finding(
        key, title, harms, standing, says.get(side, says["fine"]), value, unit,
        shown or both(value, unit), tuple(r.workings), band_text or band.text(unit),
        band.source, caution if standing != "fine" else "",
        assumed=r.notes, table=table,
    )


def unknown(key: str, title: str, harms: int, missing: Missing) -> Finding:
    """A finding that could not be made."""
    names = tuple(name.rstrip("*") for name in missing.names)
    say = f"{missing.note} Missing: {'; '.join(names)}.".strip()
    return Finding(key, title, harms, "missing", say, missing=names)


def refused(key: str, title: str, harms: int, error: OutOfRange, r: Reckoning) -> Finding:
    """A finding whose relation does not hold for the numbers of this system."""
    return Finding(
        key, title, harms, "mend", f"The numbers lie outside what the relation holds for. {error}",
        workings=tuple(r.workings), assumed=r.notes,
    )


__all__ = [
    "CROP", "FISH", "MONEY", "ORDER", "PEOPLE", "Band", "Finding", "Missing", "Reckoning", "Table", "also",
    "assumption", "both", "figure", "finding", "reference", "refused", "unknown",
]
