"""Printed working can be followed with a pocket calculator, for every relation and all values."""

import math
import re
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from strategies import arguments_of
from waterleaf.calc.quantity import RELATIONS, OutOfRange, Relation
from waterleaf.working import figures
from waterleaf.working.steps import Step, formula_lines, work

FORMULAS = [pytest.param(relation, id=name) for name, relation in sorted(RELATIONS.items()) if not relation.procedure]
_CALCULATOR = {
    "π": math.pi,
    "sqrt": math.sqrt,
    "exp": math.exp,
    "ln": math.log,
    "log10": math.log10,
    "abs": abs,
    "ceil": math.ceil,
    "floor": math.floor,
    "radians": math.radians,
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
    "max": max,
    "min": min,
}


def calculated(line: str) -> float:
    """What a pocket calculator gives for a printed line of numbers."""
    for sign, key in (("×", "*"), ("−", "-"), ("^", "**"), ("√(", "sqrt(")):
        line = line.replace(sign, key)
    line = re.sub(r"\bmean\b|Σ", "", line)
    return float(eval(line, {"__builtins__": {}}, _CALCULATOR))


def agrees(step: Step) -> bool:
    """The printed numbers give the printed result, to the figures shown."""
    return figures.plain(calculated(step.substituted.plain), step.figures) == step.result


@pytest.mark.parametrize("relation", FORMULAS)
@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(data=st.data())
def test_every_printed_step_follows_from_its_printed_numbers(relation: Relation, data: st.DataObject) -> None:
    """Typing a printed line into a calculator gives the printed result."""
    values: dict[str, Any] = data.draw(arguments_of(relation))
    try:
        result = relation.checked(**values)
    except (OutOfRange, ZeroDivisionError, ValueError, OverflowError):
        assume(False)
    assume(not isinstance(result, float) or (math.isfinite(result) and (result == 0 or 1e-9 < abs(result) < 1e12)))
    try:
        worked = work(relation.name, values, figures_shown=4, longest=1000)
    except (ZeroDivisionError, ValueError):
        assume(False)  # a rounded difference came out as zero; no sheet prints such a draw
    for step in worked.steps:
        assert agrees(step), f"{relation.name}({values}): {step.line.plain}"


def stands_alone(symbol: str, text: str) -> bool:
    """Whether a symbol stands in a formula as one, and not as letters of another."""
    return re.search(rf"(?<![^\W\d_]){re.escape(symbol)}(?![^\W\d_])", text) is not None


@pytest.mark.parametrize("relation", FORMULAS)
def test_formula_alone_names_every_argument(relation: Relation) -> None:
    """The formula in symbols uses the symbol of each argument, so nothing that matters is hidden."""
    printed = " ".join(line.plain for line in formula_lines(relation.name))
    for name, quantity in relation.parameters.items():
        base = quantity.symbol.removeprefix("bar ").split("_")[0]
        # Readings may stand under their count alone.
        symbols = (base, "n") if quantity.many else (base,)
        assert any(stands_alone(own, printed) for own in symbols), f"{name} ({quantity.symbol}) is not in {printed}"


def test_steps_carry_the_subscript_of_the_group_they_belong_to() -> None:
    """A relation called twice shows which group each line is about."""
    worked = work("welch_t", {"first": [5.0, 6.0, 7.0], "second": [4.0, 5.0, 7.0]})
    symbols = [step.quantity.symbol for step in worked.steps]
    assert "s_1" in symbols
    assert "s_2" in symbols
    assert len(symbols) == len(set(symbols)), "a line is shown twice"


def test_long_sums_are_shortened_but_end_as_they_should() -> None:
    """A sum of many readings shows its first and last terms only."""
    worked = work("mean_reading", {"readings": [float(i) for i in range(1, 13)]}, longest=6)
    assert "1 + 2 + … + 12" in worked.steps[0].line.plain
    assert worked.text == "6.5"


def test_given_texts_are_printed_as_the_sheet_has_them() -> None:
    """A reading of 5.0 stays 5.0 in the working."""
    worked = work("mean_reading", {"readings": [5.0, 6.0]}, texts={"readings": ("5.0", "6.0")})
    assert worked.steps[0].line.plain == "mean(x) = Σ x / n = (5.0 + 6.0) / 2 = 5.5"
