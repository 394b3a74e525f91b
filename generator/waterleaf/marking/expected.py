"""What an exercise expects: the accepted band, the slips and the values rounded too far, all worked out beforehand.

The judge and the browser's script only compare with these numbers; neither computes a key.
"""

import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from decimal import ROUND_HALF_DOWN, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from typing import Any, Final, Literal, get_args

from waterleaf.marking.units import Dims, Unit, read_unit
from waterleaf.working.figures import quiet

Kind = Literal["number", "whole", "clock"]

# A hair of room at both ends of a band, relative to its larger end: 8.25 lies in 8.2 ± 0.05, whatever the last bits.
HAIR: Final = 1e-9
_CLOCK_UNIT: Final = "hour"
_DAY: Final = 24.0


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far from the key an answer may lie: a share of the key, an amount in the key's unit, or the wider of both."""

    relative: float = 0.0
    absolute: float = 0.0

    def __post_init__(self) -> None:
        for name, value in (("relative", self.relative), ("absolute", self.absolute)):
            if not (math.isfinite(value) and value >= 0):
                raise ValueError(f"{name} tolerance {value!r} must be a number from 0 up")
        if self.relative >= 1:
            raise ValueError(f"relative tolerance {self.relative!r} must be below 1: write 2 % as 0.02")

    def around(self, value: float) -> tuple[float, float]:
        """The lowest and the highest value accepted for this one."""
        reach = max(self.absolute, abs(value) * self.relative)
        return value - reach, value + reach


@dataclass(frozen=True, slots=True)
class Expected:
    """What the judge compares an answer with; every number is in `unit`.

    Attributes
    ----------
    unit : the unit shown at the answer box, as in the calc module ("g/m^2/day")
    shown : the same as written for a student ("g/m²/day"); nothing for a plain number
    factor, offset, dims : size, zero and dimensions of the unit
    low, high : ends of the accepted band
    figures : significant figures that the answer should have
    coarse : the key rounded too far, each with its significant figures
    slips : band and feedback of each wrong turn
    unit_needed : whether the student must write the unit
    kind : a number, a whole number, or a time of day in hours after midnight
    zero_ok : whether a bare 0 is complete, because nought of any unit is nought
    """

    unit: str
    shown: str
    factor: float
    offset: float | None
    dims: Dims
    low: float
    high: float
    figures: int
    coarse: tuple[tuple[float, int], ...] = ()
    slips: tuple[tuple[float, float, str], ...] = ()
    unit_needed: bool = True
    kind: Kind = "number"
    zero_ok: bool = False

    def __post_init__(self) -> None:
        for low, high in [(self.low, self.high), *((low, high) for low, high, _ in self.slips)]:
            if not (math.isfinite(low) and math.isfinite(high) and low <= high):
                raise ValueError(f"the band from {low!r} to {high!r} must run upward between two finite numbers")
        if not (math.isfinite(self.factor) and self.factor > 0):
            raise ValueError(f"the size {self.factor!r} of the unit {self.unit!r} must be a number above 0")
        if self.kind not in get_args(Kind):
            raise ValueError(f"kind {self.kind!r} must be one of {', '.join(get_args(Kind))}")

    def to_json(self) -> dict[str, Any]:
        """As plain data, for the page."""
        data = asdict(self)
        return {name: _listed(value) for name, value in data.items()}


def _listed(value: Any) -> Any:
    return [_listed(item) for item in value] if isinstance(value, tuple) else value


def expected_for(
    key: float, unit: str, tolerance: Tolerance, figures: int, slips: Sequence[tuple[float, str]] = (), *,
    unit_needed: bool = True, kind: Kind = "number", other_units: Sequence[str] = (),
) -> Expected:
    """Work out all numbers for one answer box. Raises ValueError for a key, slip or unit that makes no sense.

    Parameters
    ----------
    key : the right answer, in `unit`
    unit : a unit text as in the calc module; "" for a plain number
    tolerance : how far from the key, and from each slip, an answer may lie
    figures : significant figures that the answer should have
    slips : where each known wrong turn leads, in `unit`, and its feedback
    unit_needed : whether the student must write the unit; never so for a time of day
    kind : "number", "whole" or "clock" (key and slips in hours after midnight)
    other_units : further units in which students are likely to answer and so to round, such as the other unit system

    Examples
    --------
    >>> task = expected_for(1437.0, "g/day", Tolerance(relative=0.01), 3, [(14.37, "You left out the area.")])
    >>> task.coarse
    ((1000.0, 1), (1400.0, 2))
    """
    _check(key, slips, figures, kind)
    if kind == "clock":
        # The clock shows no days: "08:30 next day" is marked as 08:30.
        unit, unit_needed, other_units = _CLOCK_UNIT, False, ()
        key, slips = key % _DAY, [(value % _DAY, text) for value, text in slips]
    measured = known_unit(unit)
    low, high = tolerance.around(key)
    coarse = () if kind == "clock" else _coarse(key, (low, high), figures, measured, [*map(known_unit, other_units)])
    shown = f"per {measured.shown[1:]}" if measured.shown.startswith("/") else measured.shown
    return Expected(
        unit, shown, measured.factor, measured.offset, measured.dims, low, high, figures, coarse,
        tuple((*tolerance.around(value), text) for value, text in slips), unit_needed=unit_needed and shown != "",
        kind=kind, zero_ok=measured.offset is None and low <= 0 <= high,
    )


def _check(key: float, slips: Sequence[tuple[float, str]], figures: int, kind: Kind) -> None:
    if not all(math.isfinite(value) for value in (key, *(value for value, _ in slips))):
        raise ValueError("the key and its slips must be finite numbers")
    if figures < 1:
        raise ValueError(f"figures is {figures}, but an answer has at least 1")
    if kind == "whole" and key != math.floor(key):
        raise ValueError(f"the key {key!r} must be a whole number, because the answer counts whole things")


def known_unit(unit: str) -> Unit:
    """The unit of a key, which has to be one that a student could type."""
    measured = read_unit(unit)
    if measured.fault:
        raise ValueError(f"the judge cannot read the unit {unit!r} ({measured.fault} {measured.word})")
    return measured


def converted(value: float, unit: Unit, factor: float, offset: float | None) -> float:
    """A value in `unit` as one in the unit with this size and zero.

    The zero counts only where both sides have one: 5 °C is 9 °F as a difference and 41 °F as a temperature.
    """
    if unit.offset is None or offset is None:
        return value if unit.factor == factor else value * unit.factor / factor
    if unit.factor == factor and unit.offset == offset:
        return value
    return (value * unit.factor + unit.offset - offset) / factor


def inside(value: float, low: float, high: float, room: float = 0.0) -> bool:
    """Whether a value lies in a closed band, give or take a hair of its larger end or of `room`."""
    hair = HAIR * max(abs(low), abs(high), room)
    return low - hair <= value <= high + hair


def _coarse(
    key: float, band: tuple[float, float], figures: int, unit: Unit, others: Sequence[Unit]
) -> tuple[tuple[float, int], ...]:
    """The key rounded to 1, 2, ... figures, fewer than asked for, wherever that leaves the accepted band."""
    found: dict[tuple[float, int], None] = {}
    for other in [unit, *others]:
        if other.dims != unit.dims:
            raise ValueError(f"{other.shown or 'a plain number'} and {unit.shown or 'a plain number'} do not compare")
        there = converted(key, unit, other.factor, other.offset)
        for kept in range(1, figures):
            for rounded in _rounded(there, kept):
                back = converted(rounded, other, unit.factor, unit.offset)
                if not inside(back, *band):
                    found[back, kept] = None
    return tuple(found)


def _rounded(value: float, figures: int) -> list[float]:
    """A value at so many significant figures: half to even, and both neighbours where it lies half way."""
    number = quiet(value)
    if number == 0:
        return []
    place = Decimal(1).scaleb(number.adjusted() - figures + 1)
    ways = (ROUND_HALF_EVEN, ROUND_HALF_UP, ROUND_HALF_DOWN)
    return list(dict.fromkeys(float(number.quantize(place, rounding=way)) for way in ways))
