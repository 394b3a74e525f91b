"""What is wrong in a file that a person wrote is said in plain words, whichever file it is."""

from typing import Any

import pytest
from pydantic import BaseModel

from sound_family import changed
from waterleaf.bank.marked_yaml import Marked
from waterleaf.bank.models import FamilyFile
from waterleaf.bank.places import place_of
from waterleaf.bank.validation import validated
from waterleaf.classwork.paperplan import PaperPlan
from waterleaf.faults import Faults
from waterleaf.growing.model import GrowingFile
from waterleaf.home import Settings
from waterleaf.marking.assignment import Assignment
from waterleaf.marking.classfile import ClassFile
from waterleaf.marking.practical import Practical
from waterleaf.trial.plan import Plan

MODELS = [FamilyFile, Assignment, PaperPlan, Practical, Settings, Plan, ClassFile, GrowingFile]
# Words of a checking library, not of a person.
STRANGE = (
    "Input", "should", "String", "Tuple", "dictionary", "valid ", "^[", "instance of", "parse", "one number.", "[key]",
    "list[", "float", "Value error",
)
SPOILT: tuple[Any, ...] = (
    None, True, -1, 2.5, 1e300, float("inf"), "", "?", "x" * 5000, [], {}, [None], [{}], ["?"], {"?": 1}, {"a": {}},
    {"Bed Area": {"from": "x", "step": 0}}, [{"levels": [{}], "marks": {"?": {"method": "one"}}}],
)


def faults_of(data: Any, model: type[BaseModel]) -> list[str]:
    """What is said about data that do not fit a model."""
    try:
        validated(Marked("a.yaml", data, {}), model)
    except Faults as error:
        return [str(fault) for fault in error.faults]
    return []


@pytest.mark.parametrize("model", MODELS)
def test_every_field_of_every_file_is_refused_in_plain_words(model: type[BaseModel]) -> None:
    """Each field in turn as nothing, text, number, list and group: accepted, or refused without a library's words."""
    for name, field in model.model_fields.items():
        for value in SPOILT:
            for said in faults_of({field.alias or name: value}, model):
                assert not any(word in said for word in STRANGE), said
                assert said.endswith((".", "?")), said


@pytest.mark.parametrize(("path", "value", "said"), [
    ("given.bed_area.from", "six", "given.bed_area.from: 'six' is not a number. Give one from"),
    ("given.bed_area.stepp", 1, "stepp: this field is not known here. Did you mean step? Fields here are from, to"),
    ("given.Bed Area", {}, "Use small letters, digits and underscores, a letter first,"),
    ("given.Bed Area", {}, "Such as bed_area."),
    ("parts.feed.relation", [], "parts.feed.relation: a list is not a text. Write one here."),
    ("parts.feed.pick", {"row": 1.5, "column": "x"}, "parts.feed.pick.row: 1.5 is not "),
    ("parts.feed.figures", 9, "parts.feed.figures: 9 is out of range. Give a number from 1 to 6."),
    ("parts.feed.between", [6], "parts.feed.between: this takes two numbers. Write them as [1, 12]."),
    ("slips.0.only", "imperial", "slips.0.only: 'imperial' is not known here. Give metric or us."),
    ("source", 7, "source: 7 stands alone; its own fields belong under it"),
])
def test_a_field_deep_in_a_family_is_named_as_it_stands_in_the_file(path: str, value: Any, said: str) -> None:
    """Neither the shape of a given nor the sort of value that was tried is a step of the path."""
    found = faults_of(changed(path, value), FamilyFile)
    assert any(said in fault for fault in found), found


@pytest.mark.parametrize("model", MODELS)
def test_a_colon_without_a_name_is_a_field_that_is_not_known(model: type[BaseModel]) -> None:
    """An empty name is one like any other, and not the mark of a kind that has none."""
    assert [said for said in faults_of({"": 1}, model) if "this field is not known here." in said]


def test_a_field_of_two_kinds_is_told_once() -> None:
    """What is neither a list of texts nor a text is one fault, not two."""
    entry = {"id": "a", "name": "A", "accommodations": 5}
    assert len(faults_of({"students": [entry]}, ClassFile)) == 1


def test_a_place_has_the_names_that_are_written_in_the_file() -> None:
    """`from` is a word of the language behind the kit; a person writes it all the same."""
    place = place_of(("given", "bed_area", "one number", "from"), FamilyFile)
    assert place.path == ("given", "bed_area", "from")
    assert place.fields[:3] == ("from", "to", "step")
    assert place.description == "Smallest value that may be drawn."
