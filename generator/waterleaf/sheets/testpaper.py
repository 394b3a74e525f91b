"""Test papers: a cover block and questions with room, for students who share a few parallel papers."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from waterleaf.marking.issuebook import IssuedSheet
from waterleaf.sheets.paper import Style, packet_head


@dataclass(frozen=True, slots=True)
class Cover:
    """What the head of every paper says."""

    minutes: int
    date: str
    instructions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Copy:
    """One student's copy of a paper."""

    entry: IssuedSheet
    name: str
    section: str = ""
    seat: str = ""


def packet_of_papers(
    copies: Sequence[Copy], printed: Mapping[str, dict[str, Any]], look: Mapping[str, Any], cover: Cover
) -> dict[str, Any]:
    """Data of a packet; `printed` holds the questions of each paper by its name, `look` the head and the sizes."""
    return {
        **look, "kind": "Test paper", "minutes": cover.minutes, "date": cover.date,
        "instructions": list(cover.instructions),
        "sheets": [
            {
                **printed[copy.entry.paper], "code": copy.entry.code, "name": copy.name, "paper": copy.entry.paper,
                "section": copy.section, "seat": copy.seat,
            }
            for copy in copies
        ],
    }


def matching_page(
    style: Style, lead: str, headings: Sequence[str], rows: Sequence[Sequence[Any]], papers: Sequence[str],
    answers: Sequence[Sequence[str]], dealt: Sequence[Sequence[str]], dealt_how: str, limits: tuple[float, int],
) -> dict[str, Any]:
    """Data of the instructor's page: how the papers match, their answers, and who has which."""
    return {
        **packet_head(style, "Matching"), "lead": lead, "headings": [heading.capitalize() for heading in headings],
        "rows": [[str(cell) for cell in row] for row in rows], "papers": list(papers),
        "answers": [list(row) for row in answers], "dealt": [list(row) for row in dealt], "dealt_how": dealt_how,
        "largest": f"{limits[0]:g}", "figures": str(limits[1]),
    }
