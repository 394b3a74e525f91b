"""Plans for the tests of trials, made from the template that a person starts from."""

from importlib.resources import files
from pathlib import Path
from typing import Any

import yaml

from waterleaf.bank.marked_yaml import Marked
from waterleaf.trial.plan import Plan, check_plan
from waterleaf.trial.rehearse import Truth


def plan_data(**changes: Any) -> dict[str, Any]:
    """The template as data, with some fields changed; a field set to None is left out."""
    text = files("waterleaf.trial").joinpath("new_trial.yaml").read_text(encoding="utf-8")
    data: dict[str, Any] = yaml.safe_load(text.replace("{name}", "lettuce-sweetness").replace("{file}", "x.yaml"))
    for field, value in changes.items():
        if value is None:
            data.pop(field, None)
        else:
            data[field] = value
    return data


def plan(**changes: Any) -> Plan:
    """The template as a checked plan, with some fields changed."""
    return check_plan(Marked("plan.yaml", plan_data(**changes), {}))


def write_plan(path: Path, **changes: Any) -> Path:
    """The template as a file, with some fields changed."""
    path.write_text(yaml.safe_dump(plan_data(**changes), sort_keys=False), encoding="utf-8")
    return path


def null_truth(plan: Plan, mean: float) -> Truth:
    """A truth in which no method differs from any other."""
    return Truth(dict.fromkeys(plan.methods, mean), {}, plan.spread.between_units, plan.spread.within_unit)
