"""Families on the way to another process or machine: their fields travel, and are compiled again where they arrive."""

import functools
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from waterleaf.bank.builder import compiled
from waterleaf.bank.family import Family
from waterleaf.bank.marked_yaml import Marked
from waterleaf.bank.models import FamilyFile


def packed(family: Family) -> tuple[Callable[..., Family], tuple[Any, ...]]:
    """How to make the family again from data alone."""
    return unpacked, (family.key, family.topic, family.file, family.own)


def unpacked(key: str, topic: str, file: FamilyFile, own: str) -> Family:
    """The family of these fields; pieces of work that hold the same one share what is compiled of it."""
    return _made(_Sent(key, topic, own, file.model_dump_json(), file))


@dataclass(frozen=True, slots=True)
class _Sent:
    """What came; two are the same if all that is written in them is."""

    key: str
    topic: str
    own: str
    text: str
    file: FamilyFile = field(compare=False)


@functools.lru_cache(maxsize=512)
def _made(sent: _Sent) -> Family:
    family = compiled(sent.file, Marked(f"{sent.key}.yaml", None, {}), sent.key, sent.topic)
    return replace(family, own=sent.own)
