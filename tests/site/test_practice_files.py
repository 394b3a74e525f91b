"""The files of drawn sets, and the store that keeps them between builds."""

import json
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.draw import distinct_draws
from waterleaf.exercise import pose
from waterleaf.sharing import shared
from waterleaf.site import practice, store
from waterleaf.site.practice import GAP, practice_files
from waterleaf.site.practice_pages import catalogue

ROOT = Path(__file__).parents[2]
KEY = "feed/daily_feed"


@pytest.fixture(scope="module")
def family() -> Family:
    """A family with a caution, two parts and slips."""
    return load_bank(ROOT / "question_bank", {KEY})[KEY]


def data_of(script: str) -> Any:
    """What a script hands over."""
    assert script.startswith("Waterleaf.take(")
    return json.loads(script.removeprefix("Waterleaf.take(").removesuffix(");\n"))


def filled(data: Any, packed: list[Any]) -> str:
    """A text as the page puts it together."""
    first, *rest = data["patterns"][packed[0]].split(GAP)
    return str(first + "".join(number + text for number, text in zip(packed[1:], rest, strict=True)))


def own(family: Family) -> Family:
    """The family with a value of a school's own in it."""
    area = family.file.given["bed_area"].model_copy(update={"from_": 21.0, "to": 21.0})
    file = family.file.model_copy(update={"given": {**family.file.given, "bed_area": area}})
    return replace(family, file=file, own="own1")


def test_fifty_sets_lie_in_two_files_for_each_system(family: Family) -> None:
    """Four files with twenty-five sets each, in order."""
    files = practice_files(family, 1)
    assert list(files) == [f"assets/sets/{KEY}-{system}-{place}.js" for system in ("metric", "us") for place in (1, 2)]
    found = [data_of(script) for script in files.values()]
    assert [(data["system"], data["from"], len(data["sets"])) for data in found] == [
        ("metric", 0, 25), ("metric", 25, 25), ("us", 0, 25), ("us", 25, 25),
    ]


def test_a_set_reads_as_it_was_posed(family: Family) -> None:
    """Story and questions put together from patterns are those of the drawn exercise."""
    files = practice_files(family, 1, sets=30)
    data = data_of(files[f"assets/sets/{KEY}-us-2.js"])
    posed = pose(list(distinct_draws(family, "practice-1", 30))[27], "us")
    found = data["sets"][2]
    assert filled(data, found["story"]) == posed.story
    assert [filled(data, part["ask"]) for part in found["parts"]] == [part.ask for part in posed.parts]


def test_a_file_brings_the_caution_of_its_family(family: Family) -> None:
    """Wherever a set is shown, the warning can stand before it."""
    data = data_of(practice_files(family, 1, sets=1)[f"assets/sets/{KEY}-metric-1.js"])
    assert family.file.caution is not None
    assert data["caution"] == " ".join(family.file.caution.split())


def test_the_catalogue_follows_the_course(family: Family) -> None:
    """Exercises stand under their topics with the place of their lesson."""
    data = json.loads(catalogue([family]).partition("Waterleaf.catalogue = ")[2].removesuffix(";\n"))
    assert data["topics"] == [["feed", "Feed"]]
    assert data["exercises"][0]["key"] == KEY
    assert data["exercises"][0]["lesson"] == family.file.lesson.replace("#", "/index.html#")
    assert (data["sets"], data["in_a_file"]) == (practice.SETS, practice.IN_A_FILE)


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Keys of the families whose files are really made, one set each."""
    made: list[str] = []

    def make(family: Family, seed: int) -> dict[str, str]:
        made.append(family.key)
        return practice_files(family, seed, sets=1)

    monkeypatch.setattr(practice, "practice_files", make)
    return made


def test_a_second_build_takes_the_files_from_the_store(family: Family, counted: list[str], tmp_path: Path) -> None:
    """What has not changed is not made again, and is the same."""
    first = store.practice_scripts(ROOT, {KEY: family}, 1, tmp_path)
    assert store.practice_scripts(ROOT, {KEY: family}, 1, tmp_path) == first
    assert counted == [KEY]


def test_another_seed_makes_other_files(family: Family, counted: list[str], tmp_path: Path) -> None:
    """A seed has sets of its own, and the old ones leave the store."""
    first = store.practice_scripts(ROOT, {KEY: family}, 1, tmp_path)
    assert store.practice_scripts(ROOT, {KEY: family}, 2, tmp_path) != first
    assert len(counted) == 2
    assert len(list(tmp_path.iterdir())) == 1


@pytest.mark.parametrize("text", ["", "{", "[]", "7"])
def test_a_damaged_store_is_made_afresh(family: Family, counted: list[str], tmp_path: Path, text: str) -> None:
    """Half a file, or another kind of data, is not used."""
    first = store.practice_scripts(ROOT, {KEY: family}, 1, tmp_path)
    next(tmp_path.iterdir()).write_text(text, encoding="utf-8")
    assert store.practice_scripts(ROOT, {KEY: family}, 1, tmp_path) == first
    assert len(counted) == 2


def test_own_numbers_reach_the_practice_sets(family: Family, counted: list[str], tmp_path: Path) -> None:
    """A family posed with a school's own numbers is not served from the store of the drawn one."""
    store.practice_scripts(ROOT, {KEY: family}, 1, tmp_path)
    found = store.practice_scripts(ROOT, {KEY: own(family)}, 1, tmp_path)
    data = data_of(found[f"assets/sets/{KEY}-metric-1.js"])
    assert "21.0\u00a0m²" in filled(data, data["sets"][0]["story"])
    assert len(counted) == 2


def test_own_numbers_survive_the_way_to_another_process(family: Family) -> None:
    """What a process makes of a family that was sent to it is what the family makes."""
    posed = own(family)
    with shared("2") as hands:
        (made,) = hands.in_order(partial(practice_files, seed=1), [posed])
    assert made == practice_files(posed, 1)
