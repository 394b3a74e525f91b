"""A family file without a fault, and the same with one thing changed."""

from typing import Any

import yaml

from waterleaf.bank.builder import build
from waterleaf.bank.family import Family
from waterleaf.bank.marked_yaml import parse

SOUND: dict[str, Any] = {
    "version": 1,
    "title": "Feed",
    "goal": "Work out feed.",
    "level": 1,
    "lesson": "feed#ratio",
    "story": "The beds cover {{ bed_area }} at {{ feed_ratio }}.",
    "given": {
        "bed_area": {"from": 6, "to": 60, "step": 0.5, "unit": "m^2"},
        "feed_ratio": {"from": 50, "to": 100, "step": 2, "unit": "g/m^2/day"},
    },
    "parts": {
        "feed": {
            "ask": "How much feed?",
            "relation": "daily_feed",
            "unit": "g/day",
            "figures": 3,
            "tolerance": "2 %",
            "because": "A scoop is no finer.",
            "between": [300, 6000],
        }
    },
    "slips": [
        {"of": "feed", "turn": "divided", "value": "bed_area / feed_ratio", "say": "Multiply.", "see": "feed#ratio"},
        {"of": "feed", "turn": "a week", "value": "answer * 7", "say": "One day.", "see": "feed#ratio"},
    ],
    "source": {"key": "rakocy2007", "locus": "guideline 1"},
}


def changed(path: str, value: Any) -> dict[str, Any]:
    """The sound family with one field changed; None takes the field away."""
    data: dict[str, Any] = yaml.safe_load(yaml.safe_dump(SOUND))
    *way, last = path.split(".")
    place: Any = data
    for step in way:
        place = place[int(step)] if step.isdigit() else place[step]
    if value is None:
        del place[last]
    else:
        place[last] = value
    return data


def family_of(data: dict[str, Any]) -> Family:
    """The family that a file with this data makes."""
    text = yaml.safe_dump(data, sort_keys=False)
    return build(parse(text.encode(), "question_bank/feed/try.yaml"), "feed/try", "feed")
