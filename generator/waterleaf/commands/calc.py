"""`waterleaf calc`: one quantity of the course, with its working and its source."""

import json
from dataclasses import asdict, is_dataclass
from typing import Any

from waterleaf.calc import TOPICS
from waterleaf.calc.quantity import RELATIONS, OutOfRange, Relation
from waterleaf.calc.sources import SOURCES
from waterleaf.commands import options
from waterleaf.faults import nearest, refuse
from waterleaf.working import figures
from waterleaf.working.notation import Term
from waterleaf.working.steps import Working, work
from waterleaf.working.units import convert, with_unit, written


def list_relations(as_json: bool = False) -> str:
    """All relations by topic, each with its one-line meaning."""
    if as_json:
        return json.dumps({name: {"topic": r.topic, "meaning": r.summary} for name, r in RELATIONS.items()}, indent=2)
    widest = max(len(name) for name in RELATIONS)
    lines: list[str] = []
    for topic in TOPICS:
        lines += ["", topic] + [f"  {n:<{widest}}  {r.summary}" for n, r in RELATIONS.items() if r.topic == topic]
    return "\n".join(lines[1:])


def calculate(name: str, words: list[str], into: str | None, *, steps: bool, source: bool, as_json: bool) -> str:
    """The value of a relation for typed arguments, as text or JSON."""
    if name not in RELATIONS:
        raise refuse(
            "calc", f"there is no relation of this name.{nearest(name, RELATIONS)} See `waterleaf calc --list`.", name
        )
    relation = RELATIONS[name]
    if source and not words:
        return "\n".join(_described(relation))
    worked = _worked(relation, words)
    unit = relation.result.unit
    if into is not None:
        try:
            unit = options.unit_typed(into, relation.result.unit)
        except ValueError as error:
            raise refuse("--in", str(error)) from None
    value = _converted(worked.value, relation.result.unit, unit)
    if as_json:
        return _as_json(relation, worked, value, unit)
    lines = []
    if steps:
        lines += [f"{term.quantity.name} {_shown_given(term)}" for _, term in worked.given]
        lines += [f"  {step.line.plain} {written(step.quantity.unit)}".rstrip() for step in worked.steps]
    lines.append(_shown(value, unit) if not steps else f"{relation.result.name}: {_shown(value, unit)}")
    if source:
        lines += ["", *_described(relation)]
    return "\n".join(lines)


def _worked(relation: Relation, words: list[str]) -> Working:
    """The relation worked out for what was typed. Raises Faults for values that are missing or cannot be used."""
    given = options.values(words, relation.parameters)
    missing = [key for key in relation.parameters if key not in given and key not in relation.defaults]
    if missing:
        wanted = "; ".join(
            f"{key} ({relation.parameters[key].name}, {relation.parameters[key].unit or 'pure number'})"
            for key in missing
        )
        raise refuse("calc", f"values are missing: {wanted}. Add them as name=number unit.", relation.name)
    try:
        return work(relation.name, given, figures_shown=6)
    except (OutOfRange, ZeroDivisionError) as error:
        sources = ", ".join(SOURCES[c.key].short for c in relation.sources)
        message = "these values leave nothing to divide by." if isinstance(error, ZeroDivisionError) else str(error)
        raise refuse("calc", f"{message} ({sources})", relation.name) from None


def _as_json(relation: Relation, worked: Working, value: Any, unit: str) -> str:
    data = {
        "relation": relation.name,
        "value": _data(value),
        "unit": unit,
        "given": {key: {"value": _data(term.value), "unit": term.quantity.unit} for key, term in worked.given},
        "steps": [{"line": step.line.plain, "unit": step.quantity.unit} for step in worked.steps],
        "sources": [{"key": c.key, "locus": c.locus, "status": c.status} for c in relation.sources],
    }
    return json.dumps(data, ensure_ascii=False, indent=2)


def _converted(value: Any, unit: str, into: str) -> Any:
    if unit == into or not isinstance(value, int | float | tuple):
        return value
    return (
        tuple(_converted(item, unit, into) for item in value)
        if isinstance(value, tuple)
        else convert(value, unit, into)
    )


def _shown_given(term: Term) -> str:
    """A given as the first line of the working has it, so that the two are one number."""
    unit = term.quantity.unit
    return with_unit(term.text, unit) if isinstance(term.text, str) else _shown(term.value, unit)


def _shown(value: Any, unit: str) -> str:
    if isinstance(value, list | tuple):
        if value and is_dataclass(value[0]):
            return "\n".join(
                "  ".join(f"{k} {_cell(v)}" for k, v in _fields(row).items() if v is not None) for row in value
            )
        return ", ".join(_shown(item, unit) for item in value)
    return with_unit(_cell(value), unit)


def _cell(value: Any) -> str:
    return (
        figures.plain(float(value), 6) if isinstance(value, int | float) and not isinstance(value, bool) else str(value)
    )


def _fields(row: Any) -> dict[str, Any]:
    fields: dict[str, Any] = asdict(row)
    return fields


def _data(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return asdict(value)
    return [_data(item) for item in value] if isinstance(value, list | tuple) else value


def _described(relation: Relation) -> list[str]:
    lines = [f"{relation.name}: {relation.summary}", "Values:"]
    for name, q in relation.parameters.items():
        note = f" (if left out: {relation.defaults[name]:g})" if name in relation.defaults else ""
        lines.append(f"  {name}: {q.name}, {written(q.unit) or 'pure number'}{note}")
    if relation.empirical:
        lines.append(f"A fit to data: {relation.empirical}.")
    lines.append("Sources:")
    lines += [f"  {SOURCES[c.key].full} {c.locus} ({c.status})" for c in relation.sources]
    return lines
