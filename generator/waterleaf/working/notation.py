"""Prints the syntax tree of a relation four ways at once: Typst maths, MathML, plain text and spoken text.

One visitor, one set of bracket rules, so the four cannot disagree. Only a whitelist of shapes is printed; anything else
in a relation's body is a fault of its author and is refused by name.
"""

import ast
import functools
from collections.abc import Callable, Iterable, Mapping
from html import escape
from typing import Any, Final, NamedTuple

from waterleaf.calc.quantity import LOOKUPS, Constant, Quantity
from waterleaf.working import figures

SUM, PRODUCT, FRACTION, POWER, ATOM = range(1, 6)


class Unprintable(ValueError):
    """A relation's body holds something that cannot be shown as a formula."""


class Piece(NamedTuple):
    """A stretch of formula in four scripts. `visual` and `linear` say how firmly its parts hold together, on a page
    where fractions stack and in a line of text where they do not."""

    typst: str
    mathml: str
    plain: str
    spoken: str
    visual: int = ATOM
    linear: int = ATOM


class Term(NamedTuple):
    """What a name in a formula stands for: its quantity, its value, and the value as printed.

    A list has a text for each of its members (nested where the list is one of groups).
    """

    quantity: Quantity
    value: Any
    text: Any = ""


def number(text: str) -> Piece:
    """A printed number."""
    shown = figures.grouped(text)
    strength = SUM if text.startswith("-") else ATOM
    return Piece(
        f'"{shown}"', f"<mn>{shown}</mn>", text.replace("-", "−"), text.replace("-", "minus "), strength, strength
    )


@functools.lru_cache(maxsize=4096)
def symbol(quantity: Quantity) -> Piece:
    """The symbol of a quantity: one letter slanted, several upright, subscript upright; spoken by its name."""
    base, _, subscript = quantity.symbol.partition("_")
    barred = base.startswith("bar ")
    base = base.removeprefix("bar ")
    upright = len(base) > 1
    typst = f'upright("{base}")' if upright else base
    mathml = f'<mi mathvariant="normal">{escape(base)}</mi>' if upright else f"<mi>{escape(base)}</mi>"
    plain = base
    if barred:
        typst = f"overline({typst})"
        mathml = f"<mover>{mathml}<mo>¯</mo></mover>"
        plain = f"mean({base})"
    if subscript:
        typst = f'attach({typst}, b: upright("{subscript}"))'
        mathml = f"<msub>{mathml}<mtext>{escape(subscript)}</mtext></msub>"
        plain = f"{plain}_{subscript}"
    return Piece(typst, mathml, plain, quantity.name)


def equals(*sides: Piece) -> Piece:
    """A chain of equal sides."""
    return Piece(
        " = ".join(side.typst for side in sides),
        "<mo>=</mo>".join(side.mathml for side in sides),
        " = ".join(side.plain for side in sides),
        " equals ".join(side.spoken for side in sides),
        0,
        0,
    )


def math_element(piece: Piece) -> str:
    """The piece as a MathML element that carries its spoken text."""
    return f'<math aria-label="{escape(piece.spoken)}"><mrow>{piece.mathml}</mrow></math>'


class Printer(ast.NodeVisitor):
    """Prints an expression with symbols, or with numbers put in.

    `names` says what each name stands for, `scope` holds the module's constants. With `numbers` set, `evaluate` turns a
    sub-expression into the text that is printed for it, and sums are written out up to `longest` terms.
    """

    def __init__(
        self,
        names: Mapping[str, Term],
        scope: Mapping[str, Any],
        *,
        evaluate: Callable[[ast.expr, Mapping[str, Term]], str] | None = None,
        longest: int = 6,
    ) -> None:
        """Remember what names mean; no printing yet."""
        self.names, self.scope, self.evaluate, self.longest = dict(names), scope, evaluate, longest

    def generic_visit(self, node: ast.AST) -> Piece:
        """Refuse whatever has no rule."""
        raise Unprintable(f"a formula cannot hold {type(node).__name__}: {ast.unparse(node)}")

    def visit_Name(self, node: ast.Name) -> Piece:
        """A symbol, or the number it stands for."""
        if node.id in self.names:
            term = self.names[node.id]
            return number(term.text) if self.evaluate else symbol(term.quantity)
        constant = self.scope.get(node.id)
        if isinstance(constant, Constant):
            if constant.symbol == "π":  # no student writes its digits out
                return symbol(constant.quantity)
            text = figures.plain(float(constant))
            exact = constant.symbol.replace(".", "").isdigit()
            return number(text) if self.evaluate or exact else symbol(constant.quantity)
        raise Unprintable(f"{node.id} is neither an argument, a named step nor a constant of the module")

    def visit_Constant(self, node: ast.Constant) -> Piece:
        """A literal number."""
        if not isinstance(node.value, int | float):
            return self.generic_visit(node)
        return number(figures.plain(float(node.value)))

    def visit_UnaryOp(self, node: ast.UnaryOp) -> Piece:
        """A leading minus; it binds like a sum, so that it is bracketed after another operator."""
        if not isinstance(node.op, ast.USub):
            return self.generic_visit(node)
        inner = _bracket(self.visit(node.operand), PRODUCT)
        return Piece(
            f"- {inner.typst}", f"<mo>−</mo>{inner.mathml}", f"−{inner.plain}", f"minus {inner.spoken}", SUM, SUM
        )

    def visit_BinOp(self, node: ast.BinOp) -> Piece:
        """The four operations and powers."""
        left, right = self.visit(node.left), self.visit(node.right)
        match node.op:
            case ast.Add():
                return _join(left, right, "+", "+", "plus", SUM, SUM, SUM + 1 if _signed(right) else SUM)
            case ast.Sub():
                return _join(left, right, "-", "−", "minus", SUM, SUM, PRODUCT)
            case ast.Mult():
                return _join(left, right, "times", "×", "times", PRODUCT, PRODUCT, PRODUCT)
            case ast.Div():
                return _fraction(left, right)
            case ast.Pow():
                return _power(left, right)
        return self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> Piece:
        """A whitelisted function, a table look-up, a sum or a count."""
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name in LOOKUPS:
            return self._lookup(node, name)
        if name in _WRAPPED:
            typst, mathml, plain, spoken = _WRAPPED[name]
            inner = self.visit(node.args[0])
            return Piece(
                typst.format(inner.typst),
                mathml.format(inner.mathml),
                plain.format(inner.plain),
                spoken.format(inner.spoken),
                ATOM,
                ATOM,
            )
        if name in ("sum", "fsum"):
            return self._sum(node.args[0])
        if name in ("len", "mean"):
            return self._of_list(node, name)
        if name in ("max", "min"):
            return _call(
                name, name, f"the {'larger' if name == 'max' else 'smaller'} of", [self.visit(a) for a in node.args]
            )
        if name in ("float", "int"):
            return self._visited(node.args[0])
        return self.generic_visit(node)

    def _visited(self, node: ast.AST) -> Piece:
        piece: Piece = self.visit(node)
        return piece

    def _lookup(self, node: ast.Call, name: str) -> Piece:
        if self.evaluate:
            return number(self.evaluate(node, self.names))
        entry = LOOKUPS[name]
        base = symbol(Quantity(entry.symbol, "", entry.spoken))
        arguments = [self._visited(argument) for argument in node.args]
        return Piece(
            f"{base.typst}({', '.join(a.typst for a in arguments)})",
            f"{base.mathml}<mo>(</mo>{'<mo>;</mo>'.join(a.mathml for a in arguments)}<mo>)</mo>",
            f"{base.plain}({'; '.join(a.plain for a in arguments)})",
            f"{base.spoken} {' and '.join(a.spoken for a in arguments)}",
        )

    def _of_list(self, node: ast.Call, name: str) -> Piece:
        """The number of readings in a list, or their mean where a step inside a sum needs it."""
        if self.evaluate:
            return number(self.evaluate(node, self.names))
        term = self.names[_list_name(node.args[0])]
        subscript = term.quantity.subscript
        if name == "mean":
            spoken = f"mean of {term.quantity.name}"
            return symbol(Quantity("bar x", "", spoken).with_subscript(subscript or "group"))
        groups = term.quantity.many == 2
        spoken = "number of groups" if groups else f"number of {term.quantity.name}"
        return symbol(Quantity("k" if groups else "n", "", spoken).with_subscript(subscript))

    def _sum(self, node: ast.expr) -> Piece:
        if isinstance(node, ast.GeneratorExp):
            loop = node.generators[0]
            variable = getattr(loop.target, "id", "")
            series, body = self.names[_list_name(loop.iter)], node.elt
        else:
            variable, series, body = "_item", self.names[_list_name(node)], ast.Name("_item")
        inner = Quantity(
            series.quantity.symbol,
            series.quantity.unit,
            f"each of the {series.quantity.name}",
            many=max(0, series.quantity.many - 1),  # type: ignore[arg-type]
        )
        if series.quantity.many == 2:
            inner = inner.with_subscript("group")
        if not self.evaluate:
            piece = self._with(variable, Term(inner, None)).visit(body)
            piece = _bracket(piece, PRODUCT)
            return Piece(
                f"sum {piece.typst}",
                f"<mo>∑</mo>{piece.mathml}",
                f"Σ {piece.plain}",
                f"the sum of {piece.spoken}",
                PRODUCT,
                PRODUCT,
            )
        terms = [
            self._with(variable, Term(inner, item, text)).visit(body)
            for item, text in zip(series.value, series.text, strict=True)
        ]
        return _plus(terms, self.longest)

    def _with(self, name: str, term: Term) -> "Printer":
        return Printer({**self.names, name: term}, self.scope, evaluate=self.evaluate, longest=self.longest)


# Typst, MathML, plain and spoken forms of functions of one argument.
_WRAPPED: Final[dict[str, tuple[str, str, str, str]]] = {
    "sqrt": ("sqrt({})", "<msqrt>{}</msqrt>", "√({})", "the square root of, open bracket, {}, close bracket"),
    "exp": (
        "e^({})",
        "<msup><mi>e</mi><mrow>{}</mrow></msup>",
        "exp({})",
        "e to the power of, open bracket, {}, close bracket",
    ),
    "log": ("ln({})", "<mi>ln</mi><mo>(</mo>{}<mo>)</mo>", "ln({})", "the natural logarithm of {}"),
    "log10": (
        "log_10({})",
        "<msub><mi>log</mi><mn>10</mn></msub><mo>(</mo>{}<mo>)</mo>",
        "log10({})",
        "the logarithm to base ten of {}",
    ),
    "fabs": ("abs({})", "<mo>|</mo>{}<mo>|</mo>", "abs({})", "the size of {}"),
    "abs": ("abs({})", "<mo>|</mo>{}<mo>|</mo>", "abs({})", "the size of {}"),
    "ceil": ("ceil({})", "<mo>⌈</mo>{}<mo>⌉</mo>", "ceil({})", "{}, rounded up,"),
    "floor": ("floor({})", "<mo>⌊</mo>{}<mo>⌋</mo>", "floor({})", "{}, rounded down,"),
    "radians": ("{} dot pi / 180", "{}<mo>·</mo><mi>π</mi><mo>/</mo><mn>180</mn>", "radians({})", "{} in radians"),
    "sin": ("sin({})", "<mi>sin</mi><mo>(</mo>{}<mo>)</mo>", "sin({})", "the sine of {}"),
    "cos": ("cos({})", "<mi>cos</mi><mo>(</mo>{}<mo>)</mo>", "cos({})", "the cosine of {}"),
    "tan": ("tan({})", "<mi>tan</mi><mo>(</mo>{}<mo>)</mo>", "tan({})", "the tangent of {}"),
}


def _list_name(node: ast.expr) -> str:
    if isinstance(node, ast.Name):
        return node.id
    raise Unprintable(f"only a list with a name can be summed or counted, not {ast.unparse(node)}")


def _signed(piece: Piece) -> bool:
    return piece.plain.startswith("−")


def _bracket(piece: Piece, need: int) -> Piece:
    """Put brackets round a piece that holds together less firmly than its neighbour needs."""
    visual, linear = piece.visual < need, piece.linear < need
    return Piece(
        f"lr(( {piece.typst} ))" if visual else piece.typst,
        f"<mrow><mo>(</mo>{piece.mathml}<mo>)</mo></mrow>" if visual else piece.mathml,
        f"({piece.plain})" if linear else piece.plain,
        f"open bracket, {piece.spoken}, close bracket" if linear else piece.spoken,
        ATOM if visual else piece.visual,
        ATOM if linear else piece.linear,
    )


def _join(
    left: Piece, right: Piece, typst: str, sign: str, word: str, own: int, need_left: int, need_right: int
) -> Piece:
    # A minus in front needs brackets anywhere but at the start of a sum.
    left = _bracket(left, need_left if own == SUM else PRODUCT)
    right = _bracket(right, need_right if not _signed(right) else PRODUCT)
    if own == PRODUCT and right.linear == PRODUCT and "/" in right.plain:
        right = Piece(right.typst, right.mathml, f"({right.plain})", right.spoken, right.visual, ATOM)
    return Piece(
        f"{left.typst} {typst} {right.typst}",
        f"{left.mathml}<mo>{sign}</mo>{right.mathml}",
        f"{left.plain} {sign} {right.plain}",
        f"{left.spoken} {word} {right.spoken}",
        own,
        own,
    )


def _fraction(top: Piece, bottom: Piece) -> Piece:
    above, below = _bracket(top, PRODUCT), _bracket(bottom, POWER)
    return Piece(
        f"frac({top.typst}, {bottom.typst})",
        f"<mfrac><mrow>{top.mathml}</mrow><mrow>{bottom.mathml}</mrow></mfrac>",
        f"{above.plain} / {below.plain}",
        f"{above.spoken} divided by {below.spoken}",
        FRACTION,
        PRODUCT,
    )


def _power(base: Piece, exponent: Piece) -> Piece:
    base = _bracket(base, ATOM)
    up = _bracket(exponent, ATOM)
    spoken = {"2": f"{base.spoken} squared", "3": f"{base.spoken} cubed"}.get(
        exponent.plain, f"{base.spoken} to the power of {up.spoken}"
    )
    return Piece(
        f"{base.typst}^({exponent.typst})",
        f"<msup><mrow>{base.mathml}</mrow><mrow>{exponent.mathml}</mrow></msup>",
        f"{base.plain}^{up.plain}",
        spoken,
        POWER,
        POWER,
    )


def _call(typst: str, plain: str, spoken: str, arguments: list[Piece]) -> Piece:
    return Piece(
        f"{typst}({', '.join(a.typst for a in arguments)})",
        f"<mi>{plain}</mi><mo>(</mo>{'<mo>,</mo>'.join(a.mathml for a in arguments)}<mo>)</mo>",
        f"{plain}({', '.join(a.plain for a in arguments)})",
        f"{spoken} {' and '.join(a.spoken for a in arguments)}",
    )


def _plus(terms: list[Piece], longest: int) -> Piece:
    """A sum written out; of a long one the first two terms and the last."""
    parts: Iterable[Piece] = [_bracket(t, PRODUCT if i and _signed(t) else SUM) for i, t in enumerate(terms)]
    parts = list(parts)
    if len(parts) > longest:
        dots = Piece("dots.c", "<mo>⋯</mo>", "…", "and so on")
        parts = [parts[0], parts[1], dots, parts[-1]]
    return Piece(
        " + ".join(p.typst for p in parts),
        "<mo>+</mo>".join(p.mathml for p in parts),
        " + ".join(p.plain for p in parts),
        " plus ".join(p.spoken for p in parts),
        SUM if len(parts) > 1 else parts[0].visual,
        SUM if len(parts) > 1 else parts[0].linear,
    )
