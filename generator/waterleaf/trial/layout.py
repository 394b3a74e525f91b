"""Which unit gets which method: drawn from the seed of the plan, and hidden behind codes until the data are in."""

import random
from dataclasses import asdict, dataclass
from typing import Any, Final

from waterleaf.calc.taste.orders import shuffled
from waterleaf.trial.plan import Plan

# No letter that can be taken for a digit or for another letter in handwriting.
_LETTERS: Final = "ACEFHKMNPRTXY"
_DIGITS: Final = "3479"


@dataclass(frozen=True, slots=True)
class Unit:
    """One independent unit: its code, where it stands, and the method that it was given."""

    code: str
    place: str
    method: str
    block: str = ""
    row: int = 0
    column: int = 0

    def data(self) -> dict[str, Any]:
        """The unit as plain data."""
        return asdict(self)


def lay_out(plan: Plan) -> tuple[Unit, ...]:
    """The units of a plan in the order of their places. Nothing but the plan's seed and its methods decides."""
    draw = random.Random(f"layout {plan.name} {plan.seed}")
    places = {"random": _free, "blocked": _blocked, "paired": _blocked, "latin": _square}[plan.design](plan, draw)
    codes = _codes(len(places), random.Random(f"codes {plan.name} {plan.seed}"))
    return tuple(Unit(code, **place) for code, place in zip(codes, places, strict=True))


def _free(plan: Plan, draw: random.Random) -> list[dict[str, Any]]:
    order = shuffled([method for method in plan.methods for _ in range(plan.units_each)], draw)
    return [{"place": f"{plan.unit} {number}", "method": method} for number, method in enumerate(order, start=1)]


def _blocked(plan: Plan, draw: random.Random) -> list[dict[str, Any]]:
    blocks = plan.blocks or tuple(f"block {number}" for number in range(1, plan.units_each + 1))
    return [
        {"place": f"{block}, {plan.unit} {number}", "method": method, "block": block}
        for block in blocks
        for number, method in enumerate(shuffled(plan.methods, draw), start=1)
    ]


def _square(plan: Plan, draw: random.Random) -> list[dict[str, Any]]:
    """A cyclic square with rows, columns and letters shuffled: every method once in each row and each column."""
    count = len(plan.methods)
    rows, columns = shuffled(range(count), draw), shuffled(range(count), draw)
    methods = shuffled(plan.methods, draw)
    return [
        {
            "place": f"row {row + 1}, column {column + 1}",
            "method": methods[(rows[row] + columns[column]) % count],
            "row": row + 1,
            "column": column + 1,
        }
        for row in range(count)
        for column in range(count)
    ]


def _codes(count: int, draw: random.Random) -> list[str]:
    """Codes of letter, letter, digit, letter. Any two differ in two places, so one slip of the pen is never another."""
    found: list[str] = []
    while len(found) < count:
        code = "".join(
            alphabet[int(draw.random() * len(alphabet))] for alphabet in (_LETTERS, _LETTERS, _DIGITS, _LETTERS)
        )
        if all(sum(a != b for a, b in zip(code, other, strict=True)) > 1 for other in found):
            found.append(code)
    return found
