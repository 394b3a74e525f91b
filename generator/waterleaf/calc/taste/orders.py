"""Taste, continued: who is served what in which order, and the blind codes on the cups.

Drawn from a seed text, so that a printed plan can be drawn again; nothing but the seed decides.
"""

import random
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final, TypeVar

from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation
from waterleaf.calc.taste.difference import Assessors

T = TypeVar("T")

TRIANGLE_ORDERS: Final = ("AAB", "ABA", "BAA", "BBA", "BAB", "ABB")
# The first letter is the reference, which is served openly; the two behind it are coded.
DUO_TRIO_ORDERS: Final = ("A/AB", "A/BA", "B/AB", "B/BA")
PAIRED_ORDERS: Final = ("AB", "BA")

_FIRST_CODE: Final = 100
_CODES: Final = 900  # from 100 to 999
_LETTERS: Final = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

Served = Annotated[float, Quantity("k", "", "number of products served", 2, 26, whole=True)]
SeedNumber = Annotated[float, Quantity("seed", "", "number that the draw starts from", 0, 999_999, whole=True)]


@dataclass(frozen=True, slots=True)
class Serving:
    """What one assessor is served: the open reference, if any, the coded samples from left to right, their codes."""

    assessor: int
    reference: str
    order: str
    codes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One serving order of a design."""

    row: int
    order: str


Servings = Annotated[tuple[Serving, ...], Quantity("", "", "serving plan")]
Orders = Annotated[tuple[OrderRow, ...], Quantity("", "", "serving orders")]


def shuffled(items: Sequence[T], draw: random.Random) -> list[T]:
    """The items in an order drawn from the uniform numbers of `draw` alone, which no Python version changes."""
    found = list(items)
    for last in range(len(found) - 1, 0, -1):
        chosen = int(draw.random() * (last + 1))
        found[last], found[chosen] = found[chosen], found[last]
    return found


def blind_codes(assessors: int, samples: int, seed: str) -> tuple[tuple[int, ...], ...]:
    """Three-digit codes for every cup of a session: a set for each assessor, none twice within a set.

    No code comes back in the session until all 900 are used up; with more cups than that codes come back with other
    assessors, never in the same set. Count all cups of one assessor in the session as `samples`, whatever the number of
    tests.

    Raises OutOfRange where one assessor would need more than 900 codes.
    """
    if not 1 <= samples <= _CODES:
        raise OutOfRange(f"samples: {samples} codes for one assessor. Give from 1 to {_CODES}.")
    draw = random.Random(f"codes {seed}")
    deck: list[int] = []
    found: list[tuple[int, ...]] = []
    for _ in range(assessors):
        if len(deck) < samples:
            deck = shuffled(range(_FIRST_CODE, _FIRST_CODE + _CODES), draw)
        found.append(tuple(deck[:samples]))
        del deck[:samples]
    return tuple(found)


def serving_plan(orders: Sequence[str], assessors: int, seed: str) -> tuple[Serving, ...]:
    """Give each assessor one of the orders and a set of codes, so that at any time all orders were used about equally.

    The orders are dealt in shuffled rounds: after every full round each has been used equally often, and if assessors
    stay away the balance suffers by no more than one round. An order may name an open reference before a slash.
    """
    draw = random.Random(f"orders {seed}")
    dealt: list[str] = []
    while len(dealt) < assessors:
        dealt += shuffled(orders, draw)
    split = [order.rpartition("/") for order in dealt[:assessors]]
    codes = blind_codes(assessors, max(len(order) for _, _, order in split), seed)
    return tuple(
        Serving(number, reference, order, codes[number - 1])
        for number, (reference, _, order) in enumerate(split, start=1)
    )


@relation(
    cite("williams1949", "squares balanced for the order of neighbours", "memory"),
    cite("macfie1989", "serving orders balanced for position and carry-over"),
    procedure=True,
)
def williams_orders(*, products: Served) -> Orders:
    """Serving orders in which each product stands in each place, and before each other product, equally often.

    Parameters
    ----------
    products : number of products

    Returns
    -------
    As many orders as products, or twice as many if that number is odd.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    A plain cyclic square balances places but not neighbours: there each product but the last is always followed by the
    same one. People tire: serve no more at one sitting than they can taste with care.

    Examples
    --------
    >>> [row.order for row in williams_orders(products=4)]
    ['ABDC', 'BCAD', 'CDBA', 'DACB']
    """
    count = int(products)
    # First row: from both ends of the alphabet by turns; the other rows step each letter on.
    zigzag = [(step + 1) // 2 if step % 2 else (count - step // 2) % count for step in range(count)]
    rows = [[(letter + start) % count for letter in zigzag] for start in range(count)]
    if count % 2:
        rows += [row[::-1] for row in rows]
    return tuple(
        OrderRow(number, "".join(_LETTERS[letter] for letter in row)) for number, row in enumerate(rows, start=1)
    )


@relation(
    cite("iso4120", "six orders of the triangle test", "memory"), cite("gost_iso_10399", "5.5, codes"), procedure=True
)
def triangle_orders(*, assessors: Assessors, seed: SeedNumber) -> Servings:
    """Serving plan of a triangle test: six orders dealt equally often, and blind codes.

    Parameters
    ----------
    assessors : number of assessors; a multiple of six is fully balanced
    seed : number that the draw starts from

    Returns
    -------
    One row for each assessor: order from left to right, codes.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Same amount, same temperature, same dish for all. Ask about allergies, take consent, keep food-safety rules, and let
    anybody stop; the institution and local rules decide.

    Examples
    --------
    >>> sorted(row.order for row in triangle_orders(assessors=6, seed=1))
    ['AAB', 'ABA', 'ABB', 'BAA', 'BAB', 'BBA']
    """
    return serving_plan(TRIANGLE_ORDERS, int(assessors), f"triangle {int(seed)}")


@relation(
    cite("gost_iso_10399", "5.5, codes; balanced reference"),
    cite("arithmetic", "two references by two orders", "definition"),
    procedure=True,
)
def duo_trio_orders(*, assessors: Assessors, seed: SeedNumber) -> Servings:
    """Serving plan of a duo-trio test with balanced reference: four orders dealt equally often, and blind codes.

    Parameters
    ----------
    assessors : number of assessors; a multiple of four is fully balanced
    seed : number that the draw starts from

    Returns
    -------
    One row for each assessor: open reference, order of the two coded samples, codes.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    The reference is served openly and first. Cautions as for `triangle_orders`.

    Examples
    --------
    >>> sorted(row.reference + row.order for row in duo_trio_orders(assessors=4, seed=1))
    ['AAB', 'ABA', 'BAB', 'BBA']
    """
    return serving_plan(DUO_TRIO_ORDERS, int(assessors), f"duo-trio {int(seed)}")


@relation(cite("gost_r_53161", "paired test, both orders equally often", "memory"), procedure=True)
def paired_orders(*, assessors: Assessors, seed: SeedNumber) -> Servings:
    """Serving plan of a paired test: both orders dealt equally often, and blind codes.

    Parameters
    ----------
    assessors : number of assessors; an even number is fully balanced
    seed : number that the draw starts from

    Returns
    -------
    One row for each assessor: order of the two samples, codes.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Cautions as for `triangle_orders`.

    Examples
    --------
    >>> sorted(row.order for row in paired_orders(assessors=4, seed=1))
    ['AB', 'AB', 'BA', 'BA']
    """
    return serving_plan(PAIRED_ORDERS, int(assessors), f"paired {int(seed)}")


@relation(cite("macfie1989", "serving orders balanced for position and carry-over"), procedure=True)
def ranking_orders(*, assessors: Assessors, products: Served, seed: SeedNumber) -> Servings:
    """Serving plan for ranking or marking several products: orders of Williams squares, and blind codes.

    Parameters
    ----------
    assessors : number of assessors; a multiple of the number of orders is fully balanced
    products : number of products
    seed : number that the draw starts from

    Returns
    -------
    One row for each assessor: order from left to right, codes.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Few samples at one sitting, water and a pause between them. Cautions as for `triangle_orders`.

    Examples
    --------
    >>> sorted(row.order for row in ranking_orders(assessors=4, products=4, seed=1))
    ['ABDC', 'BCAD', 'CDBA', 'DACB']
    """
    orders = [row.order for row in williams_orders(products=products)]
    return serving_plan(orders, int(assessors), f"ranking {int(seed)}")
