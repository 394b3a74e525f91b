"""A family file that makes no sense is refused kindly: file, line, field, what was found, what is accepted."""

from pathlib import Path
from typing import Any

import pytest
import yaml

from sound_family import SOUND, changed
from waterleaf.bank.builder import build, load_bank, load_family
from waterleaf.bank.marked_yaml import parse
from waterleaf.faults import Faults

BANK = Path(__file__).parents[2] / "question_bank"


def faults_of(data: Any) -> list[str]:
    """Messages about a family with this data."""
    text = yaml.safe_dump(data, sort_keys=False, allow_unicode=True) if not isinstance(data, str) else data
    try:
        build(parse(text.encode(), "question_bank/feed/try.yaml"), "feed/try", "feed")
    except Faults as error:
        return [str(fault) for fault in error.faults]
    return []


def test_the_sound_family_is_accepted() -> None:
    """The other tests change one thing in a file that has no fault."""
    assert faults_of(SOUND) == []


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("title", None, "title: this field is missing"),
        ("titel", "Feed", "titel: this field is not known here. Did you mean title?"),
        ("level", 4, "level: 4"),
        ("given.bed_area.to", 4, "to (4) is below from (6). Swap the two."),
        ("given.bed_area.step", 0, "step: 0"),
        ("given.bed_area.step", 0.00000001, "more than a million steps"),
        ("given.bed_area.unit", "furlongs^", "is not a unit"),
        ("given.bed_area.unit", "kg", "does not measure the same as m^2"),
        ("given.bed_area.us", {"unit": "lb"}, "lb does not measure the same as m^2"),
        ("parts.feed.relation", "dayly_feed", "is no relation of the calc module. Did you mean daily_feed"),
        ("parts.feed.unit", "kg", "does not measure the same as g/day"),
        ("parts.feed.with", {"bed_aera": "bed_area"}, "daily_feed has no argument 'bed_aera'. Did you mean bed_area"),
        (
            "parts.feed.with",
            {"bed_area": "bedarea"},
            "'bedarea' is neither a given nor an earlier part. Did you mean bed_area",
        ),
        ("parts.feed.tolerance", "about right", "is not a tolerance"),
        ("parts.feed.tolerance", "50 %", "too wide to tell right from wrong"),
        ("parts.feed.figures", None, "give either figures or decimals"),
        ("parts.feed.between", [6000, 300], "the first number is above the second"),
        ("slips.0.value", "__import__('os')", "is not"),
        ("slips.0.value", "().__class__", "is not allowed"),
        ("slips.0.value", "2 ** 99999999", "Pow"),
        ("slips.0.value", "[x for x in bed_area]", "is not allowed"),
        ("slips.0.of", "fead", "'fead' is no part. Did you mean feed?"),
        ("slips.0.see", "somewhere", "is not a place in a lesson"),
        ("slips", [], "slips"),
        ("only_if", ["bed_area <"], "is not an expression"),
        ("story", "{{ bed_aera }}", "no given and no word has this name. Did you mean bed_area"),
        ("story", "{% for i in bed_area %}x{% endfor %}", "only {{ name }} can stand in a story"),
        ("story", "{{ bed_area.__class__ }}", "only a name can stand in double braces"),
        ("story", "{{ 'x' * 1000000000 }}", "only a name can stand in double braces"),
        ("story", "{{ bed_area", "line 1 of the text"),
        ("source.key", "nobody1999", "is no known source"),
        ("lesson", "feed", "is not a place in a lesson"),
        ("table", {"caption": "x", "columns": {"A": "bed_area"}}, "'bed_area' is not a set of readings"),
    ],
)
def test_a_fault_is_named_with_its_field_and_mend(path: str, value: Any, said: str) -> None:
    """One thing wrong gives a message that says what and where."""
    found = faults_of(changed(path, value))
    assert found, f"{path} = {value!r} was accepted"
    assert any(said in fault for fault in found), found
    assert all(fault.startswith("question_bank/feed/try.yaml:") for fault in found), found


def test_all_faults_are_told_at_once() -> None:
    """An instructor mends a file in one go, not in five."""
    data = changed("parts.feed.relation", "nothing")
    data["slips"][0]["of"] = "nowhere"
    data["source"]["key"] = "nobody"
    data["lesson"] = "?"
    assert len(faults_of(data)) == 4


def test_a_fault_points_at_its_line() -> None:
    """The line of the field, not of the file's start."""
    text = yaml.safe_dump(changed("source.key", "nobody"), sort_keys=False)
    line = next(i for i, content in enumerate(text.splitlines(), start=1) if "key: nobody" in content)
    assert faults_of(text)[0].startswith(f"question_bank/feed/try.yaml:{line}: source.key")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a: [1, 2", "not valid YAML"),
        ("a: 1\na: 2", "stands twice"),
        ("a: &x [1]\nb: *x", "anchors and aliases"),
        ("a: !!python/object:os.system x", "tags"),
        ("", "empty"),
        ("a: " + "[" * 40 + "]" * 40, "nested more than"),
        ("x" * 70_000, "too many"),
        ("\x00", "not valid YAML"),
    ],
)
def test_yaml_that_is_broken_or_tricky_is_refused(text: str, said: str) -> None:
    """Broken files, bombs and tags end in one line."""
    with pytest.raises(Faults, match=said):
        parse(text.encode(), "file.yaml")


def test_bytes_that_are_no_text_are_refused() -> None:
    """A picture renamed to .yaml is not read as one."""
    with pytest.raises(Faults, match="not UTF-8"):
        parse(b"\xff\xfe\x00", "file.yaml")


def test_yaml_guesses_are_limited_to_numbers_and_truth() -> None:
    """6:30 and no are texts here, and a quoted number stays a text."""
    assert parse(b"a: 6:30\nb: no\nc: 1_000\nd: 0x1F\ne: '7'\nf: 1.50\ng: true", "f").data == {
        "a": "6:30",
        "b": "no",
        "c": "1_000",
        "d": "0x1F",
        "e": "7",
        "f": 1.5,
        "g": True,
    }


def test_an_unknown_topic_folder_is_refused(tmp_path: Path) -> None:
    """Families live in folders named for topics."""
    folder = tmp_path / "bank" / "gardening"
    folder.mkdir(parents=True)
    (folder / "x.yaml").write_text("version: 1")
    with pytest.raises(Faults, match="is no topic"):
        load_family(folder / "x.yaml", tmp_path / "bank")


def test_the_whole_bank_loads() -> None:
    """Every family of the kit is without fault, and there are at least three for each topic that has any."""
    bank = load_bank(BANK)
    assert len(bank) >= 9
    for topic in {family.topic for family in bank.values()}:
        assert sum(family.topic == topic for family in bank.values()) >= 3, topic
