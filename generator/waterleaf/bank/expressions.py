"""Small sums written in family files: conditions, arguments and slips.

Only numbers, names, + - * / , brackets, comparisons, `and`, and the functions below; whatever else is refused before
it runs. Sizes are bounded, so an expression can neither hang nor fill the memory.
"""

import ast
import functools
import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from types import CodeType
from typing import Any, Final, NoReturn

LONGEST: Final = 300
FUNCTIONS: Final[dict[str, Any]] = {
    "abs": abs,
    "min": min,
    "max": max,
    "round": round,
    "floor": math.floor,
    "ceil": math.ceil,
    "sqrt": math.sqrt,
    "mean": lambda values: math.fsum(values) / len(values),
    "total": math.fsum,
    "count": len,
    "range_of": lambda values: max(values) - min(values),
}
_ALLOWED: Final = (
    ast.Expression,
    ast.BinOp,
    ast.UnaryOp,
    ast.USub,
    ast.Add,
    ast.Sub,
    ast.Mult,
    ast.Div,
    ast.Compare,
    ast.Lt,
    ast.LtE,
    ast.Gt,
    ast.GtE,
    ast.Eq,
    ast.NotEq,
    ast.BoolOp,
    ast.And,
    ast.Or,
    ast.Name,
    ast.Load,
    ast.Constant,
    ast.Call,
    ast.List,
)


class BadExpression(ValueError):
    """An expression that is not understood or not allowed."""


class Series(tuple[Any, ...]):
    """Several numbers in a sum. They can be counted and added up, and never repeated: that could fill the memory."""

    __slots__ = ()

    def __mul__(self, _other: Any) -> NoReturn:
        """Refuse what Python would take for a wish to repeat them."""
        raise ValueError("several numbers cannot be multiplied as one")

    __rmul__ = __mul__


_SPACE: Final[dict[str, Any]] = {"__builtins__": {}, **FUNCTIONS, "Series": Series}


class _ListsGuarded(ast.NodeTransformer):
    """Makes every list that is written out a Series."""

    def visit_List(self, node: ast.List) -> ast.AST:
        """A call of Series on the list."""
        self.generic_visit(node)
        return ast.Call(ast.Name("Series", ast.Load()), [node], [])


@dataclass(frozen=True)
class Expression:
    """A checked expression: its text, the names it needs, and its compiled form."""

    text: str
    names: frozenset[str]
    code: CodeType

    def value(self, names: Mapping[str, Any]) -> Any:
        """Work the expression out. Raises ZeroDivisionError, ValueError or OverflowError as arithmetic does."""
        known = {name: Series(value) if isinstance(value, tuple | list) else value for name, value in names.items()}
        try:
            return eval(self.code, _SPACE, known)  # whitelisted when it was compiled
        except TypeError:
            raise ValueError(f"in {self.text!r} one number stands for several, or several for one") from None


@functools.lru_cache(maxsize=4096)
def compile_expression(text: str) -> Expression:
    """Check and compile an expression.

    Raises BadExpression naming what is not allowed.
    """
    if len(text) > LONGEST:
        raise BadExpression(f"{len(text)} characters are too long; at most {LONGEST}")
    try:
        tree = ast.parse(text, mode="eval")
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise BadExpression(f"{text!r} is not an expression such as feed <= 0.02 * biomass") from None
    names = set()
    for node in ast.walk(tree):
        if not isinstance(node, _ALLOWED):
            raise BadExpression(
                f"{type(node).__name__} in {text!r} is not allowed; use numbers, names, + - * / and comparisons"
            )
        if isinstance(node, ast.Constant) and (isinstance(node.value, bool) or not isinstance(node.value, int | float)):
            raise BadExpression(f"{node.value!r} in {text!r} is not a number")
        if isinstance(node, ast.Call) and not (
            isinstance(node.func, ast.Name) and node.func.id in FUNCTIONS and not node.keywords
        ):
            raise BadExpression(f"{ast.unparse(node)} is not allowed; functions are {', '.join(sorted(FUNCTIONS))}")
        if isinstance(node, ast.BinOp | ast.UnaryOp) and any(
            isinstance(inner, ast.List) for inner in ast.iter_child_nodes(node)
        ):
            raise BadExpression(f"a list in {text!r} is no number; put it into a function such as mean([a, b])")
        if isinstance(node, ast.Name) and node.id not in FUNCTIONS:
            names.add(node.id)
    guarded = ast.fix_missing_locations(_ListsGuarded().visit(tree))
    return Expression(text, frozenset(names), compile(guarded, "<expression>", "eval"))


def unknown_names(expression: Expression, known: Collection[str]) -> list[str]:
    """Names that an expression uses and nobody defines."""
    return sorted(expression.names - set(known))
