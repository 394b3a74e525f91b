"""The self-check of issued sheets: a link for each, made beforehand on all cores because its hashes are slow."""

import os
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.classwork.packets import batches
from waterleaf.marking.checklink import PAGE, check_links
from waterleaf.marking.issuebook import Issued, IssuedSheet, exercises_of
from waterleaf.marking.portion import families_asked, without_sheets
from waterleaf.marking.tableout import write_csv
from waterleaf.sharing import Hands

LINKS: Final = "self-check.csv"
_AT_ONCE: Final = 5


@dataclass(frozen=True, slots=True)
class _Run:
    """Sheets whose links are made here or by another process."""

    issued: Issued  # without its sheets
    entries: tuple[IssuedSheet, ...]
    bank: Mapping[str, Family]


def sheet_links(
    issued: Issued, entries: Sequence[IssuedSheet], bank: Mapping[str, Family], progress: Callable[[float], None],
    hands: Hands | None = None,
) -> dict[str, tuple[str, ...]]:
    """The links of every sheet by its code; none where the assignment is issued without a self-check.

    Without other hands they are made on a thread for every core: the slow hash runs beside Python.
    """
    found: dict[str, tuple[str, ...]] = {}
    if not issued.site:
        return found
    if hands is None:
        cores = os.cpu_count() or 1
        with ThreadPoolExecutor(cores) as pool:
            return sheet_links(issued, entries, bank, progress, Hands(pool, cores))
    bare, asked = without_sheets(issued), families_asked(issued, bank)
    for made in hands.in_order(_links, (_Run(bare, tuple(run), asked) for run in batches(entries, _AT_ONCE))):
        found |= made
        progress(len(made))
    return found


def _links(run: _Run) -> dict[str, tuple[str, ...]]:
    issued = run.issued
    return {
        entry.code: check_links(
            entry.code, exercises_of(issued, entry, run.bank), issued.site, issued.decimal == "comma", issued.ask_unit
        )
        for entry in run.entries
    }


def printable(links: Mapping[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    """The links that a phone can follow from paper: an address on this computer's own disk is none."""
    return {code: own for code, own in links.items() if not own[0].startswith("file:")}


def write_links(place: Path, entries: Sequence[IssuedSheet], links: Mapping[str, tuple[str, ...]]) -> None:
    """The links as a table, for students who have no camera at hand; without a self-check no table is left behind."""
    path = place / LINKS
    if not links:
        path.unlink(missing_ok=True)
        return
    rows = [[entry.code, entry.student, link] for entry in entries for link in links[entry.code]]
    write_csv(path, ["sheet", "id", "link"], rows)


def report_line(issued: Issued, links: Mapping[str, tuple[str, ...]], wanted: bool) -> str:
    """What became of the self-check, and how to have one."""
    if links:
        how = "a QR code on every sheet" if printable(links) else "no QR code, but a link that"
        return f"  self-check       {how} opens {issued.site}/{PAGE}; all links are in {LINKS}"
    if not wanted:
        return "  self-check       none, as the assignment says"
    return (
        "  self-check       none: write the address of your site into course/settings.yaml, as in "
        "`site: https://school.example/growing`, and run this again"
    )
