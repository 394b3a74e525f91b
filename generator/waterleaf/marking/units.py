"""What a typed unit means: its size, its zero, what it measures, and how it is written back.

pint says what each known word is worth; that is worked out once and put in a plain table which the browser's script
reads too. A unit made of several words is multiplied out here, word by word from left to right with * and / only, so
that both languages arrive at the same last bit.
"""

import functools
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, NamedTuple

from waterleaf.marking import vocabulary
from waterleaf.marking.characters import SUPERSCRIPTS, clean, lower, lowered, raised
from waterleaf.working.units import size, written

# The order of every dimension vector. New entries go to the end, so that stored vectors keep their meaning.
DIMENSIONS: Final = (
    "[length]", "[mass]", "[time]", "[temperature]", "[substance]", "[current]", "[luminosity]", "[money]",
    "[soluble_solids]", "[german_hardness]",
)
Dims = tuple[int, ...]
PURE: Final[Dims] = (0,) * len(DIMENSIONS)

# Enough for kg/m²/day of feed per fish; a longer chain of words is prose.
_MOST_PIECES: Final = 24
_MOST_FACTORS: Final = 8
_HIGHEST_POWER: Final = 4
_LONGEST_NAME: Final = 3  # words, as in "US fluid ounce"
# A class writes few different units; the bound keeps a table of nonsense from filling the memory.
_REMEMBERED: Final = 1024

_DIGITS_ABOVE: Final = f"[⁺⁻]?[{SUPERSCRIPTS}]{{1,2}}"
# One piece of a unit: a word with its power, a number, an operator or bracket, or something that only separates.
PIECE: Final = (
    rf"([^ *\/^()0-9+\-⁺⁻{SUPERSCRIPTS}.,;:]+)"
    rf"(?: ?(?:\^|\*\*) ?(?:\(([-+]?[0-9]{{1,2}})\)|([-+]?[0-9]{{1,2}}))|([-+]?[0-9]{{1,2}})|({_DIGITS_ABOVE}))?"
    r"|([0-9]{1,6})|([*\/()])|[ .,;:]|-(?![0-9])"
)
_PIECE: Final = re.compile(PIECE)


class Token(NamedTuple):
    """One known word: its size in base units, its zero, its dimensions, its written form, its meaning in water."""

    factor: float
    offset: float | None
    dims: Dims
    shown: str
    twin: tuple[float, Dims] | None = None


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as understood, or the fault that kept it from being understood.

    No unit at all has no `shown`. `vague` names the message that asks for a clearer word, in case the unit as
    understood does not fit the answer.
    """

    factor: float = 1.0
    offset: float | None = None
    dims: Dims = PURE
    shown: str = ""
    twin: tuple[float, Dims] | None = None
    vague: str = ""
    fault: str = ""
    word: str = ""


class UnitFault(Exception):
    """A unit text that cannot be understood: the name of the message, and the word it is about."""

    def __init__(self, code: str, word: str = "") -> None:
        super().__init__(code)
        self.code, self.word = code, word


@functools.cache
def tokens() -> Mapping[str, Token]:
    """Every known spelling. Looked up as typed first and in lower case second."""
    found: dict[str, Token] = {}
    folded: dict[str, Token] = {}
    for expression, shown, spellings in vocabulary.SPELLINGS:
        plain = _measured(expression)._replace(shown=shown or written(expression))
        for spelling in spellings.split(", "):
            token = plain
            if spelling in vocabulary.WATER_TWINS:
                water = _measured(vocabulary.WATER_TWINS[spelling])
                token = plain._replace(twin=(water.factor, water.dims))
            if spelling in found:
                raise ValueError(f"the unit spelling {spelling!r} is listed twice")
            found[spelling] = token
            if spelling not in vocabulary.EXACT_CASE:
                folded.setdefault(lower(spelling), token)
    for noun in vocabulary.COUNTED.split(", "):
        found[noun] = _measured("count")._replace(shown=written(noun))
        folded.setdefault(lower(noun), found[noun])
    return {**folded, **found}


def _measured(expression: str) -> Token:
    """A unit expression in base units."""
    found = size(expression)
    powers = dict(found.powers)
    dims = tuple(int(powers.pop(name, 0)) for name in DIMENSIONS)
    if powers:
        raise ValueError(f"the unit {expression!r} measures {sorted(powers)}, which the judge does not know")
    return Token(found.factor, found.zero, dims, expression)


def table() -> dict[str, Any]:
    """All that the browser's script needs to understand a unit, as plain data."""
    return {
        "dimensions": list(DIMENSIONS),
        "tokens": {
            spelling: [t.factor, t.offset, list(t.dims), t.shown, t.twin and [t.twin[0], list(t.twin[1])]]
            for spelling, t in tokens().items()
        },
        "fillers": dict.fromkeys(vocabulary.FILLERS.split(", "), True),
        "per": dict.fromkeys(vocabulary.PER, True),
        "closing": dict.fromkeys(vocabulary.CLOSING, True),
        "prefix_powers": vocabulary.PREFIX_POWERS,
        "suffix_powers": vocabulary.SUFFIX_POWERS,
        "substance_after": vocabulary.SUBSTANCE_AFTER,
        "vague": vocabulary.VAGUE,
        "piece": PIECE,
        "superscripts": SUPERSCRIPTS,
        "most_pieces": _MOST_PIECES,
        "most_factors": _MOST_FACTORS,
        "highest_power": _HIGHEST_POWER,
        "longest_name": _LONGEST_NAME,
    }


@functools.lru_cache(_REMEMBERED)
def read_unit(text: str) -> Unit:
    """Understand a unit text such as "g/m²/day", "g m-2 d-1" or "kg a day".

    Examples
    --------
    >>> read_unit("grams per sq m per day").shown
    'g/m²/day'
    >>> read_unit("gpm").dims
    (3, 0, -1, 0, 0, 0, 0, 0, 0, 0)
    >>> read_unit("furlongs").word
    'furlongs'
    """
    try:
        return _Reader(_pieces(clean(text))).unit()
    except UnitFault as fault:
        return Unit(fault=fault.code, word=fault.word)


class _Piece(NamedTuple):
    kind: str  # "word", "number", or the operator itself
    text: str
    power: int | None = None


class _Factor(NamedTuple):
    token: Token
    power: int
    follows_number: bool


def _pieces(text: str) -> list[_Piece]:
    found: list[_Piece] = []
    position = 0
    while position < len(text):
        match = _PIECE.match(text, position)
        if match is None or len(found) == _MOST_PIECES:
            raise UnitFault("unit_shape")
        position = match.end()
        word, number, operator = match[1], match[6], match[7]
        if word:
            digits = match[2] or match[3] or match[4] or match[5]
            found.append(_Piece("word", word, int(lowered(digits)) if digits else None))
        elif number:
            found.append(_Piece("number", number))
        elif operator:
            found.append(_Piece(operator, operator))
    return found


class _Reader:
    """Goes through the pieces once, keeping what the next word will be multiplied or divided by."""

    def __init__(self, pieces: list[_Piece]) -> None:
        self.pieces = pieces
        self.factors: list[_Factor] = []
        self.levels: list[tuple[int, bool]] = [(1, False)]  # a bracket's sign, and whether it has seen a division
        self.waiting = ""  # the operator that the next factor answers
        self.after_number = False
        self.prefix = 0
        self.vague = ""

    def unit(self) -> Unit:
        """The whole unit."""
        position = 0
        while position < len(self.pieces):
            piece = self.pieces[position]
            if piece.kind == "word":
                position += self._word(position)
                continue
            if piece.kind == "number":
                self._number(piece.text, position)
            else:
                self._operator(piece.kind)
            position += 1
        if self.waiting or self.after_number or self.prefix or len(self.levels) > 1:
            raise UnitFault("unit_shape")
        return replace(_multiplied(self.factors), vague=self.vague)

    def _operator(self, mark: str) -> None:
        if self.prefix or (mark != "(" and (self.waiting or self.after_number)):
            raise UnitFault("unit_shape")
        if mark == "(":
            sign, divided = self.levels[-1]
            turned = self.waiting == "/" or self.after_number
            self.levels.append((-sign, False) if turned else (sign, divided))
            self.waiting, self.after_number = "", False
        elif mark == ")":
            if len(self.levels) == 1:
                raise UnitFault("unit_shape")
            self.levels.pop()
        else:
            self._wait(mark)

    def _wait(self, mark: str) -> None:
        self.waiting = mark
        if mark == "/":
            self.levels[-1] = (self.levels[-1][0], True)

    def _number(self, digits: str, position: int) -> None:
        """A number belongs to a unit only as in "g per 100 g", where a word follows; "1/day" may start with its 1."""
        if position == 0 and digits == "1":
            return
        if self.waiting != "/":
            raise UnitFault("two_numbers")
        if float(digits) == 0 or self.prefix:
            raise UnitFault("unit_shape")
        self._factor(Token(float(digits), None, PURE, digits), 1)
        self.after_number = True

    def _word(self, position: int) -> int:
        """Deal with the longest known name that starts here; the number of words it took."""
        for count in range(_LONGEST_NAME, 0, -1):
            run = self.pieces[position : position + count]
            if len(run) < count or any(piece.kind != "word" for piece in run):
                continue
            if any(piece.power is not None for piece in run[:-1]):
                continue
            last = position + count == len(self.pieces)
            if self._name(" ".join(piece.text for piece in run), run[-1].power, last):
                return count
        word = self.pieces[position].text
        before = self.pieces[position - 1] if position else None
        if before and before.kind == "word" and lower(before.text) == vocabulary.SUBSTANCE_AFTER:
            return 1
        raise UnitFault(vocabulary.VAGUE.get(lower(word), "unknown_unit"), word)

    def _name(self, name: str, power: int | None, last: bool) -> bool:
        """Try one name as a unit, as a word to read past, or as a word of the grammar."""
        small = lower(name)
        token = tokens().get(name) or tokens().get(small)
        if token:
            self._factor(token, (1 if power is None else power) * (self.prefix or 1))
            self.prefix = 0
            self.vague = self.vague or vocabulary.VAGUE.get(small, "")
        elif power is not None:
            return False
        elif small in _FILLERS or (last and small in vocabulary.CLOSING and self.waiting == ""):
            return True
        elif small in vocabulary.PER:
            if self.prefix or self.after_number or self.waiting == "*":
                raise UnitFault("unit_shape")
            self._wait("/")
        elif small in vocabulary.PREFIX_POWERS and not self.prefix:
            self.prefix = vocabulary.PREFIX_POWERS[small]
        elif small in vocabulary.SUFFIX_POWERS and self.factors and not self.waiting:
            before = self.factors[-1]
            self.factors[-1] = before._replace(power=before.power * vocabulary.SUFFIX_POWERS[small])
        else:
            return False
        return True

    def _factor(self, token: Token, power: int) -> None:
        sign, divided = self.levels[-1]
        if self.waiting == "/" or self.after_number:
            sign = -sign
        elif divided and power > 0 and (token.dims != PURE or token.factor != 1.0):
            # Does "g/m² day" mean per day, or times day? Guessing would mark one of two students wrong.
            raise UnitFault("unit_order")
        if power == 0 or len(self.factors) == _MOST_FACTORS:
            raise UnitFault("unit_shape")
        self.factors.append(_Factor(token, sign * power, self.after_number))
        self.waiting, self.after_number = "", False


_FILLERS: Final = frozenset(vocabulary.FILLERS.split(", "))


def _multiplied(factors: list[_Factor]) -> Unit:
    if any(abs(factor.power) > _HIGHEST_POWER for factor in factors):
        raise UnitFault("unit_shape")
    size, dims = _product([(f.token.factor, f.token.dims, f.power) for f in factors])
    alone = len(factors) == 1 and factors[0].power == 1
    twin = None
    if any(f.token.twin for f in factors):
        twin = _product([(*(f.token.twin or (f.token.factor, f.token.dims)), f.power) for f in factors])
    return Unit(size, factors[0].token.offset if alone else None, dims, _shown(factors), twin)


def _product(parts: list[tuple[float, Dims, int]]) -> tuple[float, Dims]:
    size = 1.0
    dims = PURE
    for factor, vector, power in parts:
        for _ in range(abs(power)):
            size = size * factor if power > 0 else size / factor
        dims = tuple(have + more * power for have, more in zip(dims, vector, strict=True))
    return size, dims


def _shown(factors: list[_Factor]) -> str:
    """The unit as we write it: "g/m²/day", "g/100 g", "°C"."""
    text = ""
    for token, power, follows_number in factors:
        if token.shown.startswith("/") and power == 1:  # "daily" and its like bring their own stroke
            text += token.shown
            continue
        name = f"({token.shown})" if "/" in token.shown and (text or power != 1) else token.shown
        mark = " " if follows_number else "/" if power < 0 else "·" if text else ""
        text += f"{mark}{name}{raised(abs(power)) if abs(power) > 1 else ''}"
    return text
