"""Writes down what pint says of the units of the bank and of the judge, so that it need not be loaded for them.

`python -m waterleaf.known_units`, after a family or a relation has got a new unit. Until then that unit costs the time
to load pint, and nothing else.
"""

import itertools
import json
from collections.abc import Iterator, Mapping
from typing import Any

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.bank.models import Given
from waterleaf.home import find_home
from waterleaf.marking import vocabulary
from waterleaf.working import units
from waterleaf.writing import written_whole


def known_units(bank: Mapping[str, Family]) -> dict[str, Any]:
    """What each unit of the bank measures, how they are turned into each other, and how big the judge's units are."""
    together = [set(_units_of(family)) for family in bank.values()]
    judged = {expression for expression, _, _ in vocabulary.SPELLINGS} | {*vocabulary.WATER_TWINS.values(), "count"}
    factors: dict[str, dict[str, float]] = {}
    for unit, into in sorted({pair for few in together for pair in itertools.permutations(few, 2)}):
        if units.measured(unit) == units.measured(into) and not _shifted(unit, into):
            factors.setdefault(unit, {})[into] = units.turned(unit, into)
    return {
        "measures": {unit: dict(units.measured(unit)) for unit in sorted(set().union(*together))},
        "factors": factors,
        "sizes": {unit: _plain(units.weighed(unit)) for unit in sorted(judged)},
    }


def _units_of(family: Family) -> Iterator[str]:
    """The units that stand in a family's file and in its relations."""
    for given in family.file.given.values():
        yield given.unit
        if isinstance(given, Given) and given.us:
            yield given.us.unit
    for part in family.parts.values():
        yield part.file.unit
        if part.file.us:
            yield part.file.us.unit
        if part.relation:
            yield part.relation.result.unit
            yield from (quantity.unit for quantity in part.relation.parameters.values())


def _shifted(*of: str) -> bool:
    """Whether there is a temperature among them, which no factor turns into another."""
    return any(unit in ("degC", "degF", "K") for unit in of)


def _plain(size: units.Size) -> list[Any]:
    return [size.factor, size.zero, dict(size.powers)]


def main() -> None:
    """Write the table anew."""
    table = known_units(load_bank(find_home() / "question_bank"))
    written_whole(units.KNOWN, json.dumps(table, indent=1, sort_keys=True) + "\n")


if __name__ == "__main__":
    main()
