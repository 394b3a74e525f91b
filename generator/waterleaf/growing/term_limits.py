"""Limits that a term may cross: which day, how badly, what to do, and what to take care of."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from waterleaf.calc.quantity import cite
from waterleaf.growing.checks_solids import SLUDGE_GAS
from waterleaf.growing.checks_water import BASES, NITRITE, nitrite_limit, nitrite_source
from waterleaf.growing.facts import SPECIES, reference
from waterleaf.growing.system import System
from waterleaf.growing.term import Reading, Term
from waterleaf.growing.term_rates import Rates

MAINS: Final = (
    "Pump and blower hang on mains power beside water. Stay clear of wet plugs, switch off at the board, and let an "
    "electrician mend it."
)
_COURSE: Final = "limit set for this course"
# The pH below which bacteria and fish are ill at ease.
_LOW_PH: Final = 6.3
HARMFUL: Final = 0.025
_FULL: Final = 85.0


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: what is read, the side on which it is crossed, whether fish suffer, and what to do."""

    key: str
    title: str
    unit: str
    field: str
    value: float
    above: bool
    fish: bool
    source: str
    act: str
    caution: str = ""

    def crossed(self, reading: Reading) -> bool:
        """Whether a day lies on the wrong side; a hair's breadth does not count."""
        found = self.read(reading)
        room = 1e-9 * max(1.0, abs(self.value))
        return found > self.value + room if self.above else found < self.value - room

    def read(self, reading: Reading) -> float:
        """What the day's reading says."""
        return float(getattr(reading, self.field))


@dataclass(frozen=True, slots=True)
class Crossing:
    """A limit that a term crosses: the first day, how many days in all, the worst value and its day."""

    limit: Limit
    first: int
    days: int
    worst: float
    worst_day: int


def limits_of(system: System, rates: Rates) -> tuple[Limit, ...]:
    """The limits of a system; those that kill fastest stand first."""
    warmest = rates.feeding.warmest
    fish = system.file.fish
    species = fish.species if fish else ""
    assumed = "the value is listed among the assumed ones"
    return (
        Limit(
            "oxygen", "Oxygen", "mg/L", "oxygen", rates.oxygen_held, False, True, assumed,
            "Stop feeding. Add air now, and look for the cause.",
            "Fish die of this first, within the hour. Have air that runs without mains ready. " + MAINS,
        ),
        Limit(
            "harmful", "Harmful ammonia", "mg/L", "harmful", HARMFUL, True, True,
            f"{reference(cite('ifas_fa16', 'harm at 0.05 mg/L'))}; half of it, {_COURSE}",
            "Stop feeding. Add no base. Exchange water of the same warmth, and test again in some hours.",
            "Above 0.05 mg/L gills are harmed. Raising the pH now makes it worse within the hour.",
        ),
        Limit(
            "nitrite", "Nitrite nitrogen", "mg/L", "nitrite", nitrite_limit(species), True, True,
            nitrite_source(species),
            "Stop feeding and add air. Exchange water of the same warmth, and test again tomorrow.", NITRITE,
        ),
        Limit(
            "level", "Water that is lacking", "L", "lacking", rates.waters.reserve, True, False,
            f"{_COURSE}: below a fifth of the sump the pump draws air",
            "Top up slowly with water free of chlorine, then look whether the pump has run dry.", MAINS,
        ),
        Limit(
            "ph", "pH", "", "ph", _LOW_PH, False, True, _COURSE,
            "Let the trained person dose base in small steps, over days. Test the ammonia first.", BASES,
        ),
        Limit(
            "warmth", "Warmth of the water", "degC", "temperature", warmest, True, True,
            f"{species}: {reference(SPECIES[species].source)}" if species in SPECIES else _COURSE,
            "Shade the tanks, feed less and in the cool of the day, add air.", "Warm water holds less oxygen.",
        ),
        Limit(
            "suspended", "Suspended solids", "mg/L", "suspended", rates.suspended_limit, True, True, assumed,
            "Flush until it runs clear, clean the fine tank, feed less for two days.", SLUDGE_GAS,
        ),
        Limit(
            "cone", "Filling of the cone", "%", "cone", _FULL, True, False, f"nearly full; {_COURSE}",
            "Flush until it runs clear, today.", SLUDGE_GAS,
        ),
        Limit(
            "alkalinity", "Alkalinity", "mg/L", "alkalinity", rates.waters.wished_alkalinity / 2, False, False,
            f"half of what the file wishes; {_COURSE}",
            "Let the trained person dose base in small steps, over days.", BASES,
        ),
        Limit(
            "nitrate", "Nitrate nitrogen", "mg/L", "nitrate", rates.nitrate_limit, True, False, assumed,
            "Plant the empty places, feed less, or exchange water where your authority allows it.",
            "Water that leaves may need a permit, however little it is. Ask first.",
        ),
    )


def crossings(term: Term, limits: Sequence[Limit]) -> list[Crossing]:
    """Every limit that is crossed, the first day first among those of one weight."""
    found = []
    for limit in limits:
        outside = [reading for reading in term.days if limit.crossed(reading)]
        if outside:
            worst = max(outside, key=lambda one, limit=limit: limit.read(one) if limit.above else -limit.read(one))  # type: ignore[misc]
            found.append(Crossing(limit, outside[0].day, len(outside), limit.read(worst), worst.day))
    return found


def stress_days(term: Term, limits: Sequence[Limit]) -> list[int]:
    """Days on which any limit that fish suffer from is crossed."""
    fish = [limit for limit in limits if limit.fish]
    return [reading.day for reading in term.days if any(limit.crossed(reading) for limit in fish)]
