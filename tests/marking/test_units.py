"""What the judge understands as a unit."""

import importlib
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waterleaf.marking import vocabulary
from waterleaf.marking.expected import converted
from waterleaf.marking.messages import MESSAGES
from waterleaf.marking.units import DIMENSIONS, PURE, Unit, read_unit, table, tokens
from waterleaf.working.units import EXTRA_DEFINITIONS, convert, registry, written

SPELLED = {
    "g/m^2/day": [
        "g/m²/day", "g/m2/day", "g/m^2/d", "g per m2 per day", "g m-2 d-1", "g·m⁻²·d⁻¹", "g/(m² day)", "g/(m²·day)",
        "grams per square metre per day", "gram/sq m/day", "grammes a day per square meter", "g/sqm/day",
        "g m^-2 day^-1",
        "g of feed / m² / day", "g daily per sq. meter", "g/m**2/day", "g × m⁻² × d⁻¹",
    ],
    "L/min": ["L/min", "l/min", "L min-1", "lpm", "LPM", "liters per minute", "litres a minute", "ltr/min", "ℓ/min"],
    "gallon/min": ["gal/min", "gpm", "GPM", "gallons per minute", "US gal/min", "U.S. gallons / minute"],
    "kg/day": ["kg/day", "kg a day", "kilos per day", "kg/d", "kg each day", "kg every day", "kilos daily", "kg d⁻¹"],
    "degC": ["°C", "deg C", "degrees Celsius", "C", "º C", "℃", "centigrade", "deg. C"],
    "percent": ["%", "percent", "per cent", "pct", "％"],
    "percent/day": ["% per day", "%/d", "% daily", "percent of body weight a day"],
    "dollar/m^2": ["$/m²", "dollars per square metre", "USD/m2", "US$ per sq m", "$ m-2"],
    "dollar/m^2/week": ["dollars per m2 per week", "$/m²/wk", "$/week/m²"],
    "lb/ft^2/day": ["lb/ft2/day", "lbs per square foot per day", "pounds/sq ft/day", "lb/sf/day", "lb/sqft/d"],
    "hour": ["hours", "hrs", "hr", "h", "Hours", "H"],
    "degBx": ["Brix", "°Bx", "°Brix", "deg Brix", "brix", "% Brix"],
    "m^3": ["m3", "m³", "cubic metres", "cu m", "cubic meter", "cbm", "metres cubed", "kL"],
    "ft^3": ["cubic feet", "cu ft", "ft3", "cu. ft.", "cuft", "feet cubed"],
    "": ["", "fish", "plants", "heads", "meals", "bags", "kg/kg", "of feed", "plants per bed"],
    "umol/m^2/s": ["µmol/m²/s", "μmol m⁻² s⁻¹", "umol/m2/s", "micromoles per square metre per second"],
    "kWh": ["kWh", "kwh", "KWH", "kilowatt-hours", "kW h", "kW·h"],
}


@pytest.mark.parametrize(
    ("unit", "spelling"), [(unit, spelling) for unit, many in SPELLED.items() for spelling in many]
)
def test_spellings_of_a_unit_agree(unit: str, spelling: str) -> None:
    """British and American words, plurals, symbols and powers all lead to the unit that pint has."""
    found = read_unit(spelling)
    assert found.fault == ""
    size = (1.0 * registry().parse_expression("delta_degC" if unit == "degC" else unit or "count")).to_base_units()
    assert found.factor == pytest.approx(float(size.magnitude), rel=1e-12)
    assert {name: power for name, power in zip(DIMENSIONS, found.dims, strict=True) if power} == {
        name: power for name, power in size.dimensionality.items() if power
    }


@pytest.mark.parametrize(("text", "fault", "word"), [
    ("foo", "unknown_unit", "foo"), ("kg/foo", "unknown_unit", "foo"), ("constructor", "unknown_unit", "constructor"),
    ("__proto__", "unknown_unit", "__proto__"), ("k", "unknown_unit", "k"), ("gperday", "unknown_unit", "gperday"),
    ("kg CO2", "unknown_unit", "CO"), ("tons", "which_ton", "tons"), ("g/m² day", "unit_order", ""),
    ("g/m²·day", "unit_order", ""), ("g/(m² (day)", "unit_shape", ""), ("kg)", "unit_shape", ""),
    ("kg/", "unit_shape", ""),
    ("/ / day", "unit_shape", ""), ("* per day", "unit_shape", ""), ("m^9", "unit_shape", ""),
    ("m0", "unit_shape", ""),
    ("square", "unit_shape", ""), ("square per m", "unit_shape", ""), ("kg ^2", "", ""), ("^2", "unit_shape", ""),
    ("kg 5", "two_numbers", ""), ("kg * 5", "two_numbers", ""), ("g/0 g", "unit_shape", ""), ("kg/8", "unit_shape", ""),
    ("kg/100/day", "unit_shape", ""), ("kg per 100 per day", "unit_shape", ""),
    ("kg per 100 m²", "", ""),
    ("m/ 3 square", "unit_shape", ""),
    ("kg" + "/kg" * 9, "unit_shape", ""), ("m " * 30, "unit_shape", ""), ("square 5", "two_numbers", ""),
])
def test_what_is_no_unit_is_said(text: str, fault: str, word: str) -> None:
    """A text that is no unit names its fault, and the word at fault where there is one."""
    found = read_unit(text)
    assert (found.fault, found.word) == (fault, word)
    assert not fault or fault in MESSAGES


@pytest.mark.parametrize(("text", "shown"), [
    ("grams per sq m per day", "g/m²/day"), ("gpm", "gal/min"), ("kg per gpm", "kg/(gal/min)"),
    ("g/100 g", "g/100 g"),
    ("per day", "/day"), ("kW h", "kW·h"), ("kg daily", "kg/day"), ("m-3", "/m³"), ("umol", "µmol"), ("Fish", "fish"),
    ("$ each", "$"), ("gpm squared", "(gal/min)²"), ("kg/1000 L", "kg/1000 L"), ("degC", "°C"), ("", ""),
])
def test_units_are_written_back_in_one_way(text: str, shown: str) -> None:
    """However a unit was typed, the echo writes it as the sheets do."""
    assert read_unit(text).shown == shown


def test_temperature_has_a_zero_only_when_it_stands_alone() -> None:
    """Degrees in a rate are differences, so their zero plays no part."""
    assert read_unit("°C").offset == 273.15
    assert read_unit("°F").offset == pytest.approx(459.67 / 1.8, rel=1e-15)
    assert read_unit("K").offset == 0.0
    assert read_unit("°C/h").offset is None
    assert read_unit("delta_degC").offset is None
    assert read_unit("kg").offset is None


def test_case_matters_only_where_it_must() -> None:
    """Capitals are forgiven, except where they make another unit."""
    assert read_unit("KG").factor == read_unit("kg").factor
    assert read_unit("mJ").factor != read_unit("MJ").factor
    assert read_unit("mj").factor == read_unit("MJ").factor
    assert read_unit("s").dims != read_unit("S").dims
    assert read_unit("K").dims == read_unit("°C").dims


def test_growers_meaning_of_ppm_stands_beside_the_plain_one() -> None:
    """Parts per million are a share, and in water milligrams per litre."""
    found = read_unit("ppm per day")
    water = read_unit("mg/L/day")
    assert found.factor == pytest.approx(1e-6 / 86400)
    assert found.dims[DIMENSIONS.index("[mass]")] == 0
    assert found.twin == (water.factor, water.dims)
    assert read_unit("%").twin is None


def test_vague_degrees_are_marked_as_such() -> None:
    """Degrees alone are an angle, with a question kept ready in case that does not fit."""
    found = read_unit("degrees")
    assert (found.dims, found.vague) == (PURE, "which_degrees")
    assert read_unit("°C").vague == ""


@pytest.mark.parametrize("word", sorted(tokens()))
def test_every_word_is_worth_something(word: str) -> None:
    """Each known word has a finite size above nought, a dimension vector and a written form."""
    token = tokens()[word]
    assert math.isfinite(token.factor)
    assert token.factor > 0
    assert len(token.dims) == len(DIMENSIONS)
    assert token.shown
    assert read_unit(token.shown.replace("imperial gal", "imp gal")).factor == pytest.approx(token.factor, rel=1e-12)


def test_lists_of_words_do_not_contradict_each_other() -> None:
    """A word is a unit, a filler or a word of the grammar, never two of these."""
    grammar = {*vocabulary.PER, *vocabulary.PREFIX_POWERS, *vocabulary.SUFFIX_POWERS}
    fillers = vocabulary.FILLERS.split(", ")
    counted = vocabulary.COUNTED.split(", ")
    spelled = [word for _, _, spellings in vocabulary.SPELLINGS for word in spellings.split(", ")]
    for words in (fillers, counted, spelled):
        assert len(words) == len(set(words))
    assert not grammar & {*fillers, *tokens()}
    assert not {*fillers} & {*tokens()}
    assert not {*counted} & {*spelled}
    assert {*vocabulary.WATER_TWINS} <= {*spelled}
    assert {*vocabulary.VAGUE.values()} <= {*MESSAGES}


@pytest.mark.parametrize("line", EXTRA_DEFINITIONS)
def test_units_of_the_trade_are_known(line: str) -> None:
    """Every unit that the kit adds to pint can be typed in an answer, or is a multiple of one that can."""
    name = line.split(" = ")[0]
    if name in ("eq",):  # met as meq only
        name = f"m{name}"
    assert read_unit(name).fault == ""


def test_units_of_every_relation_can_be_typed() -> None:
    """What a relation is measured in is understood, as the code writes it and as the sheets print it."""
    relations = importlib.import_module("waterleaf.calc.quantity").RELATIONS.values()
    importlib.import_module("waterleaf.calc")  # loads every topic
    units = {quantity.unit for relation in relations for quantity in [*relation.parameters.values(), relation.result]}
    read = {unit: (read_unit(unit), read_unit(written(unit))) for unit in sorted(units)}
    assert not [unit for unit, (typed, printed) in read.items() if typed.fault or not alike(typed, printed)]


def alike(one: Unit, other: Unit) -> bool:
    """Whether two units measure the same in the same size."""
    return not other.fault and one.dims == other.dims and math.isclose(one.factor, other.factor, rel_tol=1e-12)


@pytest.mark.parametrize(("value", "unit", "into"), [
    (50.0, "gallon", "L"), (3.5, "lb/ft^2/day", "g/m^2/day"), (12.0, "dollar/m^2", "dollar/ft^2"),
    (18.0, "kWh", "MJ"),
    (2.0, "inch", "mm"), (5.0, "percent", ""), (7.0, "degC", "degF"), (-40.0, "degF", "degC"), (26.5, "degC", "K"),
])
def test_conversion_agrees_with_the_sheets(value: float, unit: str, into: str) -> None:
    """The judge and the worksheets turn units into each other by the same amounts."""
    target = read_unit(into)
    found = converted(value, read_unit(unit), target.factor, target.offset)
    assert found == pytest.approx(convert(value, unit, into), rel=1e-11)


def test_difference_of_temperatures_ignores_the_zeros() -> None:
    """Where either side is a difference, only the size of a degree counts."""
    assert converted(9.0, read_unit("°F"), read_unit("delta_degC").factor, None) == pytest.approx(5.0)


pieces = st.sampled_from(
    ["g", "m", "day", "kg", "fish", "%", "2", "²", "^-1", "-2", "/", " per ", " ", "(", ")", "*", "100 ", "sq "]
)


@given(text=st.lists(pieces, max_size=12).map("".join) | st.text(max_size=30))
def test_any_text_is_a_unit_or_has_a_fault(text: str) -> None:
    """No text raises; what is understood is written back as something that means the same."""
    found = read_unit(text)
    if found.fault:
        assert found.fault in MESSAGES
        return
    again = read_unit(found.shown)
    assert again.fault == "" or "100 " in text or "(" in found.shown
    if not again.fault:
        assert again.dims == found.dims
        assert again.factor == pytest.approx(found.factor, rel=1e-9)


def test_table_is_plain_data() -> None:
    """The exported table holds nothing but text, numbers, lists and objects."""

    def plain(value: Any) -> bool:
        if isinstance(value, dict):
            return all(isinstance(name, str) and plain(item) for name, item in value.items())
        if isinstance(value, list):
            return all(map(plain, value))
        return value is None or isinstance(value, bool | int | float | str)

    assert plain(table())
