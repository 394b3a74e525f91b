"""The invented demo trial goes the whole way."""

from pathlib import Path

from waterleaf.commands.trial import read_trial, report_trial
from waterleaf.trial.frozen import differences, thaw
from waterleaf.trial.plan import load_plan
from waterleaf.trial.planning import examine

DEMO = Path(__file__).parents[2] / "course" / "demo"


def test_the_demo_trial_is_sound_and_says_that_it_is_invented(tmp_path: Path) -> None:
    """Frozen, unchanged, strong enough for its own wish; its planted faults are found and its readings used."""
    path, data = DEMO / "trial-lettuce.yaml", DEMO / "trial-lettuce-rehearsal.csv"
    plan = load_plan(path)
    assert "invented" in path.read_text(encoding="utf-8").splitlines()[0]
    assert differences(thaw(path), plan) == []
    answers = examine(plan)
    assert answers.power is not None and answers.power >= plan.power
    text, clean = read_trial(path, data)
    assert not clean
    for found in (
        "89 of 90 readings",
        "decimal comma",
        "2 times, all alike",
        "far from the others",
        "no usable reading",
    ):
        assert found in text
    said, _ = report_trial(path, data, tmp_path / "r.html", None)
    assert "invented" in (tmp_path / "r.html").read_text(encoding="utf-8")
    assert "sweeter" not in said.partition("May not be said:")[0]
