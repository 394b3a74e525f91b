"""The filter over a day: ammonia into nitrite and nitrite into nitrate, by two kinds of bacteria that grow by what
they find.

What a day removes is what the flow brings past the bacteria, at most what they can do. A thin or cold growth takes a
smaller part of what passes: in a filter whose removal goes by what is there, the part let through falls as a power of
the growth. Left out: bacteria that starve or lack oxygen, and ammonia or acid so strong that they stop.
"""

import math
from dataclasses import dataclass
from typing import Final

from waterleaf.growing.term_books import Books
from waterleaf.growing.term_rates import Filter, Step

# However much is lost, a few bacteria stay in corners and pipes.
_LEFT: Final = 1e-5


@dataclass(slots=True)
class Colonies:
    """The share of the filter that each kind of bacteria has grown over: those for ammonia, those for nitrite."""

    ammonia: float = 1.0
    nitrite: float = 1.0

    def copy(self) -> "Colonies":
        """Colonies that go on by themselves."""
        return Colonies(self.ammonia, self.nitrite)

    def lose(self, part: float) -> None:
        """Bacteria of both kinds die."""
        self.ammonia, self.nitrite = (max(_LEFT, grown * (1 - part)) for grown in (self.ammonia, self.nitrite))


def nitrify(filter_: Filter, books: Books, colonies: Colonies, warmer: float, running: float, load: float) -> float:
    """Both steps of a day; return the ammonia nitrogen that became nitrite [g].

    `warmer` is counted from the warmth at which the filter's figures hold, `load` is the day's ammonia [g], which lies
    in the water already. All the acid is set free in the first step, so that it alone uses alkalinity. What crops give
    back as they take up nitrate is left out, as they take up other ions beside it.
    """
    warmth = filter_.warmth_base**warmer
    water = books.of("water@loop")
    wanted = removed(filter_.ammonia, filter_.flow, water, books.of("ammonia@loop"), load, colonies.ammonia * warmth,
                     running)  # fmt: skip
    first = books.move("ammonia@loop", "nitrite@loop", min(wanted, books.of("alkalinity@loop") / filter_.alkalinity))
    books.move("alkalinity@loop", "alkalinity@used", first * filter_.alkalinity)
    wanted = removed(filter_.nitrite, filter_.flow, water, books.of("nitrite@loop"), first, colonies.nitrite * warmth,
                     running)  # fmt: skip
    second = books.move("nitrite@loop", "nitrate@loop", wanted)
    gone = books.move("nitrate@loop", "nitrogen@air", second * filter_.denitrified)
    # Nitrate that becomes gas takes back one acid where nitrification had set two free.
    books.move("alkalinity@used", "alkalinity@loop", gone * filter_.alkalinity / 2)
    colonies.ammonia = grown(filter_.ammonia, colonies.ammonia, first, warmth)
    colonies.nitrite = grown(filter_.nitrite, colonies.nitrite, second, warmth)
    return first


def removed(
    step: Step, flow: float, water: float, there: float, load: float, activity: float, running: float
) -> float:
    """What one step takes out of the water in a day [g]; the load is taken as coming evenly, its share is exact."""
    taken = 1 - (1 - step.pass_share) ** activity
    rate = flow * taken / water if water > 0 else 0.0
    if running <= 0 or rate <= 0:
        return 0.0
    before = max(0.0, there - load * running)  # what waits when the pump starts, the night's load included
    rest = load / rate
    after = rest + (before - rest) * math.exp(-rate * running)
    return max(0.0, min(before + load * running - after, step.capacity * activity * running))


def grown(step: Step, share: float, worked: float, warmth: float) -> float:
    """The share of the filter grown over after a day: bacteria grow as fast as they find work, until all is full."""
    able = step.capacity * share * warmth
    busy = worked / able if able > 0 else 0.0
    return min(1.0, share * math.exp(step.growth * warmth * min(1.0, busy)))
