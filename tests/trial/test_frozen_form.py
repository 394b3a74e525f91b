"""The file of a frozen plan says its form: an older one is read, a newer one is refused."""

import json
from pathlib import Path
from typing import Any

import pytest
from trial_plans import plan, write_plan

from waterleaf.faults import Faults
from waterleaf.trial.frozen import freeze, frozen_path, thaw


@pytest.fixture
def frozen(tmp_path: Path) -> Path:
    """A plan file with its frozen plan beside it."""
    path = write_plan(tmp_path / "p.yaml")
    freeze(plan(), path, "2026-03-02")
    return path


def change(path: Path, **fields: Any) -> None:
    """The frozen plan with some fields changed; None takes one away."""
    file = frozen_path(path)
    data = json.loads(file.read_text(encoding="utf-8")) | fields
    file.write_text(json.dumps({name: value for name, value in data.items() if value is not None}), encoding="utf-8")


def test_a_frozen_plan_says_its_form(frozen: Path) -> None:
    """Format and version stand at its head."""
    data = json.loads(frozen_path(frozen).read_text(encoding="utf-8"))
    assert list(data)[:2] == ["format", "version"]
    assert (data["format"], data["version"]) == ("waterleaf-frozen-plan", 1)


def test_a_frozen_plan_without_a_version_is_read(frozen: Path) -> None:
    """The first ones were written so."""
    change(frozen, format=None, version=None)
    found = thaw(frozen)
    assert found is not None
    assert found.intact


def test_a_frozen_plan_of_a_newer_kit_is_refused(frozen: Path) -> None:
    """One line says which form it is and which is known, and the file stays."""
    change(frozen, version=2)
    before = frozen_path(frozen).read_bytes()
    for look in (thaw, lambda path: freeze(plan(), path, "2026-03-02")):
        with pytest.raises(Faults, match=r"was frozen by a newer kit .version 2"):
            look(frozen)
    assert frozen_path(frozen).read_bytes() == before


@pytest.mark.parametrize("fields", [{"format": "letter"}, {"version": "1"}, {"version": 0}, {"version": [1]}])
def test_another_form_is_no_frozen_plan(frozen: Path, fields: dict[str, Any]) -> None:
    """It is refused as one that cannot be read."""
    change(frozen, **fields)
    with pytest.raises(Faults, match="not a frozen plan that can be read"):
        thaw(frozen)
