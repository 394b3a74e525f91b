"""What the bank promises to a class: keys rest on what was read or computed, slips and lessons are really there."""

import re
from pathlib import Path
from typing import Any

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.bank.lessons import places_that_are_not_there
from waterleaf.calc import TOPICS
from waterleaf.calc.quantity import RELATIONS, Constant
from waterleaf.proof import check_family, coverage

ROOT = Path(__file__).parents[2]
BANK = load_bank(ROOT / "question_bank")
FAMILIES = [pytest.param(family, id=key) for key, family in BANK.items()]


def constants_behind(name: str) -> dict[str, Constant]:
    """Constants that a relation uses, itself or through the functions that it calls."""
    found: dict[str, Constant] = {}
    waiting: list[Any] = [RELATIONS[name].function]
    seen = set()
    while waiting:
        function = waiting.pop()
        if function in seen:
            continue
        seen.add(function)
        codes = [function.__code__]
        while codes:
            code = codes.pop()
            codes += [part for part in code.co_consts if hasattr(part, "co_names")]
            for used in code.co_names:
                thing = function.__globals__.get(used)
                if isinstance(thing, Constant):
                    found[used] = thing
                elif hasattr(thing, "__code__") and getattr(thing, "__module__", "").startswith("waterleaf.calc"):
                    waiting.append(getattr(thing, "__wrapped__", thing))
    return found


@pytest.mark.parametrize("family", FAMILIES)
def test_no_key_rests_on_a_remembered_constant(family: Family) -> None:
    """A number that nobody has read or computed may not decide a mark."""
    for part in family.parts.values():
        if part.relation is None:
            continue
        for name, constant in constants_behind(part.relation.name).items():
            assert constant.source.status != "memory", f"{part.name}: {name} is from memory"


@pytest.mark.parametrize("family", FAMILIES)
def test_family_has_slips_that_point_at_the_lesson(family: Family) -> None:
    """At least three wrong turns a family, counting wrong options, each with a heading that its lesson has."""
    options = [option for part in family.file.parts.values() for option in part.options if option.say]
    assert len(family.slips) + len(options) >= 3
    assert places_that_are_not_there(family, ROOT / "course") == []


@pytest.mark.parametrize("family", FAMILIES)
def test_family_is_sound_over_some_draws(family: Family) -> None:
    """The same proof as `waterleaf bank check`, on fewer draws."""
    finding = check_family(family, 25)
    assert dict(finding.faults) == {}


def test_bank_covers_every_topic_and_level() -> None:
    """Sixty families or more, three or more a topic, and every level is met in each group of topics."""
    assert len(BANK) >= 60
    found = coverage(BANK)
    for topic in TOPICS:
        assert sum(found[topic].values()) >= 3, topic
    assert sum(sum(found[topic].values()) for topic in ("sugar", "taste", "claims")) >= 12
    assert sum(sum(found[topic].values()) for topic in ("feed", "solids")) >= 8
    for level in (1, 2, 3):
        assert sum(levels[level] for levels in found.values()) >= 12


def test_stories_do_not_all_start_alike() -> None:
    """No frame is used ten times: openings differ, and so do the people."""
    openings = [" ".join(re.sub(r"\{\{.*?\}\}", "X", family.file.story).split()[:4]) for family in BANK.values()]
    assert max(openings.count(opening) for opening in openings) <= 2
    names = {name for family in BANK.values() for name in family.file.words.get("name", [])}
    assert len(names) >= 60
