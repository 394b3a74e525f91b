"""What every relation promises, whatever it computes."""

import doctest
import importlib
import inspect
import math
import types
from typing import Any

import pytest

from waterleaf.calc import PARTS, TOPICS
from waterleaf.calc.quantity import HUGE, LOOKUPS, RELATIONS, Constant, OutOfRange, Quantity, Relation
from waterleaf.calc.sources import SOURCES
from waterleaf.working.steps import work
from waterleaf.working.units import registry, spoken, written

ALL = [pytest.param(relation, id=name) for name, relation in sorted(RELATIONS.items())]
FORMULAS = [p for p in ALL if not p.values[0].procedure]
CHECKED = [p for p in ALL if not p.values[0].procedure and not p.values[0].empirical]


def sample(quantity: Quantity, position: int = 0) -> Any:
    """A value well inside the range of a quantity, or a short list of such values; later arguments get a little more,
    so that a difference of two like quantities is not zero."""
    low, high = max(quantity.low, -1e6), min(quantity.high, 1e6)
    if quantity.many:
        inner = [low + (high - low) * share for share in (0.30, 0.40, 0.37, 0.45)]
        return (
            inner if quantity.many == 1 else [inner, [value * 1.1 for value in inner], [value * 0.9 for value in inner]]
        )
    value = min(high, (math.sqrt(low * high) if low > 0 else low + 0.4 * (high - low)) * (1 + 0.04 * position))
    return float(math.ceil(value)) if quantity.whole else value


def samples(relation: Relation) -> dict[str, Any]:
    """An argument for every parameter."""
    return {name: sample(q, position) for position, (name, q) in enumerate(relation.parameters.items())}


MODULES = sorted({relation.function.__module__ for relation in RELATIONS.values()})


@pytest.mark.parametrize("module", [f"waterleaf.calc.{topic}.{part}" for topic in PARTS for part in PARTS[topic]])
def test_examples_in_docstrings_hold(module: str) -> None:
    """Every doctest of the module passes, and there are some."""
    found = doctest.testmod(importlib.import_module(module))
    assert found.attempted > 0
    assert found.failed == 0


def test_every_topic_has_relations() -> None:
    """The fourteen topics of the course are all there."""
    assert {relation.topic for relation in RELATIONS.values()} == set(TOPICS)


@pytest.mark.parametrize("relation", ALL)
def test_relation_is_documented(relation: Relation) -> None:
    """The docstring names every parameter with its unit, the result, the errors, and shows an example."""
    doc = inspect.getdoc(relation.function) or ""
    for heading in ("Parameters\n", "Returns\n", "Raises\n", "Examples\n"):
        assert heading in doc, f"{relation.name} has no {heading.strip()} section"
    for name in relation.parameters:
        assert f"{name} : " in doc, f"{relation.name} does not describe {name}"
    assert relation.sources, f"{relation.name} cites nothing"
    assert relation.summary.endswith("."), f"{relation.name}: first line is not a sentence"


@pytest.mark.parametrize("relation", ALL)
def test_relation_cites_known_sources(relation: Relation) -> None:
    """Every citation is a key of the sources file and a place in it."""
    for citation in relation.sources:
        assert citation.key in SOURCES
        assert citation.locus


@pytest.mark.parametrize("relation", ALL)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, "7", None, True])
def test_relation_refuses_what_is_no_number(relation: Relation, bad: Any) -> None:
    """NaN, infinities and things that are not numbers are refused by name."""
    good = samples(relation)
    for name, quantity in relation.parameters.items():
        wrong = [bad, bad] if quantity.many == 1 else [[bad, bad], [bad, bad]] if quantity.many == 2 else bad
        with pytest.raises(OutOfRange, match=name):
            relation.checked(**{**good, name: wrong})


@pytest.mark.parametrize("relation", ALL)
def test_relation_refuses_values_outside_its_range(relation: Relation) -> None:
    """One step beyond either end of a range is refused, and the message names the range."""
    good = samples(relation)
    for name, quantity in relation.parameters.items():
        for edge, beyond in ((quantity.low, -1), (quantity.high, 1)):
            if abs(edge) >= HUGE or quantity.many:
                continue
            with pytest.raises(OutOfRange, match=f"{name}: .*range"):
                relation.checked(**{**good, name: float(edge + beyond)})


@pytest.mark.parametrize("relation", ALL)
def test_quantities_can_be_written_and_spoken(relation: Relation) -> None:
    """Units are known to pint and have a written and a spoken form; names are words, not symbols."""
    for quantity in (*relation.parameters.values(), relation.result):
        registry().Unit(quantity.unit)
        assert written(quantity.unit) or not quantity.unit
        assert spoken(quantity.unit) or not quantity.unit
        assert len(quantity.name) > 2


@pytest.mark.parametrize("relation", FORMULAS)
def test_working_ends_at_the_result(relation: Relation) -> None:
    """The last printed line agrees with the relation's own value to the figures shown."""
    values = samples(relation)
    try:
        result = relation.checked(**values)
    except OutOfRange:
        pytest.fail(f"{relation.name} refuses a sample from the middle of its own ranges: {values}")
    working = work(relation.name, values, figures_shown=4)
    last = float(working.steps[-1].result)
    expected = result[-1] if isinstance(result, tuple) else result
    assert last == pytest.approx(expected, rel=5.1e-4)


class _PintMath:
    """The part of `math` that relations use, for values with units."""

    def __getattr__(self, name: str) -> Any:
        if name == "sqrt":
            return lambda value: value**0.5
        if name == "fsum":
            return lambda values: _pint_sum(list(values))
        if name in ("ceil", "floor", "fabs", "pi", "inf"):
            return {"ceil": lambda v: v, "floor": lambda v: v, "fabs": abs, "pi": math.pi, "inf": math.inf}[name]
        function = getattr(math, name)
        return lambda value: function(_bare(value))


def _bare(value: Any) -> float:
    """A dimensionless value as a plain number; fails where a unit is left over."""
    return float(value.to("").magnitude) if hasattr(value, "to") else float(value)


def _with_units(function: Any) -> Any:
    """The function with its constants, relations and maths replaced by ones that carry units."""
    scope = dict(function.__globals__)
    units = registry()
    for name in function.__code__.co_names:
        thing = scope.get(name)
        if isinstance(thing, Constant):
            scope[name] = units.Quantity(float(thing), thing.unit)
        elif name in RELATIONS:
            scope[name] = _with_units(RELATIONS[name].function)
        elif name in LOOKUPS:
            scope[name] = lambda *values, call=thing: call(*(_bare(value) for value in values))
    scope["mean"] = lambda values: _pint_sum(list(values)) / len(values)
    scope["math"] = _PintMath()
    scope["sum"] = lambda values: _pint_sum(list(values))
    rebuilt = types.FunctionType(function.__code__, scope, function.__name__, None, function.__closure__)
    rebuilt.__kwdefaults__ = {
        name: units.Quantity(value, RELATIONS[function.__name__].parameters[name].unit)
        for name, value in (function.__kwdefaults__ or {}).items()
    }
    return rebuilt


def _pint_sum(values: list[Any]) -> Any:
    return sum(values[1:], start=values[0])


def _dressed(value: Any, unit: str) -> Any:
    if isinstance(value, list):
        return [_dressed(item, unit) for item in value]
    # Temperatures enter as differences in kelvin: a formula that needs the absolute scale says that it is exempt.
    return registry().Quantity(value, unit.replace("degC", "delta_degC"))


@pytest.mark.parametrize("relation", CHECKED)
def test_relation_is_dimensionally_consistent(relation: Relation) -> None:
    """With units on every argument and constant, the body yields the declared unit and the same number."""
    values = samples(relation)
    dressed = {name: _dressed(value, relation.parameters[name].unit) for name, value in values.items()}
    result = _with_units(relation.function)(**dressed)
    plain = relation.function(**values)
    unit = relation.result.unit.replace("degC", "delta_degC")
    found = result if isinstance(result, tuple) else (result,)
    wanted = plain if isinstance(plain, tuple) else (plain,)
    for got, want in zip(found, wanted, strict=True):
        magnitude = got.to(unit).magnitude if hasattr(got, "to") else got
        assert magnitude == pytest.approx(want, rel=1e-9)
