"""Formulas and working as the pages show them."""

import re

from waterleaf.site.maths import formula_html, relation_formulas
from waterleaf.working.notation import Piece


def test_chain_of_equations_can_break_at_its_signs() -> None:
    """Each side of a chain is an element of its own, and says its own part aloud."""
    piece = Piece("", "<mi>a</mi><mo>=</mo><mn>1</mn><mo>=</mo><mn>2</mn>", "", "a equals 1 equals 2")
    spoken = re.findall('aria-label="([^"]*)"', formula_html(piece, "m"))
    assert spoken == ["a", "equals 1", "equals 2"]


def test_series_is_not_cut_inside() -> None:
    """A sign inside the list of steps does not cut a formula in two."""
    assert relation_formulas("flush_timetable").count("<math ") == 1


def test_angle_stands_close_to_its_degree_sign() -> None:
    """Other units keep a space that does not break."""
    piece = Piece("", "<mn>4</mn>", "", "4")
    assert '</math>°</span>' in formula_html(piece, "degree")
    assert '</math>&nbsp;m</span>' in formula_html(piece, "m")


def test_unit_stays_with_the_result_before_it() -> None:
    """Only the last side of a chain and its unit are kept on one line."""
    chain = Piece("", "<mi>F</mi><mo>=</mo><mn>1</mn><mo>=</mo><mn>2</mn>", "", "F equals 1 equals 2")
    html = formula_html(chain, "g")
    assert html.count('<span class="wl-unit"><math') == 1
    assert html.index("<mn>1</mn>") < html.index("wl-unit") < html.index("<mn>2</mn>")


def test_sign_before_text_keeps_its_room() -> None:
    """Text counts as space in MathML, so something that does not stands between it and the sign, and only there."""
    mathml = "<mi>F</mi><mo>=</mo><mtext>3.00 kg/day</mtext><mo>=</mo><mn>3000</mn>"
    html = formula_html(Piece("", mathml, "", "daily feed equals 3.00 kg/day equals 3000"), "g/day")
    assert "<mo>=</mo><mi></mi><mtext>3.00" in html
    assert html.count("<mi></mi>") == 1
