"""Takes in a filled table and holds every row against the plan: nothing is dropped in silence, no file changed."""

import datetime
import re
import statistics
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

from waterleaf.calc.quantity import OutOfRange
from waterleaf.calc.sugar.refractometer import corrected_brix
from waterleaf.faults import refuse
from waterleaf.marking.tableout import unguarded
from waterleaf.marking.tabular import OVERFULL, Row, read_table
from waterleaf.trial.datatable import NEEDED, REHEARSAL, Key
from waterleaf.trial.dates import Unclear, read_date
from waterleaf.trial.frozen import fingerprint, short
from waterleaf.trial.layout import Unit
from waterleaf.trial.plan import Plan
from waterleaf.working.units import convert, with_unit

# held: the row is not used until a person has decided; flagged: used, and pointed out; missing: nothing to use.
Kind = Literal["held", "flagged", "missing"]

_NUMBER: Final = re.compile(r"[-+−]?(\d+([.,]\d*)?|[.,]\d+)")
# Modified z score; Iglewicz and Hoaglin 1993, from memory. It only flags.
_FAR: Final = 3.5
_MAD_TO_DEVIATION: Final = 0.6745
_OTHER_UNIT: Final = 8.0
_SHOWN: Final = 40
_PLACES: Final = 4


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a person should know about the table."""

    kind: Kind
    where: str
    message: str


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading that can be used: of which unit, which plant, what was shown, what it is worth at 20 degrees."""

    code: str
    number: int
    shown: float
    value: float
    where: str
    date: datetime.date | None = None


@dataclass(frozen=True, slots=True)
class Intake:
    """What a table gave: the readings that can be used, and everything that was found on the way."""

    readings: tuple[Reading, ...]
    findings: tuple[Finding, ...]
    expected: int
    invented: bool = False

    @property
    def days(self) -> tuple[datetime.date, datetime.date] | None:
        """The first and the last day on which a usable reading was taken, as far as the table tells."""
        dated = [reading.date for reading in self.readings if reading.date]
        return (min(dated), max(dated)) if dated else None

    def count(self, kind: Kind) -> int:
        """How many findings of a kind."""
        return sum(finding.kind == kind for finding in self.findings)


class Held(ValueError):
    """A row that cannot be used, and why."""


def take_in(plan: Plan, units: Sequence[Unit], path: Path) -> Intake:
    """The readings in a filled table.

    Raises Faults where the file cannot be read, belongs to another trial, or has no row of this one.
    """
    table = read_table(path, NEEDED)
    mark = short(fingerprint(plan, units))
    others = {row.cells.get("trial", "") for row in table.rows} - {mark, ""}
    if table.rows and not any(row.cells.get("trial") == mark for row in table.rows):
        raise refuse(
            path.name,
            "belongs to another trial or to another version of the plan "
            f"(mark {sorted(others)[0] if others else 'none'}, wanted {mark}). "
            "Use the table that was printed with this plan.",
        )
    if not table.rows:
        raise refuse(path.name, "has a heading and no rows. Fill in the table that was printed with this plan.")
    by_code = {unit.code: unit for unit in units}
    findings: list[Finding] = []
    readings: dict[Key, list[Reading]] = defaultdict(list)
    for row in table.rows:
        try:
            reading = _reading(row, plan, by_code, mark, findings)
        except Held as reason:
            findings.append(Finding("held", row.where, str(reason)))
            continue
        if reading is not None:
            readings[reading.code, reading.number].append(reading)
    kept = _each_once(readings, findings)
    findings += _missing(plan, units, readings, table.rows)
    _flag_outliers(kept, by_code, findings)
    order = {unit.code: place for place, unit in enumerate(units)}
    kept.sort(key=lambda reading: (order[reading.code], reading.number))
    invented = any(row.cells.get("reader", "") == REHEARSAL for row in table.rows)
    return Intake(tuple(kept), tuple(findings), len(units) * plan.readings, invented)


def _reading(row: Row, plan: Plan, by_code: Mapping[str, Unit], mark: str, findings: list[Finding]) -> Reading | None:
    """The reading in a row, or nothing where the row was left blank."""
    cells = {heading: unguarded(text).strip() for heading, text in row.cells.items()}
    if OVERFULL in cells:
        raise Held("there are cells beyond the last heading; a comma may have pushed them along.")
    if cells.get("trial") != mark:
        raise Held(f"the mark of the trial is {cells.get('trial') or 'missing'}, not {mark}.")
    if not cells.get("value"):
        return None
    unit = by_code.get(cells.get("code", "").upper())
    if unit is None:
        raise Held(f"no unit has the code {cells.get('code') or '(empty)'}. {_meant(cells.get('code', ''), by_code)}")
    if cells.get("place") and cells["place"] != unit.place:
        raise Held(
            f"code {unit.code} stands at {unit.place}, not at {cells['place']}: the codes may be swapped. "
            "Look at the tags."
        )
    number = _whole(cells.get("reading", ""), plan.readings)
    shown = _in_unit(_number(cells["value"], "value", row, findings), cells.get("unit", ""), plan, row, findings)
    _hold_against_scale(shown, plan, row, findings)
    value = _at_twenty(shown, cells.get("temperature", ""), plan, row, findings)
    return Reading(unit.code, number, shown, value, row.where, date=_date(cells.get("date", ""), row, findings))


def _meant(code: str, by_code: Mapping[str, Unit]) -> str:
    near = [
        other for other in by_code
        if len(other) == len(code) and sum(a != b for a, b in zip(other, code.upper(), strict=True)) == 1
    ]  # fmt: skip
    return f"{near[0]} may be meant." if len(near) == 1 else "Look at the tag."


def _whole(text: str, most: int) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= most:
        raise Held(f"reading {text or '(empty)'} is not a whole number from 1 to {most}.")
    return int(text)


def _number(text: str, heading: str, row: Row, findings: list[Finding]) -> float:
    if text.startswith("date "):
        raise Held(f"{heading} became the {text} in the spreadsheet. Type it again, as a number.")
    if not _NUMBER.fullmatch(text):
        raise Held(f"{heading} {text!r} is not a plain number. Put words under remark, and units under unit.")
    if "," in text:
        findings.append(Finding("flagged", row.where, f"{heading} {text} was read with a decimal comma."))
    return float(text.replace(",", ".").replace("−", "-"))


def _in_unit(value: float, unit: str, plan: Plan, row: Row, findings: list[Finding]) -> float:
    wanted = plan.response.unit
    if unit in ("", wanted):
        return value
    try:
        turned = convert(value, unit, wanted)
    except Exception:  # pint raises several kinds for a unit it cannot read or turn
        raise Held(f"the unit is {unit}, and the plan says {wanted or 'no unit'}.") from None
    said = f"{value:g} {unit} was turned into {with_unit(f'{turned:.4g}', wanted)}."
    findings.append(Finding("flagged", row.where, said))
    return turned


def _hold_against_scale(value: float, plan: Plan, row: Row, findings: list[Finding]) -> None:
    response = plan.response
    if not response.low <= value <= response.high:
        raise Held(f"{value:g} is beyond the instrument, which shows {response.low:g} to {response.high:g}.")
    if value == response.high:
        findings.append(Finding("flagged", row.where, f"{value:g} is the end of the scale; the truth may lie beyond."))
    steps = (value - response.low) / response.step
    if abs(steps - round(steps)) > 0.01:
        findings.append(
            Finding("flagged", row.where, f"{value:g} lies between two steps of {response.step:g} of the instrument.")
        )
    if response.plausible and not response.plausible[0] <= value <= response.plausible[1]:
        low, high = response.plausible
        findings.append(
            Finding("flagged", row.where, f"{value:g} is outside what the plan expects, {low:g} to {high:g}.")
        )


def _at_twenty(shown: float, temperature: str, plan: Plan, row: Row, findings: list[Finding]) -> float:
    """The reading at 20 degrees Celsius, where the instrument does not see to that itself."""
    if not plan.needs_temperature:
        return shown
    if not temperature:
        raise Held("no temperature of the prism, and this instrument does not compensate.")
    warmth = _number(temperature, "temperature", row, findings)
    try:
        return _corrected(shown, warmth)
    except OutOfRange as error:
        raise Held(f"cannot be brought to 20 °C: {error}") from None


@lru_cache(maxsize=10_000)
def _corrected(shown: float, warmth: float) -> float:
    """Instruments show tenths, so that a long table holds few different pairs."""
    return corrected_brix(reading=shown, temperature=warmth)


def _date(text: str, row: Row, findings: list[Finding]) -> datetime.date | None:
    if not text:
        return None
    try:
        return read_date(text)
    except Unclear as reason:
        findings.append(Finding("flagged", row.where, str(reason)))
        return None


def _each_once(readings: Mapping[Key, Sequence[Reading]], findings: list[Finding]) -> list[Reading]:
    kept = []
    for (code, number), found in readings.items():
        if len(found) == 1:
            kept.append(found[0])
            continue
        places = together([reading.where for reading in found])
        if len({reading.value for reading in found}) == 1:
            kept.append(found[0])
            findings.append(
                Finding("flagged", places, f"{code} reading {number} stands {len(found)} times, all alike. Used once.")
            )
        else:
            findings.append(
                Finding("held", places, f"{code} reading {number} stands {len(found)} times with different values.")
            )
    return kept


def together(places: Sequence[str]) -> str:
    """Where several rows stand, told in one line however many they are."""
    told = ", ".join(places[:_PLACES])
    return told if len(places) <= _PLACES else f"{told} and {len(places) - _PLACES} more"


def _missing(
    plan: Plan, units: Iterable[Unit], readings: Mapping[Key, Sequence[Reading]], rows: Sequence[Row]
) -> list[Finding]:
    """What the plan wanted and the table does not have, a line a unit."""
    file = rows[0].file
    found = []
    for unit in units:
        absent = [number for number in range(1, plan.readings + 1) if (unit.code, number) not in readings]
        if len(absent) == plan.readings:
            found.append(Finding("missing", file, f"{unit.code} ({unit.place}): no usable reading at all."))
        elif absent:
            numbers = ", ".join(map(str, absent))
            found.append(Finding("missing", file, f"{unit.code} ({unit.place}): no usable reading {numbers}."))
    return found


def _flag_outliers(readings: Sequence[Reading], by_code: Mapping[str, Unit], findings: list[Finding]) -> None:
    """Point out readings far from the others of their method. They stay in."""
    groups: dict[str, list[Reading]] = defaultdict(list)
    for reading in readings:
        groups[by_code[reading.code].method].append(reading)
    middle_of_all = statistics.median(reading.value for reading in readings) if readings else 0.0
    for group in groups.values():
        middle = statistics.median(reading.value for reading in group)
        spread = statistics.median(abs(reading.value - middle) for reading in group)
        for reading in group:
            far = spread > 0 and _MAD_TO_DEVIATION * abs(reading.value - middle) / spread > _FAR
            ratio = reading.value / middle_of_all if middle_of_all > 0 else 1.0
            if ratio > _OTHER_UNIT or 0 < ratio < 1 / _OTHER_UNIT:
                hint = f"{reading.value:g} is {ratio:.2g} times the median: another unit or a lost point. Used."
                findings.append(Finding("flagged", reading.where, hint))
            elif far:
                hint = f"{reading.value:.4g} lies far from the others of its method. Used; look at the paper sheet."
                findings.append(Finding("flagged", reading.where, hint))


def as_text(intake: Intake) -> str:
    """The findings as lines to read, the gravest first."""
    return "\n".join([f"{len(intake.readings)} of {intake.expected} readings can be used.", *listed(intake.findings)])


def listed(findings: Sequence[Finding]) -> list[str]:
    """Findings as lines, the gravest first, not too many of a kind."""
    lines: list[str] = []
    for kind, title in (("held", "Held back until a person decides"), ("missing", "Missing"), ("flagged", "Flagged")):
        found = [finding for finding in findings if finding.kind == kind]
        if not found:
            continue
        lines += ["", f"{title} ({len(found)}):", *(f"  {one.where}: {one.message}" for one in found[:_SHOWN])]
        if len(found) > _SHOWN:
            lines.append(f"  and {len(found) - _SHOWN} more")
    return lines
