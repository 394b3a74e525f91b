"""Figures of a look ahead: what was read day by day, as planned and with what goes wrong, with the limit."""

import io
import logging
import re
from collections.abc import Callable
from typing import Any, Final

from waterleaf.growing.ahead import Ahead
from waterleaf.growing.finding import both
from waterleaf.working import figures
from waterleaf.working.units import with_unit, written

# Colours of text and limit, of the plan, of the term with its events, and of faint lines.
Colours = tuple[str, str, str, str]
_PAPER: Final[Colours] = ("#16323a", "#1f6f78", "#8a3b12", "#9db8bb")
# Inches: as wide as a phone's page, and half a page of paper, so that letters keep their size there.
_SIZE: Final = (3.7, 2.2)
_NAMES: Final = {
    "oxygen": "oxygen", "harmful": "harmful ammonia", "ph": "pH", "warmth": "water", "suspended": "suspended solids",
    "cone": "filling of the cone", "alkalinity": "alkalinity", "nitrate": "nitrate nitrogen",
    "nitrite": "nitrite nitrogen",
    "level": "water lacking",
}  # fmt: skip


def draws(ahead: Ahead) -> list[str]:
    """What is worth a figure: every limit that is crossed, and nitrate, which every term is about."""
    crossed = [crossing.limit.key for crossing in ahead.crossed]
    moved = [
        limit.key for limit in ahead.limits
        if max(abs(limit.read(a) - limit.read(b)) for a, b in zip(ahead.term.days, ahead.plan.days, strict=True))
        > 0.2 * abs(limit.value)
    ]
    return list(dict.fromkeys([*crossed, *moved, "nitrate"]))


def draw(ahead: Ahead, key: str, colours: Colours, axes: Any) -> None:
    """One reading over the term, into a set of axes."""
    ink, water, warm, faint = colours
    limit = next(limit for limit in ahead.limits if limit.key == key)
    for event in ahead.events:
        axes.axvspan(event.first - 0.5, event.last + 0.5, color=faint, alpha=0.35, linewidth=0)
    days = [reading.day for reading in ahead.plan.days]
    axes.plot(days, [limit.read(reading) for reading in ahead.plan.days], "--", color=water, label="as planned")
    if ahead.events:
        axes.plot(days, [limit.read(reading) for reading in ahead.term.days], "-", color=warm, label="with the events")
    bound = with_unit(figures.plain(limit.value, 3), limit.unit)
    axes.axhline(limit.value, color=ink, linewidth=1, linestyle=":", label=f"limit {bound}")
    axes.set_xlim(1, max(2, len(days)))
    if key != "ph":
        axes.set_ylim(bottom=0)
    axes.legend(loc="best", fontsize="small", frameon=False)


def label(ahead: Ahead, key: str) -> str:
    """What the upright axis says."""
    limit = next(limit for limit in ahead.limits if limit.key == key)
    return f"{_NAMES[key]} ({written(limit.unit)})" if limit.unit else _NAMES[key]


def told(ahead: Ahead, key: str) -> str:
    """What a figure shows, in a sentence: how far a reading goes, when, and whether that is past its limit."""
    limit = next(limit for limit in ahead.limits if limit.key == key)
    farthest = max if limit.above else min
    planned, found = (farthest(term.days, key=limit.read) for term in (ahead.plan, ahead.term))
    worst, usual, bound = (
        both(value, limit.unit) for value in (limit.read(found), limit.read(planned), limit.value)
    )
    word = "highest" if limit.above else "lowest"
    crossed = any(crossing.limit.key == key for crossing in ahead.crossed)
    standing = f"{'past' if crossed else 'inside'} the limit of {bound}"
    beside = f"; as planned {usual}" if ahead.events else ""
    return f"{limit.title}: {word} {worst} on day {found.day}, {standing}{beside}."


def alternative(ahead: Ahead, key: str) -> str:
    """A figure in words."""
    limit = next(limit for limit in ahead.limits if limit.key == key)
    planned, found = ([limit.read(reading) for reading in term.days] for term in (ahead.plan, ahead.term))
    span = f"from {figures.plain(min(planned), 3)} to {figures.plain(max(planned), 3)}"
    more = f", with the events from {figures.plain(min(found), 3)} to {figures.plain(max(found), 3)}"
    return f"{told(ahead, key)} Over {len(planned)} days as planned {span}{more if ahead.events else ''}."


def paper_figure(ahead: Ahead, key: str) -> str:
    """A figure for paper, letters as outlines; the same bytes every time."""

    def fill(axes: Any) -> None:
        draw(ahead, key, _PAPER, axes)
        axes.set_xlabel("day")
        axes.set_ylabel(label(ahead, key))

    return _svg(key, fill)


def _svg(name: str, fill: Callable[[Any], None]) -> str:
    import matplotlib as mpl

    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # the first run would tell of its font cache
    mpl.use("svg")
    from matplotlib.figure import Figure

    ink = _PAPER[0]
    settings: Any = {
        "svg.fonttype": "path", "svg.hashsalt": "waterleaf", "font.size": 9, "axes.edgecolor": ink,
        "axes.labelcolor": ink, "xtick.color": ink, "ytick.color": ink, "text.color": ink,
        "axes.spines.top": False, "axes.spines.right": False,
    }  # fmt: skip
    with mpl.rc_context(settings):
        canvas = Figure(figsize=_SIZE, layout="constrained")
        fill(canvas.add_subplot())
        out = io.StringIO()
        canvas.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    drawn = out.getvalue()
    return re.sub(r'(id="|href="#|url\(#)', rf"\g<1>{name}-", drawn[drawn.index("<svg") :])
