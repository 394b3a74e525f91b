"""The pages on which students practise: one for each family, the round across topics, and what the device keeps.

Each page names the scripts that it needs in its front matter; the theme loads them in that order, and no others.
"""

import json
from collections.abc import Iterable
from html import escape
from typing import Any, Final

from waterleaf.bank.family import Family, System
from waterleaf.calc import TOPICS
from waterleaf.calc.sources import SOURCES
from waterleaf.site import practice

JUDGE: Final = ("characters", "reading", "units", "judge", "letters", "judge-tables")
_KEEPING: Final = ("catalogue", "progress", "memory")
_WORKING: Final = (*JUDGE, *_KEEPING, "widgets", "sets", "exercise")
PRACTICE: Final = (*_WORKING, "practice")
ROUND: Final = (*_WORKING, "choosing", "round")
OVERVIEW: Final = (*_KEEPING, "widgets", "record", "overview")
LESSON: Final = (*_KEEPING, "record", "lesson")
_NEEDS_SCRIPT: Final = "<p>This page needs JavaScript to look at your answers. The printed worksheets need none.</p>"


def scripts(names: Iterable[str]) -> list[str]:
    """Paths of scripts inside the course."""
    return [f"assets/{name}.js" for name in names]


def with_scripts(names: Iterable[str], text: str) -> str:
    """A page that asks for scripts."""
    return f"---\nscripts: {json.dumps(scripts(names))}\n---\n\n{text}"


def catalogue(families: Iterable[Family]) -> str:
    """The script that tells pages which exercises there are, in the order of the course."""
    ordered = sorted(families, key=lambda f: (TOPICS.index(f.topic), f.file.level))
    held = {family.topic for family in ordered}
    data: dict[str, Any] = {
        "sets": practice.SETS,
        "in_a_file": practice.IN_A_FILE,
        "topics": [[topic, topic.capitalize()] for topic in TOPICS if topic in held],
        "exercises": [_listed(family) for family in ordered],
    }
    return f"window.Waterleaf = window.Waterleaf || {{}};\nWaterleaf.catalogue = {practice.script_text(data)};\n"


def _listed(family: Family) -> dict[str, Any]:
    lesson, _, heading = family.file.lesson.partition("#")
    return {
        "key": family.key, "title": family.file.title, "topic": family.topic, "level": family.file.level,
        "lesson": f"{lesson}/index.html#{heading}",
    }


def family_page(family: Family, units: System) -> str:
    """The frame of a family's page; its sets are loaded by script, out of the way of Markdown."""
    file = family.file
    caution = f'!!! warning "Take care"\n    {family.caution}\n\n' if family.caution else ""
    lesson, _, heading = file.lesson.partition("#")
    return with_scripts(
        PRACTICE,
        f"# {file.title}\n\n{file.goal} Read about it in [the lesson](../{lesson}/index.md#{heading}).\n\n{caution}"
        f'<div class="wl-practice" data-family="{escape(family.key)}" data-units="{units}">\n{_NEEDS_SCRIPT}\n</div>\n\n'
        f"{_facts_from(file.source.key, file.source.locus)}\n{{ .wl-source }}\n",
    )


def _facts_from(key: str, locus: str) -> str:
    place = f"{locus[0].upper()}{locus[1:]}."
    # A rule of thumb has no author, no year and no title.
    return f"Common practice, no source: {locus}." if key == "trade" else f"Facts from {SOURCES[key].full} {place}"


def round_page(units: System) -> str:
    """The page of the round across topics."""
    return with_scripts(
        ROUND,
        "# A practice round\n\n"
        "A round mixes the topics that you tick, one exercise after the other. Mixing is harder than one topic at a time. "
        "It also trains you to see which idea a question needs.\n\n"
        "**What comes when.** An exercise that you miss comes back after 3 others, then after 8, then after 1, 3, 7 and "
        "21 days; one that you get right at once starts at 3 days. When none is due, you get a new one from the topic you "
        "have met least, the easiest first.\n\n"
        "Missed means that an answer was wrong, or that you took a hint or the working first. An answer that cannot be "
        "read, or that only lacks its unit, costs nothing. A wait for others ends the next day at the latest.\n\n"
        f'<div class="wl-practice" id="wl-round" data-units="{units}">\n{_NEEDS_SCRIPT}\n</div>\n\n'
        "What this device has kept so far stands on [Your practice](record.md).\n",
    )


def overview_page() -> str:
    """The page with what the device keeps."""
    return with_scripts(
        OVERVIEW,
        "# Your practice\n\n"
        f'<div class="wl-overview" id="wl-overview">\n{_NEEDS_SCRIPT}\n</div>\n\n'
        "**On a shared computer.** Whoever uses this browser after you sees the same page. Save your record as JSON, take "
        "it with you, and clear your practice here. Some browsers may keep a memory of its own for each page that is opened "
        "from a folder. If your work on other pages does not show here, try another browser, or ask for the address of "
        "the course on the school's server.\n{ .wl-controls }\n",
    )
