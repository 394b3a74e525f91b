"""Exercises with the numbers of a growing file: givens that name a value of it stand still instead of being drawn.

A value takes the place of a drawn one only if the family still makes acceptable draws with it, in both systems of
units, and as many different ones as are wanted; else it is left out, and one line says why.
"""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from waterleaf.bank.family import Family
from waterleaf.bank.models import Given
from waterleaf.draw import NoDraw, distinct_draws
from waterleaf.growing.system import System
from waterleaf.working import figures
from waterleaf.working.units import convert, with_unit

# A seed and how many different draws are wanted of it.
Wanted = Sequence[tuple[str | int, int]]


@dataclass(frozen=True, slots=True)
class Posed:
    """A family with own numbers where they fit, the values that stand in it, and why others do not."""

    family: Family
    used: Mapping[str, float]
    left_out: tuple[str, ...]

    @property
    def line(self) -> str:
        """What became of the family, on one line; empty where it names no value of a growing file."""
        given = self.family.file.given
        parts = [
            f"{name} {with_unit(figures.plain(value, 7), getattr(given[name], 'unit', ''))}"
            for name, value in self.used.items()
        ]
        told = ["own " + ", ".join(parts)] if parts else []
        told += self.left_out
        return f"{self.family.key}: {'; '.join(told)}" if told else ""


def with_own_numbers(family: Family, system: System, wanted: Wanted) -> Posed:
    """The family with the system's numbers, taken on one by one as long as the wanted draws remain."""
    used: dict[str, float] = {}
    left_out: list[str] = []
    current = family
    for name, given in family.file.given.items():
        if not isinstance(given, Given) or given.own is None:
            continue
        found = system.get(given.own)
        if found is None or found.origin == "assumed":
            left_out.append(f"{name} is drawn, since the file gives no {given.own}")
            continue
        number = found.number if not found.unit else convert(found.number, found.unit, given.unit)
        value = _on_step(number, given)
        tried = standing_still(family, {**used, name: value})
        reason = _unfit(tried, wanted)
        if reason:
            amount = with_unit(figures.plain(value, 7), given.unit)
            left_out.append(f"{name} is drawn, since {amount} does not fit ({reason})")
            continue
        used[name] = value
        current = tried
    return Posed(current, used, tuple(left_out))


def pose_bank(families: Iterable[Family], system: System, wanted: Wanted) -> tuple[list[Family], list[str]]:
    """Families with the system's numbers, in order, and a line for each that names a value of a growing file."""
    posed = [with_own_numbers(family, system, wanted) for family in families]
    return [one.family for one in posed], [one.line for one in posed if one.line]


def _on_step(number: float, given: Given) -> float:
    """The number as a sheet would print it: on the family's own steps, so that 19.95 m2 is 20 m2."""
    start, step = Decimal(repr(given.from_)), Decimal(repr(given.step))
    return float(start + step * round((figures.quiet(number) - start) / step))


def standing_still(family: Family, values: Mapping[str, float]) -> Family:
    """The family with some givens standing still, under a name of its own."""
    given = {
        name: spec.model_copy(update={"from_": values[name], "to": values[name]}) if name in values else spec
        for name, spec in family.file.given.items()
    }
    text = ";".join(f"{name}={value!r}" for name, value in sorted(values.items()))
    mark = "own" + hashlib.blake2b(text.encode(), digest_size=3).hexdigest()
    return replace(family, file=family.file.model_copy(update={"given": given}), own=mark)


def _unfit(family: Family, wanted: Wanted) -> str:
    """Why a family with own numbers cannot be posed; nothing where it can."""
    try:
        for seed, count in wanted:
            for _ in distinct_draws(family, seed, count):
                pass
    except NoDraw as error:
        reason = str(error).removeprefix(f"{family.key}: ").partition(". Widen")[0]
        return reason.partition("most often because ")[2] or reason.rstrip(".")
    return ""
