"""The crew's game on paper: a booklet of situations and outcomes, and a key for the instructor."""

from typing import Any, Final

from waterleaf.growing.ahead import NOT_MODELLED, air_alone_line
from waterleaf.growing.report import BEFORE_ACTING
from waterleaf.growing.watch import RULES, Decision, Outcome, Watch, best, eve_lines
from waterleaf.sheets.paper import Style, packet_head

HOW: Final = (
    "Read a situation aloud. Each of the crew says what they would do, and why, before anybody turns a page. Agree on "
    "one choice, and write its letter into the table. Then look up the outcome by its number and letter. Write down "
    "the points that it costs. Take the next situation. In the end, say which points you would pay again, and why."
)
FAIR: Final = (
    "Every outcome is worked from the term as planned, from the day of the decision to the day before the next one. "
    "What an earlier slip leaves behind is not carried over. Fewer points are better, but they are the rules of a "
    "game. In a real system, life and limb come before any points."
)


def booklet(watch: Watch, style: Style) -> dict[str, Any]:
    """Data of the booklet that the crew gets."""
    return {
        **_head(watch, style, "Crew game"), "key": False, "how": HOW, "fair": FAIR, "rules": [list(r) for r in RULES],
        "decisions": [_situation(watch, decision) for decision in watch.decisions],
        "outcomes": [
            [_card(outcome) for outcome in watch.outcomes(decision)] for decision in watch.decisions
        ],
    }  # fmt: skip


def instructors_key(watch: Watch, style: Style) -> dict[str, Any]:
    """Data of the key: every choice in numbers, the choice that loses least, and what was assumed."""
    rows, worst, least = [], 0, 0
    for decision in watch.decisions:
        outcomes = watch.outcomes(decision)
        least += best(outcomes).points
        worst += max(outcome.points for outcome in outcomes)
        rows += [_row(outcome, outcome is best(outcomes)) for outcome in outcomes]
    return {
        **_head(watch, style, "Key to the crew game"), "key": True, "rows": rows, "rules": [list(r) for r in RULES],
        "range": f"Fewest points that can be lost: {least}. Most: {worst}.", "fair": FAIR,
        "notes": [
            {
                "title": f"{decision.number} {decision.situation.title}, day {decision.day}",
                "lines": [f"{o.letter}: {o.points} points. {' '.join(o.lines)}" for o in watch.outcomes(decision)],
                "acts": _acts(watch, decision),
            }
            for decision in watch.decisions
        ],
        "left_out": NOT_MODELLED, "assumed": list(watch.reckoning.notes),
    }  # fmt: skip


def _head(watch: Watch, style: Style, kind: str) -> dict[str, Any]:
    return {
        **packet_head(style, kind), "title": f"{kind}: {watch.system.file.name}", "note": watch.system.file.note or "",
        "seed": str(watch.seed), "days": str(watch.last), "care": BEFORE_ACTING,
        "air": air_alone_line(watch.rates),
    }


def _situation(watch: Watch, decision: Decision) -> dict[str, Any]:
    situation = decision.situation
    return {
        "number": str(decision.number), "day": str(decision.day), "title": situation.title,
        "story": decision.said(situation.story), "caution": situation.caution,
        "readings": [list(line) for line in eve_lines(watch.reading(decision))],
        "choices": [
            [letter, decision.said(choice.text), f"{choice.minutes} min"]
            for letter, choice in zip("ABC", situation.choices, strict=True)
        ],
    }


def _card(outcome: Outcome) -> dict[str, Any]:
    return {
        "code": f"{outcome.decision.number}{outcome.letter}", "points": str(outcome.points), "lines": outcome.lines,
        "text": outcome.decision.said(outcome.choice.text),
    }


def _row(outcome: Outcome, least: bool) -> list[str]:
    numbers = (
        outcome.stress, outcome.hazard, f"{outcome.still:g}", f"{outcome.water:.0f}", f"{outcome.nitrogen:.0f}",
        f"{outcome.harvest:.0f}", f"{outcome.growth:.1f}", outcome.choice.minutes, outcome.points,
    )  # fmt: skip
    code = f"{outcome.decision.number}{outcome.letter}"
    texts = [_signed(str(number)) for number in numbers]
    return [f"{code} least" if least else code, *texts]


def _signed(text: str) -> str:
    """A number with a true minus sign, and none before a nought."""
    return text.removeprefix("-") if not text.strip("-0.") else text.replace("-", "−")


def _acts(watch: Watch, decision: Decision) -> list[str]:
    """What to say about the limits that a choice crosses."""
    told = " ".join(line for outcome in watch.outcomes(decision) for line in outcome.told)
    return [
        f"{limit.title}: {limit.act} {limit.caution}".strip() for limit in watch.limits if f"{limit.title}:" in told
    ]
