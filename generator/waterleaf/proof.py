"""The proof of a family: what holds over thousands of draws in both unit systems, and what does not."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from waterleaf.bank.family import Family, PartSpec, in_unit
from waterleaf.bank.models import Given
from waterleaf.bank.prose import misspelt, reading_grade
from waterleaf.draw import Draw, NoDraw, bands_touch, distinct_draws, draw
from waterleaf.exercise import Exercise, PosedPart, pose
from waterleaf.working import figures

HARDEST_READING: Final = 9.0
CLASS_SIZE: Final = 200
# An option that is right this often can be learnt by heart; fewer draws than this say nothing about how often.
TOO_OFTEN: Final = 0.9
ENOUGH_TO_TELL: Final = 30
# A place of a story that a number or a word fills; it is read as one word.
_GAP: Final = re.compile(r"\{\{.*?\}\}")


@dataclass
class Finding:
    """What was found about one family."""

    family: str
    level: int
    draws: int = 0
    thrown_back: int = 0
    distinct: int = 0
    answers: dict[str, tuple[float, float]] = field(default_factory=dict)
    closest_slip: float = float("inf")
    closest_turn: str = ""
    words: int = 0
    grade: float = 0.0
    effort: dict[str, tuple[int, int]] = field(default_factory=dict)
    chosen: dict[str, Counter[Any]] = field(default_factory=dict)
    faults: Counter[str] = field(default_factory=Counter)

    @property
    def sound(self) -> bool:
        """Nothing at all was wrong."""
        return not self.faults

    @property
    def uneven(self) -> dict[str, tuple[int, int]]:
        """What makes one student's sheet longer work than another's: fewest and most of each kind of effort."""
        return {what: ends for what, ends in self.effort.items() if ends[0] != ends[1]}

    @property
    def likeliest(self) -> dict[str, float]:
        """For each choice or order, the share of sheets on which its commonest answer is right."""
        return {part: max(counts.values()) / counts.total() for part, counts in self.chosen.items()}

    def row(self) -> dict[str, Any]:
        """The finding as a line of a table."""
        return {
            "family": self.family,
            "level": self.level,
            "draws": self.draws,
            "thrown back": self.thrown_back,
            "distinct": self.distinct,
            "answers": "; ".join(
                f"{n} {figures.plain(a, 4)} to {figures.plain(b, 4)}" for n, (a, b) in self.answers.items()
            ),
            "closest slip": round(self.closest_slip, 1),
            "which": self.closest_turn,
            "words": self.words,
            "reading grade": round(self.grade, 1),
            "likeliest choice": "; ".join(f"{part} {share:.0%}" for part, share in self.likeliest.items()),
            "uneven": "; ".join(f"{what} {low} to {high}" for what, (low, high) in self.uneven.items()),
            "faults": "; ".join(f"{text} ({count}x)" if count > 1 else text for text, count in self.faults.items()),
        }


def check_family(family: Family, draws: int) -> Finding:
    """Draw, pose and compare `draws` times; every fault is counted under its own words."""
    finding = Finding(family.key, family.file.level)
    seen = set()
    try:
        for drawn in _draws(family, draws):
            finding.draws += 1
            finding.thrown_back += drawn.tries - 1
            seen.add(drawn.fingerprint)
            _check_draw(family, drawn, finding)
    except NoDraw as error:
        finding.faults[str(error)] += 1
    finding.distinct = len(seen)
    for part, share in finding.likeliest.items():
        if share > TOO_OFTEN and finding.draws >= ENOUGH_TO_TELL:
            finding.faults[f"{part}: the same answer is right on {share:.0%} of the sheets"] += 1
    if finding.distinct < min(CLASS_SIZE, draws):
        finding.faults[f"only {finding.distinct} different draws for a class of {CLASS_SIZE}"] += 1
    _check_prose(family, finding)
    return finding


def _draws(family: Family, count: int) -> Iterator[Draw]:
    """A class of sheets of which no two are equal, and as many draws more as are wished."""
    yield from distinct_draws(family, "check", min(count, CLASS_SIZE))
    yield from (draw(family, f"check.{number}") for number in range(CLASS_SIZE, count))


def _check_draw(family: Family, drawn: Draw, finding: Finding) -> None:
    metric, customary = pose(drawn, "metric"), pose(drawn, "us")
    for part in family.parts.values():
        key = drawn.keys[part.name]
        if not part.file.numeric:
            finding.chosen.setdefault(part.name, Counter())[key] += 1
            if key != customary.keys[part.name]:
                finding.faults[f"{part.name}: metric and US customary sheets have different answers"] += 1
            continue
        values = key if isinstance(key, tuple) else (key,)
        low, high = finding.answers.get(part.name, (float("inf"), float("-inf")))
        finding.answers[part.name] = (min(low, *values), max(high, *values))
        if _apart(part, key, customary.keys[part.name]):
            finding.faults[f"{part.name}: metric and US customary sheets have different answers"] += 1
    for exercise in (metric, customary):
        _check_sheet(family, exercise, finding)
        _check_by_hand(family, exercise, finding)
        _note_effort(exercise, finding)


def _apart(part: PartSpec, one: Any, other: Any) -> bool:
    pairs = zip(one, other, strict=True) if isinstance(one, tuple) else ((one, other),)
    return any(not part.tolerance.around(a)[0] <= b <= part.tolerance.around(a)[1] for a, b in pairs)


def _check_sheet(family: Family, exercise: Exercise, finding: Finding) -> None:
    for posed in exercise.parts:
        part = family.parts[posed.name]
        if not part.file.numeric:
            continue
        key = exercise.keys[posed.name]
        _check_print(posed, finding, exercise.system)
        for slip in family.slips:
            if slip.file.of != posed.name:
                continue
            wrong = family.slip_value(slip, exercise.keys, exercise.system)
            if wrong is None:
                continue
            if bands_touch(part, key, wrong):
                finding.faults[f"{exercise.system}: the slip {slip.file.turn!r} would be marked right"] += 1
            _note_distance(part, key, wrong, slip.file.turn, finding)


def _check_print(posed: PosedPart, finding: Finding, system: str) -> None:
    if posed.kind == "times":
        return
    if not posed.low <= float(posed.key_text) <= posed.high:
        finding.faults[f"{system}: the printed key of {posed.name} lies outside its own band"] += 1
    if float(posed.key_text) == 0:
        finding.faults[f"{system}: the key of {posed.name} prints as zero"] += 1
    if posed.working:
        shown = posed.working[-1].piece.plain.rpartition(" = ")[2].replace("−", "-").strip("()")
        last = figures.quiet(float(shown))
        if abs(float(last) - float(posed.key_text)) > abs(posed.high - posed.low) / 2:
            finding.faults[f"{system}: the working of {posed.name} does not end at its key"] += 1


def _check_by_hand(family: Family, exercise: Exercise, finding: Finding) -> None:
    """A student has the printed numbers alone, and goes on from answers rounded as they are asked for."""
    known: dict[str, Any] = {name: _read_back(family, exercise, name) for name in exercise.shown}
    for part, posed in zip(family.parts.values(), exercise.parts, strict=True):
        try:
            # Items that stand just far enough apart on the key may come a hair closer by hand; their order must stay.
            answer = part.sorted_places(known) if part.file.kind == "order" else part.answer(known)
        except ValueError as error:
            finding.faults[f"{exercise.system}: {part.name} cannot be worked out from what is printed ({error})"] += 1
            return
        key = exercise.keys[part.name]
        if _apart(part, key, answer) if part.file.numeric else answer != key:
            finding.faults[f"{exercise.system}: {part.name} comes out differently from what is printed"] += 1
        rounded = part.file.kind in ("number", "whole")
        known[part.name] = in_unit(float(posed.key_text), posed.unit, part.file.unit) if rounded else key


def _read_back(family: Family, exercise: Exercise, name: str) -> Any:
    """A given as a person reads it off the sheet, in its metric unit."""
    given = family.file.given[name]
    unit = given.us.unit if isinstance(given, Given) and given.us and exercise.system == "us" else given.unit
    text = exercise.shown[name].number.replace(figures.THIN_SPACE, "").replace("−", "-")
    numbers = tuple(in_unit(float(number), unit, given.unit) for number in text.split(", "))
    return numbers[0] if isinstance(given, Given) else numbers


def _note_effort(exercise: Exercise, finding: Finding) -> None:
    """Lines of working (a change of unit is one) and figures of each answer, in this system."""
    for posed in exercise.parts:
        efforts = {"lines of working": len(posed.working), "figures": posed.figures if posed.kind == "number" else 0}
        for what, amount in efforts.items():
            name = f"{exercise.system} {posed.name}: {what}"
            low, high = finding.effort.get(name, (amount, amount))
            finding.effort[name] = (min(low, amount), max(high, amount))


def _note_distance(part: PartSpec, key: Any, wrong: Any, turn: str, finding: Finding) -> None:
    """How many widths of the tolerance a slip lies from the key."""
    if isinstance(key, tuple) or isinstance(wrong, tuple):
        return
    low, high = part.tolerance.around(key)
    # A count that must be exact has no band; one whole unit is its measure.
    distance = abs(wrong - key) / ((high - low) / 2 or 1.0)
    if distance < finding.closest_slip:
        finding.closest_slip, finding.closest_turn = distance, turn


def _check_prose(family: Family, finding: Finding) -> None:
    file = family.file
    story = " ".join(file.story.split())
    finding.words = len(_GAP.sub("number", story).split())
    finding.grade = reading_grade(story)
    if finding.grade > HARDEST_READING:
        finding.faults[f"the story reads at grade {finding.grade:.1f}; the most is {HARDEST_READING:g}"] += 1
    texts = [story, file.title, file.goal, file.caution or ""]
    for part in file.parts.values():
        texts += [part.ask, part.because or "", part.hint or "", part.reason or ""]
        texts += [text for option in part.options for text in (option.text, option.say or "")]
    texts += [text for slip in file.slips for text in (slip.turn, slip.say)]
    names = frozenset(word for name in (*file.given, *file.words, *file.parts) for word in name.lower().split("_"))
    for word in misspelt(" ".join(texts), names):
        finding.faults[f"the word {word!r} is in no dictionary"] += 1


def coverage(families: Mapping[str, Family]) -> dict[str, dict[int, int]]:
    """How many families each topic has at each level."""
    found: dict[str, dict[int, int]] = {}
    for family in families.values():
        levels = found.setdefault(family.topic, {1: 0, 2: 0, 3: 0})
        levels[family.file.level] += 1
    return found
