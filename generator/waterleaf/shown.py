"""Values and keys as they stand on a sheet: numbers with their units, times of day, figures."""

import math
from dataclasses import dataclass
from typing import Any, Final

from waterleaf.bank.family import PartSpec
from waterleaf.working import figures

# Figures carried through a change of units: enough that the rounding never shows in a key.
CARRIED_FIGURES: Final = 6


@dataclass(frozen=True, slots=True)
class Shown:
    """A value as it stands in a story; `{{ name }}` prints it with its unit."""

    number: str
    unit: str
    whole: str
    clock: str = ""

    def __str__(self) -> str:
        """Number and unit."""
        return self.whole


def clock(hours: float) -> str:
    """A time of day from hours after midnight; after midnight it says how many days later."""
    minutes = round(hours * 60)
    day, minutes = divmod(minutes, 24 * 60)
    later = "" if not day else " next day" if day == 1 else f" {day} days later"
    return f"{minutes // 60:02d}:{minutes % 60:02d}{later}"


def figures_of(part: PartSpec, value: float) -> int:
    """Significant figures of a key: as the file says, or as many as its decimals make."""
    if part.file.figures is not None:
        return part.file.figures
    before_point = math.floor(math.log10(abs(value))) + 1 if value else 1
    return max(1, before_point + (part.file.decimals or 0))


def key_text(part: PartSpec, key: Any) -> str:
    """A key, or a wrong number beside it, as it is printed."""
    if part.file.kind == "times":
        return ", ".join(clock(hours) for hours in key)
    if part.file.kind == "whole":
        return f"{key:.0f}"
    if part.file.decimals is not None:
        return figures.decimals(key, part.file.decimals)
    return figures.significant(key, part.file.figures or CARRIED_FIGURES)
