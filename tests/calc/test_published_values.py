"""Every relation against values that somebody else printed."""

import pytest

from published_rows import Row, difference, rows
from waterleaf.calc.quantity import RELATIONS
from waterleaf.calc.sources import SOURCES

ROWS = rows()


def label(row: Row) -> str:
    """The test id names the source, so that a failure reads like a reference."""
    return f"{row.file}-{row.id}-{row.source}-{row.evidence}"


@pytest.mark.parametrize(
    "row",
    [
        pytest.param(row, marks=pytest.mark.xfail(strict=True, raises=AssertionError, reason=row.locus))
        if row.status == "misprint"
        else row
        for row in ROWS
    ],
    ids=[label(row) for row in ROWS],
)
def test_relation_reproduces_the_printed_value(row: Row) -> None:
    """The relation gives the printed value within half of its last digit, or as the row explains."""
    gap, allowed = difference(row)
    assert gap <= allowed, f"{row.relation}({row.inputs}) is off by {gap:g}; {row.tolerance} allowed ({row.locus})"


def test_rows_are_labelled_honestly() -> None:
    """Every row has a known source, kind of evidence and status, and no two rows of a file share an id."""
    for row in ROWS:
        assert row.source in SOURCES, f"{row.file}/{row.id}: unknown source {row.source}"
        assert row.evidence in {"published", "from memory", "computed", "common practice"}, row
        assert row.status in {"holds", "misprint"}, row
        assert row.locus, row
    keys = [(row.file, row.id) for row in ROWS]
    assert len(keys) == len(set(keys)), "two rows of one file share an id"


@pytest.mark.parametrize("name", sorted(name for name, relation in RELATIONS.items() if not relation.procedure))
def test_relation_has_an_outside_check(name: str) -> None:
    """Each relation that yields a number is held by at least one row; tables are compared in their own tests."""
    assert any(row.relation == name and row.status == "holds" for row in ROWS), f"{name} has no row in tests/published"
