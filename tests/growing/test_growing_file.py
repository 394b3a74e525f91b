"""A growing file is read whole, in any units, and says at once everything that is wrong with it."""

from pathlib import Path

import pytest

from waterleaf.faults import Faults
from waterleaf.growing.facts import ASSUMED, CROP_KINDS, reference
from waterleaf.growing.measures import Measure
from waterleaf.growing.system import System, names, read_growing

ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "course" / "demo" / "growing.yaml"


def written(tmp_path: Path, text: str) -> System:
    """The system in a file with this text."""
    path = tmp_path / "g.yaml"
    path.write_text(text, encoding="utf-8")
    return read_growing(path, "g.yaml")


@pytest.mark.parametrize(
    ("text", "unit", "metric"),
    [
        ("24 m^2", "m^2", 24), ("64 ft^2", "m^2", 5.9457), ("64 ft²", "m^2", 5.9457), ("300 gal", "L", 1135.62),
        ("1.4 m^3", "L", 1400), ("16 gpm", "L/min", 60.567), ("72 F", "degC", 22.222), ("22 °C", "degC", 22),
        ("23F", "degC", -5), ("0.6 Btu/hour/ft^2/F", "W/m^2/K", 3.4069), ("12 in", "m", 0.3048),
        ("40 %", "percent", 40), ("$2.50/head", "dollar/head", 2.5), ("2.50 dollar/head", "dollar/head", 2.5),
        ("25 plants/m^2", "plant/m^2", 25), ("$4.20 per kg", "dollar/kg", 4.2), ("2 lb/day", "g/day", 907.185),
    ],
)
def test_an_amount_may_be_written_in_metric_or_us_units(text: str, unit: str, metric: float) -> None:
    """Each line may have a unit of its own, and comes out in the metric one."""
    assert Measure(unit, -100, 1e6).read(text) == pytest.approx(metric, rel=1e-4)


@pytest.mark.parametrize(
    ("value", "message"),
    [
        (24, "has no unit"), ("24", "has no unit"), ("24 kg", "does not measure the same"), ("24 wibble", "not a unit"),
        ("-3 m^2", "is out of range"), ("many", "does not start with a number"), (True, "no amount"),
        ("1e99 m^2", "is out of range"), (float("nan"), "has no unit"),
    ],
)
def test_an_amount_that_cannot_be_meant_is_refused(value: object, message: str) -> None:
    """No unit, a wrong one, a number out of reach: the message says which."""
    with pytest.raises(ValueError, match=message):
        Measure("m^2", 0.1, 1000).read(value)


def test_the_sample_of_the_course_is_read() -> None:
    """The file that ships with the course is whole, and says that it is invented."""
    system = read_growing(SAMPLE)
    assert "invented" in (system.file.note or "").lower()
    raft = system.get("beds.raft_area")
    assert raft is not None
    assert raft.number == pytest.approx(10 + 64 * 0.09290304)


def test_a_us_file_and_a_metric_file_of_one_system_are_equal(tmp_path: Path) -> None:
    """The unit of a line changes nothing but the line."""
    metric = written(tmp_path, "name: a\npump:\n  flow: 37.85411784 L/min\nfeed:\n  daily: 453.59237 g/day\n")
    us = written(tmp_path, "name: a\npump:\n  flow: 10 gal/min\nfeed:\n  daily: 1 lb/day\n")
    for name in ("pump.flow", "feed.daily", "clarifier.flow"):
        one, other = metric.get(name), us.get(name)
        assert one is not None and other is not None
        assert one.number == pytest.approx(other.number)


BROKEN = """\
name: Bad
tanks:
  - name: a
    diameter: 1.5 m
    depth: 0.8 m
    volume: 9000 L
  - name: a
    volum: 3 L
pump:
  flow: -5 L/min
fish:
  species: blugill
  number: 3.5
beds:
  - name: b
    kind: rafts
    area: 12
  - name: c
    kind: raft
    crop: letuce
    area: 12 kg
feed: 3
measured:
  solid.share: 3 %
  solids.share: 3 kg
"""


def test_every_fault_is_told_at_once_on_its_line(tmp_path: Path) -> None:
    """One line a fault, in the order of the file, each with the line where it stands."""
    with pytest.raises(Faults) as caught:
        written(tmp_path, BROKEN)
    lines = str(caught.value).splitlines()
    assert [int(line.split(":")[1]) for line in lines] == [3, 7, 8, 10, 12, 13, 16, 17, 20, 21, 22, 24, 25]
    for word in ("9000 L cannot be", "stands twice", "Did you mean volume", "Did you mean bluegill", "not a whole",
                 "raft, media, film or soil", "has no unit", "Did you mean lettuce", "solids.share", "-5 L/min"):
        assert word in str(caught.value)


@pytest.mark.parametrize(("text", "said"), [
    ("- a\n- b\n", "1: a file of this kind is fields such as name: value, a line each. Lay a growing file down with "),
    ("name: [1]\n", "1: name: a list is not a text. Write one here."),
    ("nam: x\n", "1: nam: this field is not known here. Did you mean name?"),
    ("name: x\ntanks: 3\n", "2: tanks: 3 is no list."),
    ("name: x\ntanks:\n  name: a\n", "2: tanks: this is a list. Begin each entry with a dash and a space, "),
    ("name: x\ncrops: 4\n", "2: crops: 4 stands alone; its own fields belong under it, "),
])
def test_a_file_of_another_shape_is_refused_in_the_words_of_every_file(tmp_path: Path, text: str, said: str) -> None:
    """Lists for sections, numbers for lists and missing names are faults like any other."""
    with pytest.raises(Faults) as caught:
        written(tmp_path, text)
    assert f"g.yaml:{said}" in str(caught.value)


def test_a_value_of_your_own_takes_the_place_of_an_assumed_one(tmp_path: Path) -> None:
    """What stands under `measured` is given, not assumed."""
    plain, own = written(tmp_path, "name: a\n"), written(tmp_path, "name: a\nmeasured:\n  solids.share: 30 %\n")
    before, after = plain.get("solids.share"), own.get("solids.share")
    assert before is not None and after is not None
    assert (before.origin, before.number) == ("assumed", 25)
    assert (after.origin, after.number) == ("given", 30)


def test_every_assumed_value_has_a_source_and_lies_in_its_own_range() -> None:
    """A value without a source could not be told from an invented one."""
    for name, known in ASSUMED.items():
        assert known.measure.low <= known.value <= known.measure.high, name
        assert len(reference(known.source)) > 20, name


def test_the_flow_of_the_pump_stands_in_for_the_settling_tanks_and_says_so(tmp_path: Path) -> None:
    """A stand-in is listed as assumed."""
    value = written(tmp_path, "name: a\npump:\n  flow: 60 L/min\n").get("clarifier.flow")
    assert value is not None
    assert (value.number, value.origin) == (60, "assumed")


def test_what_is_missing_is_named_down_to_the_field(tmp_path: Path) -> None:
    """The water of the whole loop asks for its parts."""
    lacking = written(tmp_path, "name: a\nsump:\n  volume: 400 L\n").lacking("system.volume")
    assert "tanks*" in lacking
    assert not any(name.startswith("sump") for name in lacking)


def test_names_cover_every_given_and_have_meanings() -> None:
    """Every value of the sample that is not a crop's has a name that is listed, with a meaning."""
    known = names()
    given = {name for name in read_growing(SAMPLE).given if not name.startswith("crops.")}
    assert given <= set(known)
    assert all(meaning for _, meaning in known.values())


def test_crops_known_by_kind_are_spelt_small() -> None:
    """A crop is looked up in small letters."""
    assert all(crop == crop.lower() for crop in CROP_KINDS)
