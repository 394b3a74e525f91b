"""A trial on the disk, for the tests of reading and reporting."""

from pathlib import Path

import pytest
from trial_plans import write_plan

from waterleaf.commands.trial import plan_trial, rehearse_trial


@pytest.fixture
def trial(tmp_path: Path) -> Path:
    """A frozen plan with rehearsal data beside it."""
    path = write_plan(tmp_path / "p.yaml")
    plan_trial(path, freeze_it=True, show_layout=False)
    rehearse_trial(path, 3, None)
    return path
