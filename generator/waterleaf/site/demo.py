"""Pages about the invented college's own system: what happens if, and the crew's game."""

from collections.abc import Iterator
from functools import partial
from html import escape
from pathlib import Path
from typing import Any, Final

from waterleaf.growing.ahead import NOT_MODELLED, Ahead, air_alone_line, crossing_line, look_ahead, totals
from waterleaf.growing.ahead_figures import alternative, draw, draws, label, told
from waterleaf.growing.report import BEFORE_ACTING
from waterleaf.growing.system import System, read_growing
from waterleaf.growing.term import State
from waterleaf.growing.term_events import read_events
from waterleaf.growing.term_limits import MAINS
from waterleaf.growing.watch import RULES, Decision, Outcome, Watch, eve_lines
from waterleaf.site.plots import FAINT, INK, SERIES, figure, plot
from waterleaf.site.practice import script_text

DAYS: Final = 84
# Each event with the name of its section; days and amounts are chosen so that something can be seen.
SHOWN: Final = (
    ("A missed flush", ("missed-flush:20-29",)),
    ("The pump stops", ("pump-stop:30-31:24 hours",)),
    ("A heat wave", ("heat-wave:40-48:8 C",)),
    ("Too much feed", ("over-feeding:20-29:1.6",)),
    ("Nobody tops up", ("no-top-up:50-54",)),
    ("A late harvest", ("late-harvest:28-40",)),
    ("The base runs out", ("no-base:20-29",)),
    ("A heat wave with half of the feed", ("heat-wave:40-48:8 C", "short-feeding:40-48:0.5")),
)
_SEED: Final = 7
_INVENTED: Final = "School, system and numbers are invented for the course. Do not build from them."


def generated(home: Path) -> Iterator[tuple[str, str]]:
    """Path and text of the pages and scripts."""
    path = home / "course" / "demo" / "growing.yaml"
    system = read_growing(path)
    watch = Watch(system, _SEED)
    yield "system/ahead.md", _ahead_page(system)
    yield "system/watch.md", _watch_page(watch)
    yield "assets/crew-data.js", f"Waterleaf.crew = {script_text(game_data(watch))};\n"


def _ahead_page(system: System) -> str:
    parts = []
    looked = None
    for place, (title, typed) in enumerate(SHOWN):
        ahead = look_ahead(system, DAYS, read_events(typed, DAYS))
        looked = ahead
        parts.append(_section(title, typed, ahead, f"ahead-{place}"))
    assert looked is not None
    assumed = "\n".join(f"- {escape(note)}" for note in looked.reckoning.notes)
    return (
        "# What happens if\n\n"
        f"These are {DAYS} days of {escape(system.file.name)}, worked out day by day: water, nitrogen, phosphorus, "
        "alkalinity, solids, fish and crops. Each figure shows the term as planned and the same term with one thing gone "
        "wrong. The grey band marks the days on which it goes wrong.\n\n"
        f'!!! note "Invented data"\n    {_INVENTED}\n\n'
        f'!!! warning "Take care"\n    {BEFORE_ACTING} {air_alone_line(looked.rates)} {MAINS}\n\n'
        "Look your own system ahead with\n\n"
        "    waterleaf growing ahead growing.yaml --days 84 --if missed-flush:20-29\n\n"
        + "\n".join(parts)
        + f"\n## What the sums leave out\n\n{NOT_MODELLED}\n\n"
        f"## What is assumed\n\nThe file gives no value of its own for these.\n\n{assumed}\n"
    )


def _section(title: str, typed: tuple[str, ...], ahead: Ahead, name: str) -> str:
    lines = [f"## {title}", " ".join(event.told for event in ahead.events)]
    for crossing in ahead.crossed:
        care = f"*Take care.* {escape(crossing.limit.caution)} " if crossing.limit.caution else ""
        lines.append(f"**{escape(crossing_line(crossing))}** {care}{escape(crossing.limit.act)}")
    if not ahead.crossed:
        lines.append("No limit is crossed.")
    changed = [(what, planned, found) for what, planned, found in totals(ahead) if planned != found]
    if changed:
        rows = "\n".join(f"| {what} | {planned} | {found} |" for what, planned, found in changed)
        lines.append(f"| over {DAYS} days | as planned | with this |\n|---|---|---|\n{rows}".replace("$", "&#36;"))
    shown = draws(ahead)
    keys = [key for key in shown if key != "nitrate"][:1] or shown[:1]
    colours = (INK, SERIES[0], SERIES[1], FAINT)
    for key in keys:
        svg = plot(partial(draw, ahead, key, colours), "day", label(ahead, key), size=(4.9, 2.6))
        lines.append(figure(f"{name}-{key}", svg, alternative(ahead, key), f"{told(ahead, key)} Invented data."))
    return "\n\n".join(lines) + "\n"


def _watch_page(watch: Watch) -> str:
    rules = "\n".join(f"| {what} | {cost.replace(' ', '&nbsp;')} |" for what, cost in RULES).replace("$", "&#36;")
    return (
        "# Crew game: keep the watch\n\n"
        f"You keep watch over {escape(watch.system.file.name)} for {watch.last} days. Talk each situation over with "
        "your crew, decide, and see what comes of it. All outcomes were worked out beforehand by the sums of "
        "[What happens if](ahead.md). What a decision leaves behind goes on into the next one; older slips have healed."
        "\n\n"
        f'!!! note "Invented data"\n    {_INVENTED}\n\n'
        f'!!! warning "Take care"\n    {BEFORE_ACTING} {air_alone_line(watch.rates)}\n\n'
        '<div id="wl-crew" class="wl-crew">\n'
        "<p>This game needs JavaScript. The printed booklet needs none: "
        "<code>waterleaf growing watch growing.yaml</code></p>\n</div>\n\n"
        "## What costs points\n\n"
        "Fewer points are better, but they are the rules of a game. In a real system, life and limb come first.\n\n"
        f"| what happens | cost |\n|---|---|\n{rules}\n\n"
        '<link rel="stylesheet" href="../assets/crew.css">\n'
        '<script defer src="../assets/crew-data.js"></script>\n<script defer src="../assets/crew.js"></script>\n'
    )


def game_data(watch: Watch) -> dict[str, Any]:
    """The game as data: every text, and every outcome by the letter of the decision before."""
    decisions = []
    before: dict[str, State | None] = {"": None}
    for decision in watch.decisions:
        by_letter = {letter: watch.outcomes(decision, state) for letter, state in before.items()}
        decisions.append(_decision(watch, decision, by_letter))
        before = {outcome.letter: outcome.end for outcome in watch.outcomes(decision)}
    return {"words": _WORDS, "decisions": decisions}


_WORDS: Final = {
    "day": "Day", "caution": "Take care.", "evening": "Readings of the evening before, if all went as planned:",
    "question": "What do you do?", "decide": "Decide", "choose": "Choose one of the three first.",
    "cost": "Points this costs:", "total": "Points so far:", "next": "Next situation", "end": "See how the watch went",
    "over": "The watch is over", "again": "Play again", "choice": "Choice", "points": "Points",
    "situation": "Situation", "all": "All points",
}  # fmt: skip


def _decision(watch: Watch, decision: Decision, outcomes: dict[str, list[Outcome]]) -> dict[str, Any]:
    situation = decision.situation
    return {
        "day": decision.day, "title": situation.title, "story": decision.said(situation.story),
        "caution": situation.caution, "readings": [list(line) for line in eve_lines(watch.reading(decision))],
        "choices": [
            {"letter": letter, "text": f"{decision.said(choice.text)} ({choice.minutes} min)"}
            for letter, choice in zip("ABC", situation.choices, strict=True)
        ],
        "outcomes": {
            letter: {one.letter: {"points": one.points, "lines": one.lines} for one in found}
            for letter, found in outcomes.items()
        },
    }
