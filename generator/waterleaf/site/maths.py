"""Working and formulas as HTML: MathML that carries its spoken text, no script needed."""

import re
from html import escape
from typing import Final

from waterleaf.calc.quantity import RELATIONS, Quantity, Relation
from waterleaf.exercise import PosedPart
from waterleaf.working.notation import Piece, equals, math_element, symbol
from waterleaf.working.steps import formula_lines
from waterleaf.working.units import behind, written

_EQUALS: Final = "<mo>=</mo>"
# Text counts as space in MathML: a sign with nothing but text behind it would lose the room on its right.
_NO_SPACE: Final = "<mi></mi>"
_FORMULA: Final = '<div class="wl-formula"'
_OPENED: Final = re.compile(r"<[a-z][^>]*(?<!/)>")


def formula_html(piece: Piece, unit: str = "") -> str:
    """A formula on a line of its own; the unit of its result never stands on the next line alone."""
    *before, last = _chain(piece)
    if unit:
        gap = "" if unit == "degree" else "&nbsp;"
        last = f'<span class="wl-unit">{last}{gap}{escape(behind(unit))}</span>'
    return f"{_FORMULA}>{' '.join((*before, last))}</div>"


def _chain(piece: Piece) -> list[str]:
    """The sides of a chain of equations as elements of their own, since a browser breaks no line inside one."""
    sides, spoken = piece.mathml.split(_EQUALS), piece.spoken.split(" equals ")
    whole = all(len(_OPENED.findall(side)) == side.count("</") for side in sides)
    if not whole or len(sides) != len(spoken):
        return [math_element(piece)]
    first = math_element(Piece("", sides[0], "", spoken[0]))
    rest = [
        math_element(Piece("", _EQUALS + _NO_SPACE * side.startswith("<mtext>") + side, "", f"equals {told}"))
        for side, told in zip(sides[1:], spoken[1:], strict=True)
    ]
    return [first, *rest]


def relation_html(name: str) -> str:
    """The formula of a relation and what its symbols mean."""
    relation = RELATIONS[name]
    return f"{_formulas(relation)}\n{_symbols(relation)}"


def relation_formulas(name: str) -> str:
    """The formula of a relation alone, one line for each step."""
    return _formulas(RELATIONS[name])


def symbol_html(quantity: Quantity) -> str:
    """The symbol of a quantity, or nothing where it has none."""
    return math_element(symbol(quantity)) if quantity.symbol else ""


def _formulas(relation: Relation) -> str:
    lines = "\n".join(formula_html(line) for line in formula_lines(relation.name))
    # Signs without their layout are no words to search for.
    return lines.replace(_FORMULA, f"{_FORMULA} data-search-exclude")


def _symbols(relation: Relation) -> str:
    quantities = [relation.result, *relation.parameters.values()]
    rows = "".join(
        f"<tr><td>{math_element(symbol(q))}</td><td>{escape(q.name)}</td><td>{escape(written(q.unit)) or 'a number'}</td></tr>"
        for q in quantities
        if q.symbol
    )
    return (
        f'<table class="wl-symbols" data-search-exclude><thead><tr><th scope="col">Symbol</th><th scope="col">Meaning</th>'
        f'<th scope="col">Unit</th></tr></thead><tbody>{rows}</tbody></table>'
    )


def working_html(part: PosedPart) -> str:
    """The worked answer of a part: what is known, the lines of working, the answer."""
    known = "".join(
        f'<div class="wl-formula">{math_element(equals(piece, _text(value)))} '
        f'<span class="wl-meaning">{escape(meaning)}</span></div>'
        for piece, value, meaning in part.given
    )
    lines = "".join(formula_html(line.piece, line.unit) for line in part.working)
    reason = f"<p>{escape(part.reason)}</p>" if part.reason else ""
    return f'{known}{lines}<p class="wl-answer">Answer: <strong>{escape(part.answer)}</strong></p>{reason}'


def _text(value: str) -> Piece:
    return Piece("", f"<mtext>{escape(value)}</mtext>", value, value)
