"""A family of exercises, ready for use: what its parts and slips lead to for given values."""

import itertools
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final, Literal

from waterleaf.bank.expressions import Expression
from waterleaf.bank.models import FamilyFile, Given, Part, Pick, Slip
from waterleaf.calc.quantity import Relation
from waterleaf.typeset import held_together
from waterleaf.working.units import convert

Values = Mapping[str, Any]
System = Literal["metric", "us"]
_NOISE: Final = 1e-9
# A wrong turn to a number of more digits is none that a student writes down.
_LARGEST: Final = 1e15


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far an answer may lie off: a share of the key, or an amount in the part's metric unit."""

    share: float = 0.0
    amount: float = 0.0

    def around(self, key: float) -> tuple[float, float]:
        """The accepted band about a key, lower end first."""
        width = max(abs(key) * self.share, self.amount)
        return key - width, key + width


class Unanswerable(ValueError):
    """Values for which a choice has no single right answer, or two items of an order are as good as equal."""


@dataclass(frozen=True)
class PartSpec:
    """A part with its relation found and its arguments compiled; a choice or order has sums instead."""

    name: str
    file: Part
    relation: Relation | None
    arguments: Mapping[str, Callable[[Values], Any]]
    plain_names: Mapping[str, str]
    tolerance: Tolerance
    uses: frozenset[str]
    sums: tuple[Expression, ...] = ()

    def inputs(self, values: Values) -> dict[str, Any]:
        """Arguments of the relation, in its own units."""
        return {name: argument(values) for name, argument in self.arguments.items()}

    def answer(self, values: Values) -> Any:
        """The key: a number in the part's metric unit, times, the place of the right option, or the order of places.

        Raises OutOfRange where the relation does not hold, Unanswerable where no answer stands out.
        """
        if self.relation is None:
            return self._chosen(values) if self.file.kind == "choice" else self._ordered(values)
        value = self.relation.checked(**self.inputs(values))
        found = (
            picked(value, self.file.pick)
            if self.file.pick
            else in_unit(value, self.relation.result.unit, self.file.unit)
        )
        return self.rounded(found)

    def rounded(self, value: Any) -> Any:
        """A count rounded the way the question asks; anything else as it is."""
        if self.file.round is None:
            return value
        # A hair of binary noise must not make one head more or less.
        return float(math.ceil(value - _NOISE) if self.file.round == "up" else math.floor(value + _NOISE))

    def _chosen(self, values: Values) -> int:
        right = [place for place, condition in enumerate(self.sums) if condition.value(values)]
        if len(right) != 1:
            raise Unanswerable(f"{self.name}: {len(right)} options would be right")
        return right[0]

    def sorted_places(self, values: Values) -> tuple[int, ...]:
        """The places of the items in their order, however close two of them are."""
        ranks = [float(rank.value(values)) for rank in self.sums]
        return tuple(sorted(range(len(ranks)), key=lambda place: ranks[place], reverse=self.file.highest_first))

    def _ordered(self, values: Values) -> tuple[int, ...]:
        ranks = [float(rank.value(values)) for rank in self.sums]
        order = self.sorted_places(values)
        for first, second in itertools.pairwise(order):
            if abs(ranks[first] - ranks[second]) <= self.tolerance.around(ranks[first])[1] - ranks[first]:
                raise Unanswerable(f"{self.name}: two items would be as good as equal")
        return order


def picked(rows: Any, pick: Pick) -> float:
    """One number out of a table of rows. Raises Unanswerable where there is no such cell."""
    for place, row in enumerate(rows):
        first = next(iter(vars(row).values())) if hasattr(row, "__dict__") else getattr(row, row.__slots__[0])
        if pick.row in (place, first):
            value = getattr(row, pick.column, None)
            if value is None:
                break
            return float(value)
    raise Unanswerable(f"the table has no cell {pick.row!r}, {pick.column!r}")


@dataclass(frozen=True)
class SlipSpec:
    """A wrong turn, ready to be worked out."""

    file: Slip
    number: Callable[[Values], Any]

    def value(self, values: Values) -> Any | None:
        """The number that the wrong turn leads to, or None where it leads nowhere."""
        try:
            found = self.number(values)
            return found if _has_an_end(found) else None
        except (ArithmeticError, ValueError, TypeError):
            return None


def _has_an_end(value: Any) -> bool:
    """Whether a number, and each of several, is one that can be printed."""
    return all(map(_has_an_end, value)) if isinstance(value, tuple | list) else abs(value) < _LARGEST


@dataclass(frozen=True)
class Family:
    """A family of exercises: the file as read, and everything in it compiled."""

    key: str
    topic: str
    file: FamilyFile
    parts: Mapping[str, PartSpec]
    slips: tuple[SlipSpec, ...]
    conditions: tuple[Expression, ...]
    own: str = ""

    @property
    def identity(self) -> str:
        """Family and version, as it stands in seeds and sheet codes; `own` marks a school's own numbers in it."""
        return f"{self.key}:{self.file.version}" + (f"+{self.own}" if self.own else "")

    @property
    def caution(self) -> str:
        """The caution on one line; nothing where the task can hurt nobody."""
        return held_together(" ".join((self.file.caution or "").split()))

    @cached_property
    def has_customary(self) -> bool:
        """Whether any given is printed in another unit on US customary sheets."""
        return any(isinstance(given, Given) and given.us for given in self.file.given.values())

    def shown_unit(self, name: str, system: System) -> str:
        """Unit in which a given or a part is shown on a sheet of this system."""
        thing = self.file.given.get(name) or self.file.parts[name]
        us = getattr(thing, "us", None)
        return us.unit if us and system == "us" else thing.unit

    def slip_value(self, slip: SlipSpec, keys: Values, system: System) -> Any | None:
        """The number that a wrong turn leads to on a sheet of this system, in the part's metric unit.

        None where the wrong turn cannot happen on such a sheet, or leads nowhere: several numbers are no answer to a
        question for one.
        """
        if slip.file.only not in (None, system):
            return None
        wrong = self._wrong(slip, keys, system)
        several = isinstance(wrong, tuple | list) and not isinstance(keys[slip.file.of], tuple | list)
        return None if several else wrong

    def _wrong(self, slip: SlipSpec, keys: Values, system: System) -> Any | None:
        names = {**keys, "answer": keys[slip.file.of]}
        if not slip.file.as_shown:
            return slip.value(names)
        unit, shown = self.file.parts[slip.file.of].unit, self.shown_unit(slip.file.of, system)
        numbers = {name: self._as_shown(name, value, system) for name, value in keys.items()}
        wrong = slip.value({**numbers, "answer": in_unit(names["answer"], unit, shown)})
        return None if wrong is None else in_unit(wrong, shown, unit)

    def _as_shown(self, name: str, value: Any, system: System) -> Any:
        part = self.file.parts.get(name)
        if part is not None and not part.numeric:
            return value
        thing = self.file.given.get(name) or part
        return in_unit(value, thing.unit, self.shown_unit(name, system)) if thing else value

    def keys(self, values: Values) -> dict[str, Any]:
        """Answers of all parts in their metric units, each from the ones before."""
        known = dict(values)
        for name, part in self.parts.items():
            known[name] = part.answer(known)
        return known


def in_unit(value: Any, unit: str, into: str) -> Any:
    """A value, or each of a list, in another unit."""
    if unit == into:
        return value
    if isinstance(value, list | tuple):
        return type(value)(in_unit(item, unit, into) for item in value)
    return convert(value, unit, into)
