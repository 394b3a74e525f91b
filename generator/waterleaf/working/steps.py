"""Turns a relation and its values into worked steps, read off the relation's own source.

Each printed step follows from the numbers printed before it: later steps go on from the printed (rounded) values, with
as many guard digits as it takes for the last line to agree with the relation's own full-precision result.
"""

import ast
import functools
import inspect
import sys
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import CodeType
from typing import Any, Final

from waterleaf.calc.quantity import LOOKUPS, RELATIONS, Quantity, Relation, quantity_of
from waterleaf.working import figures
from waterleaf.working.notation import Piece, Printer, Term, Unprintable, equals, number, symbol

_FEWEST_GUARD_DIGITS: Final = 4
_MOST_GUARD_DIGITS: Final = 12
_UNPRINTED: Final = Piece("", "", "", "")


@dataclass(frozen=True, slots=True)
class Step:
    """One line of working: the quantity found, the formula in symbols, with numbers, and the result as printed to at
    most so many significant figures."""

    quantity: Quantity
    formula: Piece
    substituted: Piece
    result: str
    figures: int

    @property
    def line(self) -> Piece:
        """Symbol = formula = numbers = result, leaving out what would only repeat."""
        sides = [symbol(self.quantity), self.formula]
        shown = number(self.result)
        for side in (self.substituted, shown):
            if side.plain != sides[-1].plain:
                sides.append(side)
        return equals(*sides)


@dataclass(frozen=True, slots=True)
class Working:
    """A relation worked out: what was given, the steps, and the result at full precision and as printed."""

    relation: Relation
    given: tuple[tuple[str, Term], ...]
    steps: tuple[Step, ...]
    value: Any
    text: str


@dataclass(frozen=True, slots=True)
class _Line:
    """One assignment of a relation's body: the name it binds, its quantity, its expression."""

    name: str
    quantity: Quantity
    expression: ast.expr
    code: Any


@functools.cache
def _body(name: str) -> tuple[_Line, ...]:
    """The lines of a relation's body, the return last."""
    relation = RELATIONS[name]
    source = textwrap.dedent(inspect.getsource(relation.function))
    function = ast.parse(source).body[0]
    assert isinstance(function, ast.FunctionDef)
    lines: list[_Line] = []
    for statement in function.body:
        match statement:
            case ast.Expr(value=ast.Constant()):
                continue
            case ast.AnnAssign(target=ast.Name(id=target), annotation=ast.Name(id=alias), value=ast.expr() as value):
                lines.append(_Line(target, quantity_of(relation.function.__globals__[alias]), value, _compiled(value)))
            case ast.Return(value=ast.expr() as value):
                lines.append(_Line("", relation.result, value, _compiled(value)))
            case _:
                raise Unprintable(
                    f"{name}: a relation's body is annotated assignments and a return, not {ast.unparse(statement)!r}"
                )
    return tuple(lines)


@functools.cache
def _compiled(expression: ast.expr) -> Any:
    # Keyed by the node itself: nodes of a relation's body live as long as the program does.
    return compile(ast.fix_missing_locations(ast.Expression(expression)), "<relation>", "eval")


def work(
    name: str, values: Mapping[str, Any], *, figures_shown: int = 4, texts: Mapping[str, Any] | None = None,
    longest: int = 6,
) -> Working:
    """Work a relation out for some values.

    `texts` gives the printed form of given values where it is not the shortest decimal; `figures_shown` is the number
    of significant figures of the last line; `longest` is the longest sum that is written out in full.

    Raises OutOfRange where a value lies outside the relation's range, KeyError for an unknown relation.
    """
    relation = RELATIONS[name]
    value = relation.checked(**values)
    arguments = {**relation.defaults, **values}
    given = {
        key: Term(relation.parameters[key], arguments[key], (texts or {}).get(key) or printed(arguments[key]))
        for key in relation.parameters
    }
    if relation.procedure:
        return Working(relation, tuple(given.items()), (), value, "")
    wanted = _rounded(value, figures_shown)
    for digits in range(_FEWEST_GUARD_DIGITS, _MOST_GUARD_DIGITS + 1):
        # Numbers first, printing after: most of the time goes into printing, and it is needed once.
        tried = _steps(relation, given, digits, figures_shown, "", 0)
        if [step.result for step in tried[-len(wanted):]] == wanted:
            break
    steps = _steps(relation, given, digits, figures_shown, "", longest)
    found = [step.result for step in steps[-len(wanted):]]
    return Working(relation, tuple(given.items()), _without_repeats(steps), value, "; ".join(found))


def _without_repeats(steps: list[Step]) -> tuple[Step, ...]:
    """The steps without those that an earlier call already showed; the first showing stays."""
    seen: set[str] = set()
    kept = []
    for step in steps:
        if step.line.plain not in seen:
            seen.add(step.line.plain)
            kept.append(step)
    return tuple(kept)


def _rounded(value: Any, shown: int) -> list[str]:
    if isinstance(value, Sequence):
        return [figures.plain(float(item), shown) for item in value]
    return [figures.plain(float(value), shown)]


def printed(value: Any) -> Any:
    """The shortest decimal text of a value; for a list the texts of its members."""
    return tuple(printed(item) for item in value) if isinstance(value, Sequence) else figures.plain(float(value))


def _steps(
    relation: Relation, given: Mapping[str, Term], digits: int, shown: int, subscript: str, longest: int
) -> list[Step]:
    names = dict(given)
    scope = relation.function.__globals__
    steps: list[Step] = []
    lines = _body(relation.name)
    for line in lines:
        quantity = line.quantity.with_subscript(subscript)
        last = line is lines[-1]
        figures_here = shown if last else digits
        inner = _called_relation(line.expression)
        if inner is not None:
            found = _inner_steps(inner, quantity, names, scope, digits, figures_here, longest)
        elif _is_series(line.expression):
            found = _series_steps(line, quantity, names, scope, figures_here, longest)
        else:
            found = [_one_step(line.expression, line.code, quantity, names, scope, digits, figures_here, longest)]
        steps += found
        if line.name:
            names[line.name] = Term(quantity, float(found[-1].result), found[-1].result)
    return steps


def _one_step(
    expression: ast.expr, code: Any, quantity: Quantity, names: Mapping[str, Term], scope: Mapping[str, Any],
    digits: int, shown: int, longest: int,
) -> Step:
    """A step; with `longest` zero only its result, unprinted."""
    def evaluate(node: ast.expr, inside: Mapping[str, Term]) -> str:
        return figures.plain(_value(_compiled(node), inside, scope, digits), digits)

    result = figures.plain(_value(code, names, scope, digits), shown)
    if not longest:
        return Step(quantity, _UNPRINTED, _UNPRINTED, result, shown)
    return Step(
        quantity,
        _in_symbols(expression, tuple((name, term.quantity) for name, term in names.items()), scope["__name__"]),
        Printer(names, scope, evaluate=evaluate, longest=longest).visit(expression),
        result,
        shown,
    )


@functools.lru_cache(maxsize=4096)
def _in_symbols(expression: ast.expr, names: tuple[tuple[str, Quantity], ...], module: str) -> Piece:
    """A formula in symbols: the same for every draw, so it is printed once."""
    terms = {name: Term(quantity, None) for name, quantity in names}
    piece: Piece = Printer(terms, vars(sys.modules[module])).visit(expression)
    return piece


def _value(code: Any, names: Mapping[str, Term], scope: Mapping[str, Any], digits: int) -> float:
    """Value of an expression, with look-ups and inner means rounded as they are printed."""
    space = _scope_with_rounding(scope["__name__"], digits)
    values = {key: term.value for key, term in names.items()}
    if any(isinstance(part, CodeType) for part in code.co_consts):
        return float(eval(code, {**space, **values}))  # a sum inside sees globals only
    return float(eval(code, space, values))  # the code is a relation's own source, never data


@functools.cache
def _scope_with_rounding(module: str, digits: int) -> dict[str, Any]:
    space = dict(vars(sys.modules[module]))
    for key in (*LOOKUPS, "mean"):
        if key in space:
            space[key] = _rounding(space[key], digits)
    return space


def _rounding(function: Any, digits: int) -> Any:
    return lambda *arguments: float(figures.plain(function(*arguments), digits))


def _called_relation(expression: ast.expr) -> ast.Call | None:
    if isinstance(expression, ast.Call) and isinstance(expression.func, ast.Name) and expression.func.id in RELATIONS:
        return expression
    return None


def _inner_steps(
    call: ast.Call, quantity: Quantity, names: Mapping[str, Term], scope: Mapping[str, Any], digits: int, shown: int,
    longest: int,
) -> list[Step]:
    """Steps of a relation that another one calls; its steps take the subscript of what it finds."""
    assert isinstance(call.func, ast.Name)
    relation = RELATIONS[call.func.id]
    given: dict[str, Term] = {
        key: Term(relation.parameters[key], value, printed(value)) for key, value in relation.defaults.items()
    }
    for keyword in call.keywords:
        assert keyword.arg is not None
        if isinstance(keyword.value, ast.Name) and keyword.value.id in names:
            given[keyword.arg] = names[keyword.value.id]
        else:
            value = _value(_compiled(keyword.value), names, scope, digits)
            given[keyword.arg] = Term(relation.parameters[keyword.arg], value, printed(value))
    steps = _steps(relation, given, digits, shown, quantity.subscript, longest)
    last = steps[-1]
    return [*steps[:-1], Step(quantity, last.formula, last.substituted, last.result, last.figures)]


def _is_series(expression: ast.expr) -> bool:
    return (
        isinstance(expression, ast.Call) and getattr(expression.func, "id", "") == "tuple"
        and isinstance(expression.args[0], ast.GeneratorExp)
    )


def _series_steps(
    line: _Line, quantity: Quantity, names: Mapping[str, Term], scope: Mapping[str, Any], shown: int, longest: int
) -> list[Step]:
    """One step for each member of a series `tuple(formula for number in range(count))`."""
    assert isinstance(line.expression, ast.Call)
    generator = line.expression.args[0]
    assert isinstance(generator, ast.GeneratorExp)
    variable = getattr(generator.generators[0].target, "id", "")
    counter = eval(_compiled(generator.generators[0].iter), dict(scope), {k: t.value for k, t in names.items()})
    code = _compiled(generator.elt)
    steps = []
    for position, index in enumerate(counter, start=1):
        inside = {**names, variable: Term(Quantity("i", "", "steps so far"), index, str(index))}
        member = Quantity(f"{quantity.symbol}_{position}", quantity.unit, f"{quantity.name}, number {position}")
        steps.append(_one_step(generator.elt, code, member, inside, scope, _MOST_GUARD_DIGITS, shown, longest))
    return steps


def formula_lines(name: str) -> list[Piece]:
    """The relation in symbols alone, one line for each step; empty for a procedure.

    Relations that it calls are not opened up: their symbol stands for them.
    """
    relation = RELATIONS[name]
    if relation.procedure:
        return []
    names = {key: Term(quantity, None) for key, quantity in relation.parameters.items()}
    scope = relation.function.__globals__
    lines: list[Piece] = []
    for line in _body(name):
        expression = line.expression
        inner = _called_relation(expression)
        if inner is not None:
            assert isinstance(inner.func, ast.Name)
            called = RELATIONS[inner.func.id]
            lines += formula_lines(called.name)
        elif _is_series(expression):
            assert isinstance(expression, ast.Call)
            generator = expression.args[0]
            assert isinstance(generator, ast.GeneratorExp)
            variable = getattr(generator.generators[0].target, "id", "")
            inside = {**names, variable: Term(Quantity("i", "", "steps so far"), None)}
            member = Quantity(f"{line.quantity.symbol}_i", line.quantity.unit, line.quantity.name)
            counter = generator.generators[0].iter
            assert isinstance(counter, ast.Call)
            count = Printer(names, scope).visit(counter.args[0])
            lines.append(_counted(equals(symbol(member), Printer(inside, scope).visit(generator.elt)), count))
        else:
            lines.append(equals(symbol(line.quantity), Printer(names, scope).visit(expression)))
        if line.name:
            names[line.name] = Term(line.quantity, None)
    return list({line.plain: line for line in lines}.values())


def _counted(line: Piece, count: Piece) -> Piece:
    """A line for each member of a series, with the numbers that its counter runs through."""
    return Piece(
        f"{line.typst}, quad i = 0, ..., {count.typst} - 1",
        f"{line.mathml}<mo>,</mo><mspace width='1em'/><mi>i</mi><mo>=</mo><mn>0</mn><mo>,</mo><mo>…</mo><mo>,</mo>"
        f"{count.mathml}<mo>−</mo><mn>1</mn>",
        f"{line.plain}, i = 0, …, {count.plain} − 1",
        f"{line.spoken}, for i from zero to {count.spoken} minus one",
        0, 0,
    )
