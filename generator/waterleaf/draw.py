"""Seeded values for a family: the same on every machine, and never silly.

A draw depends on the family, its version and a number alone. Only `random.Random(text).random()` is used, since that
sequence is the one that Python promises to keep; readings are made of sums of it, without logarithms, whose last digit
differs between machines.
"""

import hashlib
import math
import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from waterleaf.bank.expressions import Expression
from waterleaf.bank.family import Family, PartSpec, System, in_unit
from waterleaf.bank.models import Customary, Given, ReadingsGiven
from waterleaf.working import figures
from waterleaf.working.steps import printed

MOST_TRIES: Final = 500
# Figures kept when a printed value is turned back to metric: more than any relation's data have.
TURNED_BACK_FIGURES: Final = 7


class NoDraw(ValueError):
    """No acceptable values were found: the family's conditions leave too little room."""


@dataclass(frozen=True, slots=True)
class Draw:
    """Values drawn for a family: numbers in metric units, their printed texts, and the chosen words."""

    family: Family
    number: str
    values: Mapping[str, Any]
    texts: Mapping[str, Any]
    words: Mapping[str, str]
    shuffles: Mapping[str, tuple[int, ...]]
    keys: Mapping[str, Any]
    tries: int

    @property
    def seed(self) -> str:
        """The text from which the draw was made."""
        return f"{self.family.identity}:{self.number}"

    @property
    def fingerprint(self) -> bytes:
        """What makes two draws equal to a student: the numbers. It is short, for long runs keep that of every draw."""
        return hashlib.blake2b(repr(tuple(self.values.values())).encode(), digest_size=12).digest()


def draw(family: Family, number: str | int) -> Draw:
    """The draw of a family with this number.

    Raises NoDraw where `MOST_TRIES` draws in a row were thrown back.
    """
    source = random.Random(f"{family.identity}:{number}").random
    reasons: dict[str, int] = {}
    for attempt in range(1, MOST_TRIES + 1):
        values, texts = _values(family, source)
        reason, keys = judge_values(family, values)
        if not reason and family.has_customary:
            reason, _ = judge_values(family, as_printed(family, values, "us")[0], "us")
        if not reason:
            words = {name: choices[int(source() * len(choices))] for name, choices in family.file.words.items()}
            shuffles = {
                name: _shuffled(len(part.file.options), source)
                for name, part in family.parts.items()
                if part.file.options
            }
            return Draw(family, str(number), values, texts, words, shuffles, keys, attempt)
        reasons[reason] = reasons.get(reason, 0) + 1
    commonest = max(reasons, key=lambda reason: reasons[reason])
    raise NoDraw(
        f"{family.key}: {MOST_TRIES} draws were thrown back, most often because {commonest}. "
        "Widen a range or loosen a condition."
    )


def distinct_draws(family: Family, seed: str | int, count: int) -> Iterator[Draw]:
    """`count` draws of which no two have equal numbers, in order.

    Raises NoDraw where the family has too few different values.
    """
    seen: set[bytes] = set()
    for position in range(count):
        for again in range(MOST_TRIES):
            found = draw(family, f"{seed}.{position}" + (f"+{again}" if again else ""))
            if found.fingerprint not in seen:
                break
        else:
            raise NoDraw(
                f"{family.key}: only {len(seen)} different draws were found for {count} sheets. Widen a range."
            )
        seen.add(found.fingerprint)
        yield found


def check_room(family: Family, count: int) -> None:
    """Say at once, and not when the last draw has been made, that ranges hold too few; readings have no end.

    Raises NoDraw.
    """
    most = math.prod(
        round((given.to - given.from_) / given.step) + 1 if isinstance(given, Given) else math.inf
        for given in family.file.given.values()
    )
    if count > most:
        raise NoDraw(f"{family.key}: its ranges hold {most} different draws, {count} are wanted. Widen a range.")


def draw_with(family: Family, own: Mapping[str, Any], number: str | int = 1) -> Draw:
    """A draw in which some givens are set by hand, in their metric units, instead of drawn.

    Raises NoDraw naming what makes the values unfit.
    """
    base = draw(family, number)
    values = {**base.values, **own}
    texts = {**base.texts, **{name: printed(value) for name, value in own.items()}}
    try:
        keys = family.keys(values)
    except (ArithmeticError, ValueError) as error:
        raise NoDraw(f"{family.key}: {error}") from None
    return Draw(family, f"{number} with own values", values, texts, base.words, base.shuffles, keys, 1)


def _shuffled(count: int, source: Any) -> tuple[int, ...]:
    """The numbers below `count` in a random order, so that no letter is the right one for a whole class."""
    places = list(range(count))
    for last in range(count - 1, 0, -1):
        other = int(source() * (last + 1))
        places[last], places[other] = places[other], places[last]
    return tuple(places)


def _values(family: Family, source: Any) -> tuple[dict[str, Any], dict[str, Any]]:
    values: dict[str, Any] = {}
    texts: dict[str, Any] = {}
    for name, given in family.file.given.items():
        if isinstance(given, Given):
            values[name], texts[name] = on_grid(given.from_, given.to, given.step, source())
        else:
            values[name], texts[name] = _readings(given, source)
    return values, texts


def on_grid(low: float, high: float, step: float, share: float) -> tuple[float, str]:
    """The grid value that lies at a share from 0 to 1 of the way, and its decimal text."""
    start, width = Decimal(repr(low)), Decimal(repr(step))
    steps = int((Decimal(repr(high)) - start) / width)
    value = start + width * int(share * (steps + 1))
    places = max(0, *(-int(d.as_tuple().exponent) for d in (start.normalize(), width.normalize())))
    text = f"{value:.{places}f}"
    return float(text), text


def _readings(given: ReadingsGiven, source: Any) -> tuple[tuple[float, ...], tuple[str, ...]]:
    mean, _ = on_grid(given.mean.from_, given.mean.to, given.mean.step, source())
    places = max(0, -int(Decimal(repr(given.step)).normalize().as_tuple().exponent))
    texts = []
    for _ in range(given.readings):
        # Twelve uniform numbers add up to nearly a normal one, with a spread of exactly 1.
        bell = math.fsum(source() for _ in range(12)) - 6
        steps = math.floor((mean + given.spread * bell) / given.step + 0.5)
        reading = min(max(Decimal(repr(given.step)) * steps, Decimal(repr(given.low))), Decimal(repr(given.high)))
        texts.append(f"{reading:.{places}f}")
    return tuple(float(text) for text in texts), tuple(texts)


def as_printed(family: Family, values: Mapping[str, Any], system: System) -> tuple[dict[str, Any], dict[str, str]]:
    """Values as a sheet in this system prints them: back in metric units, and the texts where they differ.

    A student has only the printed numbers. So a value in customary units is rounded as printed and turned back.
    """
    if system == "metric":
        return dict(values), {}
    printed, texts = dict(values), {}
    for name, given in family.file.given.items():
        us = given.us if isinstance(given, Given) else None
        if us:
            texts[name] = rounded_to_step(in_unit(values[name], given.unit, us.unit), us)
            back = in_unit(float(texts[name]), us.unit, given.unit)
            printed[name] = float(figures.plain(back, TURNED_BACK_FIGURES))
    return printed, texts


def rounded_to_step(value: float, us: Customary) -> str:
    """The value rounded to the step of its customary unit, with as many decimals as the step has."""
    if us.step is None:
        return figures.plain(value, 3)
    places = max(0, -int(figures.quiet(us.step).normalize().as_tuple().exponent))
    return figures.decimals(round(value / us.step) * us.step, places)


def judge_values(family: Family, values: Mapping[str, Any], system: System = "metric") -> tuple[str, dict[str, Any]]:
    """Why some values are unfit for a sheet (nothing where they are fit), and the keys they lead to."""
    try:
        known = family.keys(values)
    except (ArithmeticError, ValueError) as error:
        return f"a relation refuses them ({error})", {}
    for condition in family.conditions:
        if not _holds(condition, known):
            return f"{condition.text!r} does not hold", known
    for part in family.parts.values():
        reason = _unfit_key(part, known[part.name])
        if reason:
            return reason, known
    return _slip_too_near(family, known, system), known


def _holds(condition: Expression, known: Mapping[str, Any]) -> bool:
    try:
        return bool(condition.value(known))
    except (ArithmeticError, ValueError):
        return False


def _unfit_key(part: PartSpec, key: Any) -> str:
    if part.file.between is None:
        return ""
    low, high = part.file.between
    for value in key if isinstance(key, tuple | list) else (key,):
        if not low <= value <= high:
            return f"the answer to {part.name} would not lie between {low:g} and {high:g}"
        if part.file.kind == "whole" and value != int(value):
            return f"the answer to {part.name} would not be whole"
    return ""


def _slip_too_near(family: Family, known: Mapping[str, Any], system: System) -> str:
    """A slip may not be taken for the key: the two bands must not touch."""
    for slip in family.slips:
        part = family.parts[slip.file.of]
        key = known[part.name]
        wrong = family.slip_value(slip, known, system)
        if wrong is not None and bands_touch(part, key, wrong):
            return f"the slip {slip.file.turn!r} would be too near the answer"
    return ""


def bands_touch(part: PartSpec, key: Any, wrong: Any) -> bool:
    """Whether a wrong answer could be marked right; a timetable is told apart if any of its times is."""
    if isinstance(key, tuple | list):
        wrongs = wrong if isinstance(wrong, tuple | list) else [wrong] * len(key)
        return len(wrongs) == len(key) and all(bands_touch(part, k, w) for k, w in zip(key, wrongs, strict=True))
    key_low, key_high = part.tolerance.around(key)
    wrong_low, wrong_high = part.tolerance.around(wrong)
    return bool(wrong_low <= key_high and key_low <= wrong_high)
