"""The headings of the lessons, and the families that point at one that is not there."""

import re
from pathlib import Path
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.faults import nearest

_HEADING: Final = re.compile(r"^#+ (.+)$", re.MULTILINE)


def headings(text: str) -> list[str]:
    """The names under which a lesson's headings can be linked to, in their order."""
    from markdown.extensions.toc import slugify  # what the site's builder names them by

    return [slugify(heading, "-") for heading in _HEADING.findall(text)]


def places(family: Family) -> list[str]:
    """Every place in a lesson that a family points at."""
    options = [option for part in family.file.parts.values() for option in part.options]
    pointed = [family.file.lesson, *(slip.file.see for slip in family.slips), *(o.see for o in options if o.see)]
    return list(dict.fromkeys(pointed))


def places_that_are_not_there(family: Family, course: Path) -> list[str]:
    """A sentence for each place of a family that the lessons in the folder `course` do not have."""
    found = []
    for place in places(family):
        topic, _, heading = place.partition("#")
        path = course / topic / "index.md"
        known = headings(path.read_text(encoding="utf-8")) if path.exists() else []
        if not known:
            found.append(f"{place}: there is no lesson {topic}")
        elif heading not in known:
            found.append(f"{place}: the lesson has no such heading.{nearest(heading, known)}")
    return found
