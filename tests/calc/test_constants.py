"""Every constant counts: if one is off by one percent, at least one outside check value notices."""

import functools
import importlib
import inspect
import math
import pkgutil
import types
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

import waterleaf.calc
from published_rows import Row, difference, rows
from waterleaf.calc.quantity import RELATIONS, Constant, Relation, cite

OFF = 1.01
MODULES = [
    importlib.import_module(entry.name)
    for entry in sorted(
        pkgutil.walk_packages(waterleaf.calc.__path__, "waterleaf.calc."),
        key=lambda entry: entry.name != "waterleaf.calc.common",
    )
]
CACHES = [thing for module in MODULES for thing in vars(module).values() if hasattr(thing, "cache_clear")]


@dataclass
class Place:
    """A constant, its full name, and every table of names that holds it, so that all can be changed at once."""

    constant: Constant
    name: str
    holders: list[tuple[dict[str, Any], str]] = field(default_factory=list)


def places(modules: list[types.ModuleType]) -> dict[int, Place]:
    """All constants of some modules, by identity: one imported elsewhere by name is the same constant."""
    found: dict[int, Place] = {}
    for module in modules:
        tables = [vars(module)]
        tables += [thing.__kwdefaults__ for thing in _functions(module) if thing.__kwdefaults__]
        for table in tables:
            for name, value in table.items():
                if isinstance(value, Constant):
                    place = found.setdefault(id(value), Place(value, f"{module.__name__}.{name}"))
                    place.holders.append((table, name))
    return found


def _functions(module: types.ModuleType) -> list[types.FunctionType]:
    """The plain functions of a module, without their guards."""
    unwrapped = [inspect.unwrap(thing) for thing in vars(module).values() if callable(thing)]
    return [thing for thing in unwrapped if isinstance(thing, types.FunctionType)]


@functools.cache
def reached(function: types.FunctionType) -> frozenset[int]:
    """Identities of the constants that a function names, or that a function it names reaches."""
    found: set[int] = set()
    seen: set[types.FunctionType] = set()
    waiting = [function]
    while waiting:
        current = waiting.pop()
        if current in seen:
            continue
        seen.add(current)
        named = [current.__globals__.get(name) for name in _names(current.__code__)]
        for thing in [*named, *(current.__kwdefaults__ or {}).values()]:
            for part in _parts(thing):
                if isinstance(part, Constant):
                    found.add(id(part))
                elif callable(part) and isinstance(plain := inspect.unwrap(part), types.FunctionType):
                    waiting.append(plain)
    return frozenset(found)


def _names(code: types.CodeType) -> Iterator[str]:
    yield from code.co_names
    for inner in code.co_consts:
        if isinstance(inner, types.CodeType):
            yield from _names(inner)


def _parts(thing: Any) -> Iterator[Any]:
    """A thing and, if it is a table or a list, what it holds."""
    yield thing
    if isinstance(thing, dict | types.MappingProxyType):
        for value in thing.values():
            yield from _parts(value)
    elif isinstance(thing, list | tuple | set | frozenset):
        for value in thing:
            yield from _parts(value)


@contextmanager
def off_by_a_little(place: Place) -> Iterator[None]:
    """Change one constant everywhere for a while."""
    was = place.constant
    value = was * OFF if was else OFF - 1
    wrong = Constant(value, symbol=was.symbol, unit=was.unit, name=was.name, source=was.source)
    try:
        for table, name in place.holders:
            table[name] = wrong
        _forget()
        yield
    finally:
        for table, name in place.holders:
            table[name] = was
        _forget()


def _forget() -> None:
    for thing in CACHES:
        thing.cache_clear()


def holds(row: Row) -> bool:
    """Whether a row's printed value is reproduced; a refusal or an error is no reproduction."""
    try:
        gap, allowed = difference(row)
    except (ArithmeticError, AssertionError, TypeError, ValueError):
        return False
    return bool(gap <= allowed)


@functools.cache
def good_rows() -> tuple[Row, ...]:
    """The rows that hold as long as nothing is changed."""
    return tuple(row for row in rows() if row.status == "holds" and holds(row))


def unnoticed(found: dict[int, Place], good: Sequence[Row]) -> list[str]:
    """The constants whose change no row notices, of rows that hold as long as nothing is changed."""
    missed = []
    for identity, place in found.items():
        touched = [row for row in good if identity in reached(RELATIONS[row.relation].function)]
        with off_by_a_little(place):
            if all(holds(row) for row in touched):
                missed.append(f"{place.name} = {float(place.constant):g} {place.constant.unit} ({len(touched)} rows)")
    return missed


def test_every_constant_is_held_by_an_outside_value() -> None:
    """One percent more on any constant makes at least one published row fail."""
    missed = unnoticed(places(MODULES), good_rows())
    assert not missed, f"{len(missed)} constants may be wrong without notice:\n" + "\n".join(missed)


def test_constant_that_nothing_uses_is_noticed_as_missing() -> None:
    """The check itself can fail: a constant that no relation names is reported, and put back afterwards."""
    module = types.ModuleType("idle")
    idle = Constant(3.0, symbol="i", unit="", name="idle number", source=cite("arithmetic", "none", "definition"))
    vars(module)["IDLE"] = idle
    assert unnoticed(places([module]), good_rows()) == ["idle.IDLE = 3  (0 rows)"]
    assert vars(module)["IDLE"] is idle


def test_changed_constant_reaches_every_module_that_imported_it() -> None:
    """While a shared constant is changed every module sees the change, and afterwards none does."""
    hundred = next(place for place in places(MODULES).values() if place.name.endswith(".HUNDRED_PERCENT"))
    modules = [module for module in MODULES if hasattr(module, "HUNDRED_PERCENT")]
    assert len(modules) > 2
    with off_by_a_little(hundred):
        assert {float(module.HUNDRED_PERCENT) for module in modules} == {100 * OFF}
    assert {float(module.HUNDRED_PERCENT) for module in modules} == {100.0}


def test_no_constant_hides_inside_a_table() -> None:
    """Constants stand under names of their own, where the check can reach them, not inside lists and tables."""
    hidden = [
        f"{module.__name__}.{name}"
        for module in MODULES
        for name, value in vars(module).items()
        if name not in {"RELATIONS", "LOOKUPS"} and not isinstance(value, Constant)
        and any(isinstance(part, Constant) for part in _parts(value))
    ]
    assert not hidden, f"constants inside tables: {', '.join(hidden)}"


def with_one_number_off(code: types.CodeType) -> Iterator[tuple[float, types.CodeType]]:
    """The code again and again, each time with another of its bare numbers off by a little; whole ones and halves stay,
    since those count or come from the shape of a formula."""
    for position, item in enumerate(code.co_consts):
        before, after = code.co_consts[:position], code.co_consts[position + 1:]
        if isinstance(item, types.CodeType):
            for number, changed in with_one_number_off(item):
                yield number, code.replace(co_consts=(*before, changed, *after))
        elif isinstance(item, float) and math.isfinite(item) and 2 * item != int(2 * item):
            yield item, code.replace(co_consts=(*before, item * OFF, *after))


def unnoticed_numbers(relation: Relation, good: Sequence[Row]) -> list[str]:
    """The bare numbers of a relation's body whose change none of its own rows notices."""
    touched = [row for row in good if row.relation == relation.name]
    function, code = relation.function, relation.function.__code__
    missed = []
    for number, changed in with_one_number_off(code):
        try:
            function.__code__ = changed
            if all(holds(row) for row in touched):
                missed.append(f"{relation.topic}.{relation.name}: {number:g} ({len(touched)} rows)")
        finally:
            function.__code__ = code
    return missed


def test_every_fitted_number_is_held_by_an_outside_value() -> None:
    """A number with a fraction that stands bare in a formula cannot be off by one percent without notice either."""
    formulas = [relation for relation in RELATIONS.values() if not relation.procedure]
    missed = [text for relation in formulas for text in unnoticed_numbers(relation, good_rows())]
    assert not missed, f"{len(missed)} bare numbers may be wrong without notice:\n" + "\n".join(missed)


def test_bare_numbers_of_a_body_are_found() -> None:
    """The search finds fractions, those inside a sum too, and leaves whole numbers and halves alone."""
    def fit(values: list[float]) -> float:
        return 2 * 0.4871 + 0.5 * sum(1.852 * value for value in values)

    numbers = [number for number, _ in with_one_number_off(fit.__code__)]
    assert sorted(numbers) == [0.9742, 1.852]
