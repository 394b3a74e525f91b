"""Formulas print with the brackets that they need, in all four scripts."""

import ast
import re
import xml.etree.ElementTree as ElementTree

import pytest

from waterleaf.calc.quantity import Quantity
from waterleaf.working.notation import Piece, Printer, Term, Unprintable, math_element, symbol
from waterleaf.working.units import spoken, with_unit, written

NAMES = {name: Term(Quantity(name, "", f"quantity {name}"), 2.0, "2") for name in "abc"}


def printed(text: str) -> Piece:
    """A formula in symbols."""
    piece: Piece = Printer(NAMES, {}).visit(ast.parse(text, mode="eval").body)
    return piece


@pytest.mark.parametrize(
    ("formula", "plain", "typst"),
    [
        ("a - (b - c)", "a − (b − c)", "a - lr(( b - c ))"),
        ("a - (-b)", "a − (−b)", "a - lr(( - b ))"),
        ("a * (b + c)", "a × (b + c)", "a times lr(( b + c ))"),
        ("a / (b * c)", "a / (b × c)", "frac(a, b times c)"),
        ("a / b / c", "a / b / c", "frac(frac(a, b), c)"),
        ("a * (b / c)", "a × (b / c)", "a times frac(b, c)"),
        ("(a + b) ** 2", "(a + b)^2", 'lr(( a + b ))^("2")'),
        ("a ** b ** c", "a^(b^c)", "a^(b^(c))"),
        ("(a ** b) ** c", "(a^b)^c", "lr(( a^(b) ))^(c)"),
        ("-a ** 2", "−a^2", '- a^("2")'),
        ("(-a) ** 2", "(−a)^2", 'lr(( - a ))^("2")'),
        ("a + -b", "a + (−b)", "a + lr(( - b ))"),
    ],
)
def test_brackets_stand_where_the_meaning_needs_them(formula: str, plain: str, typst: str) -> None:
    """The printed line has the same meaning as the code."""
    piece = printed(formula)
    assert piece.plain == plain
    assert piece.typst == typst


@pytest.mark.parametrize("formula", ["a / (b - c)", "sqrt(a + b)", "a ** 2 / (b + c) ** 3", "max(a, b)"])
def test_mathml_is_well_formed_and_speaks(formula: str) -> None:
    """The element parses as XML and carries its spoken text."""
    element = ElementTree.fromstring(math_element(printed(formula)).replace("&nbsp;", " "))
    assert element.tag == "math"
    assert element.attrib["aria-label"].startswith(("quantity", "the"))


@pytest.mark.parametrize(
    ("formula", "said"),
    [
        ("a if b else c", "a formula cannot hold IfExp: a if b else c"),
        ("[a]", "a formula cannot hold List: [a]"),
        ("a.b", "a formula cannot hold Attribute: a.b"),
        ("lambda: a", "a formula cannot hold Lambda: lambda: a"),
        ("a and b", "a formula cannot hold BoolOp: a and b"),
        ("unknown + a", "unknown is neither an argument, a named step nor a constant of the module"),
        ("open(a)", "a formula cannot hold Call: open(a)"),
    ],
)
def test_shapes_without_a_rule_are_refused(formula: str, said: str) -> None:
    """Only what can be printed may stand in a relation; what cannot is named."""
    with pytest.raises(Unprintable, match=re.escape(said)):
        printed(formula)


def test_symbols_of_several_letters_stand_upright() -> None:
    """A product of letters and a name of several letters cannot be confused."""
    assert symbol(Quantity("FCR", "", "ratio")).typst == 'upright("FCR")'
    assert symbol(Quantity("bar x_1", "", "mean")).plain == "mean(x)_1"


@pytest.mark.parametrize(
    ("unit", "text", "words"),
    [
        ("g/m^2/day", "g/m²/day", "grams per square metre per day"),
        ("m^3", "m³", "cubic metres"),
        ("percent/day", "%/day", "percent per day"),
        ("degBx", "°Brix", "degrees Brix"),
        ("", "", ""),
    ],
)
def test_units_are_written_and_spoken(unit: str, text: str, words: str) -> None:
    """A unit prints as a grower writes it and is spoken in words."""
    assert written(unit) == text
    assert spoken(unit) == words


def test_money_leads_with_its_sign() -> None:
    """A price is $12.50, not 12.50 $."""
    assert with_unit("12.50", "dollar") == "$12.50"
    assert with_unit("12.50", "dollar/m^2") == "$12.50 per m²"


@pytest.mark.parametrize(
    ("number", "shown"), [("10.5", "$10.50"), ("763.0", "$763.00"), ("0.975", "$0.975"), ("12", "$12")]
)
def test_tenths_of_a_dollar_are_written_in_cents(number: str, shown: str) -> None:
    """Nobody writes $10.5 on a price tag; whole dollars, cents and finer rates stand as they are."""
    assert with_unit(number, "dollar") == shown
    assert with_unit(number, "dollar/hour") == f"{shown} per hour"
