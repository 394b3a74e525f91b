"""A game for a crew: decisions over a term, each way to act worked out by the sums of the look ahead, and scored by
what happened."""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final

from waterleaf.faults import refuse
from waterleaf.growing.ahead import crossing_line, income, ready
from waterleaf.growing.system import System
from waterleaf.growing.term import Reading, State, Term, run, start
from waterleaf.growing.term_events import Event, read_events, todays
from waterleaf.growing.term_limits import Limit, crossings, limits_of, stress_days
from waterleaf.growing.watch_cards import SITUATIONS, Choice, Situation
from waterleaf.working import figures
from waterleaf.working.units import convert, with_unit

FEWEST: Final = 6
# A decision and its healing fit into so many days; the first week belongs to settling in.
_WINDOW: Final = 14
_FIRST: Final = 8
_LETTERS: Final = "ABC"
# Rules of the game: what costs a point.
RULES: Final = (
    ("a day on which fish suffer", "5 points"),
    ("25\u00a0L of water (6.6\u00a0gal) beyond the plan, taken in or spilled", "1 point"),
    ("5\u00a0g of nitrogen (0.2\u00a0oz) beyond the plan, lost as gas, with water or to compost", "1 point"),
    ("$5 of harvest lost", "1 point"),
    ("0.5\u00a0kg (1.1\u00a0lb) of fish growth lost", "1 point"),
    ("a day on which the cone is full or the pump draws air: sludge gas and dry pumps harm people", "3 points"),
    ("4 hours without the pump: a risk that the sums do not see", "1 point"),
    ("15\u00a0minutes of the crew's work", "1 point"),
)


@dataclass(frozen=True, slots=True)
class Decision:
    """A situation on its day, with the sizes that were drawn."""

    number: int
    day: int
    situation: Situation
    sizes: dict[str, str]

    def said(self, text: str) -> str:
        """A text with the sizes in it."""
        return text.format(**self.sizes)

    def events(self, choice: Choice, last: int) -> list[Event]:
        """What a choice leads to, for a term that ends on a day."""
        typed = []
        for kind, first, end, amount in choice.consequences:
            stop = int(self.sizes["n"]) - 1 if end == -1 else end
            size = f":{self.said(amount)}" if amount else ""
            typed.append(f"{kind}:{self.day + first}-{self.day + stop}{size}")
        return read_events(typed, last)


@dataclass(frozen=True)
class Outcome:
    """What came of a choice from its day to the next decision, beyond the plan."""

    decision: Decision
    letter: str
    choice: Choice
    told: tuple[str, ...]
    stress: int
    hazard: int
    still: float
    water: float
    nitrogen: float
    harvest: float
    growth: float
    end: State

    @property
    def points(self) -> int:
        """Points lost, by the rules of the game."""
        beyond = (
            5 * self.stress, 3 * self.hazard, self.still / 4, max(0.0, self.water) / 25, max(0.0, self.nitrogen) / 5,
            max(0.0, -self.harvest) / 5, max(0.0, -self.growth) / 0.5, self.choice.minutes / 15,
        )  # fmt: skip
        return round(math.fsum(beyond))

    @property
    def lines(self) -> list[str]:
        """What happened, in sentences."""
        found = [*self.told]
        found.append(f"Fish suffered on {_count(self.stress, 'day')}.")
        if self.hazard:
            found.append(f"The cone was full, or the pump drew air, on {_count(self.hazard, 'day')}.")
        if self.still:
            found.append(f"The pump stood still for {self.still:g} hours in all.")
        found.append(f"Water: {_beyond(self.water, 'L', 0, 'gallon')}.")
        found.append(f"Nitrogen lost: {_beyond(self.nitrogen, 'g', 0, 'oz')}.")
        change = f"{'more' if self.harvest > 0 else 'less'} by ${abs(self.harvest):.0f}"
        found.append(f"Harvest: {'as planned' if abs(self.harvest) < 0.5 else change}.")
        found.append(f"Growth of the fish: {_beyond(self.growth, 'kg', 1, 'lb')}.")
        found.append(f"Work of the crew: {self.choice.minutes}\u00a0minutes.")
        return found


def _beyond(amount: float, unit: str, places: int, other: str) -> str:
    """How far an amount is beyond the plan, in both systems of units."""
    shown = f"{abs(amount):.{places}f}"
    if float(shown) == 0:
        return "as planned"
    also = figures.plain(convert(abs(amount), unit, other), 2)
    side = "more" if amount > 0 else "less"
    return f"{with_unit(shown, unit)} ({with_unit(also, other)}) {side} than planned"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"


class Watch:
    """One game: decisions drawn from a seed, and the outcomes of every choice."""

    def __init__(self, system: System, seed: int, decisions: int = FEWEST) -> None:
        """Draw the decisions.

        Raises Faults where the file lacks something, or where there are fewer situations than decisions asked for.
        """
        if not FEWEST <= decisions <= len(SITUATIONS):
            raise refuse("--decisions", f"{decisions} cannot be drawn. Give {FEWEST} to {len(SITUATIONS)}.")
        self.system = system
        self.seed = seed
        self.rates, self.reckoning = ready(system)
        self.limits: tuple[Limit, ...] = limits_of(system, self.rates)
        self.last = _FIRST + _WINDOW * decisions + 6
        self.decisions = _drawn(seed, decisions)

    @cached_property
    def plan(self) -> list[State]:
        """The planned state on the eve of each day, from day 1 on, and after the last."""
        states = [start(self.rates)]
        for _ in range(self.last):
            states.append(run(self.rates, todays((), 1, 1), states[-1]).end)
        return states

    def eve(self, decision: Decision) -> State:
        """The planned state on the eve of a decision."""
        return self.plan[decision.day - 1]

    def reading(self, decision: Decision) -> Reading:
        """The planned reading on the eve of a decision."""
        before = self.plan[decision.day - 2]
        return run(self.rates, todays((), 1, 1), before).days[0]

    def until(self, decision: Decision) -> int:
        """The last day before the next decision, or of the term."""
        following = self.decisions[decision.number :]
        return following[0].day - 1 if following else self.last

    def outcomes(self, decision: Decision, before: State | None = None) -> list[Outcome]:
        """What comes of every choice, from the plan or from a state that an earlier choice left."""
        since, last = before or self.eve(decision), self.until(decision)
        planned = self._planned(decision.day, last)
        return [
            self._outcome(decision, _LETTERS[place], choice, since, planned, last)
            for place, choice in enumerate(decision.situation.choices)
        ]

    @lru_cache(maxsize=32)  # noqa: B019 - a game is short-lived
    def _planned(self, decision_day: int, last: int) -> Term:
        return run(self.rates, todays((), decision_day, last), self.plan[decision_day - 1])

    def _outcome(
        self, decision: Decision, letter: str, choice: Choice, since: State, planned: Term, last: int
    ) -> Outcome:
        days = todays(decision.events(choice, last), decision.day, last)
        term = run(self.rates, days, since)
        told = tuple(crossing_line(crossing) for crossing in crossings(term, self.limits))
        hazard = [limit for limit in self.limits if limit.key in ("cone", "level")]
        return Outcome(
            decision, letter, choice, told, len(stress_days(term, self.limits)),
            sum(any(limit.crossed(reading) for limit in hazard) for reading in term.days),
            math.fsum(day.pump_off for day in days),
            _water(term) - _water(planned),
            _lost(term, since) - _lost(planned, self.eve(decision)),
            income(term) - income(planned),
            term.end.biomass - since.biomass - planned.end.biomass + self.eve(decision).biomass, term.end,
        )


def _water(term: Term) -> float:
    """New water and water lost as water [L]; a term that ends below its level still has to take that in."""
    return math.fsum(day.top_up + day.drained for day in term.days) + term.days[-1].lacking


def _lost(term: Term, since: State) -> float:
    """Nitrogen that went to the air, to the drain and to compost [g]."""
    places = ("air", "drain", "compost")
    return term.end.books.total("nitrogen", places=places) - since.books.total("nitrogen", places=places)


def _drawn(seed: int, decisions: int) -> tuple[Decision, ...]:
    """Different situations on days in order, with sizes; only `random()` is used, so that a seed always draws alike."""
    chance = random.Random(f"watch:1:{seed}").random
    left = list(SITUATIONS)
    found = []
    for number in range(1, decisions + 1):
        situation = left.pop(int(chance() * len(left)))
        day = _FIRST + _WINDOW * (number - 1) + int(chance() * 3)
        sizes = {name: str(values[int(chance() * len(values))]) for name, values in situation.sizes.items()}
        sizes.setdefault("n", "1")
        if "a" in sizes:
            sizes["h"] = f"{int(sizes['a']) / 2:g}"
            sizes["f"] = f"{int(sizes['a']) * 1.8:.0f}"
        sizes["b"] = "1.75"
        found.append(Decision(number, day, situation, sizes))
    return tuple(found)


def best(outcomes: Sequence[Outcome]) -> Outcome:
    """The outcome that loses fewest points; the first of equals."""
    return min(outcomes, key=lambda outcome: outcome.points)


def eve_lines(reading: Reading) -> list[tuple[str, str]]:
    """What the test sheet says on the eve of a decision."""
    fahrenheit = reading.temperature * 9 / 5 + 32
    return [
        ("water", f"{reading.temperature:.1f}\u00a0°C ({fahrenheit:.0f}\u00a0°F)"),
        ("oxygen", f"{reading.oxygen:.1f}\u00a0mg/L"),
        ("pH", f"{reading.ph:.1f}"), ("ammonia", f"{reading.ammonia:.2f}\u00a0mg/L"),
        ("nitrite", f"{reading.nitrite:.2f}\u00a0mg/L"),
        ("nitrate", f"{reading.nitrate:.0f}\u00a0mg/L"), ("alkalinity", f"{reading.alkalinity:.0f}\u00a0mg/L"),
        ("suspended solids", f"{reading.suspended:.0f}\u00a0mg/L"),
    ]  # fmt: skip
