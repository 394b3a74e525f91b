"""Prints what a class gets and what its instructor keeps: packets, separate sheets, key book and answer grid."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeVar

from waterleaf.classwork.issue import Posed
from waterleaf.marking.issuebook import Issued, IssuedSheet
from waterleaf.marking.labels import labelled
from waterleaf.sharing import HERE, Hands
from waterleaf.sheets import paper, press
from waterleaf.sheets.grid import Key, SheetKeys, answer_grid
from waterleaf.sheets.names import name_list
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press, PressFault

Progress = Callable[[float], None]
T = TypeVar("T")

LARGE_PRINT: Final = "16pt"
EXTRA_ROOM: Final = "60mm"
SEPARATE: Final = "separate"
# Few enough that a class of forty keeps both threads of the press busy.
_ALONE_AT_ONCE: Final = 10


@dataclass(frozen=True, slots=True)
class Look:
    """How the sheets of some students are printed."""

    accommodations: tuple[str, ...]

    @property
    def suffix(self) -> str:
        """What tells the packet's file from others."""
        return "".join(f"-{word.replace(' ', '-')}" for word in self.accommodations)

    def document(self, sheets: Sequence[Sheet], style: Style, ask_unit: bool) -> dict[str, Any]:
        """Data of a packet in which every sheet starts on the front of a leaf."""
        data = {**paper.worksheets(sheets, style), "duplex": True}
        if "large print" in self.accommodations:
            data["size"] = LARGE_PRINT
        if "extra space" in self.accommodations:
            data["room"] = EXTRA_ROOM
        if "a3" in self.accommodations:
            data["paper"] = "a3"
        if ask_unit:
            _without_units(data)
        return data


def batches(items: Sequence[T], size: int) -> list[Sequence[T]]:
    """The items in runs of at most `size`."""
    return [items[start : start + size] for start in range(0, len(items), size)]


def _without_units(data: dict[str, Any]) -> None:
    """Leave the unit for the student to write."""
    for sheet in data["sheets"]:
        for item in sheet["items"]:
            for part in item["parts"]:
                if part["unit"] and not part["boxed"]:
                    part["unit"] = ""
                    part["ask"] = f"{part['ask']} Write the unit too."


def printable_names(names: dict[str, str]) -> tuple[dict[str, str], list[str]]:
    """What to print for each student id, and the ids whose names hold a letter that no font of the press has.

    One such letter would stop a whole packet. The id stands in for the name then, or nothing if it has such a letter.
    """
    one = Press("names")

    def fails(texts: Sequence[str]) -> bool:
        try:
            one.pdf(name_list(texts))
        except PressFault:
            return True
        return False

    unprintable = set(_failing(list(names), lambda ids: fails([names[i] for i in ids])))
    shown = {i: i if i in unprintable else name for i, name in names.items()}
    for i in _failing(sorted(unprintable), fails):
        shown[i] = ""
    return shown, [i for i in names if i in unprintable]


def _failing(items: Sequence[str], fails: Callable[[Sequence[str]], bool]) -> Iterator[str]:
    """The items that fail, found by halving."""
    if not items or not fails(items):
        return
    if len(items) == 1:
        yield items[0]
        return
    middle = len(items) // 2
    yield from _failing(items[:middle], fails)
    yield from _failing(items[middle:], fails)


@dataclass(frozen=True, slots=True)
class _Run:
    """Sheets that are printed in one go, here or by another process: into one file, or each into one of its own."""

    files: tuple[str, ...]
    posed: Posed
    entries: tuple[IssuedSheet, ...]
    style: Style
    look: Look
    ask_unit: bool


def print_packets(
    issued: Issued, entries: Sequence[IssuedSheet], posed: Posed, style: Style, place: Path, progress: Progress,
    hands: Hands = HERE,
) -> list[Path]:
    """One packet for each look, and every sheet in a file of its own, named by its code."""
    (place / SEPARATE).mkdir()
    looks: dict[Look, list[IssuedSheet]] = {}
    for entry in entries:
        looks.setdefault(Look(entry.accommodations), []).append(entry)
    runs: list[_Run] = []
    for look, own in looks.items():
        for files, part in runs_of_files(own, f"packet{look.suffix}", [entry.code for entry in own]):
            runs.append(_Run(files, posed.only(part), tuple(part), style, look, issued.ask_unit))
    for run, pdfs in zip(runs, hands.in_order(_sheets_printed, runs), strict=True):
        for name, pdf in zip(run.files, pdfs, strict=True):
            (place / name).write_bytes(pdf)
        progress(len(run.entries))
    return [place / name for run in runs for name in run.files if not name.startswith(SEPARATE)]


def runs_of_files(
    items: Sequence[T], packet: str, codes: Sequence[str]
) -> Iterator[tuple[tuple[str, ...], Sequence[T]]]:
    """Names of files and what goes into them: packets of many, then a few at a time each into a file of its own."""
    parts = batches(items, press.SHEETS_AT_ONCE)
    for number, part in enumerate(parts, start=1):
        yield (f"{packet}{f'-{number:03d}' if len(parts) > 1 else ''}.pdf",), part
    for few, own in zip(batches(items, _ALONE_AT_ONCE), batches(codes, _ALONE_AT_ONCE), strict=True):
        yield tuple(f"{SEPARATE}/{code}.pdf" for code in own), few


def _sheets_printed(run: _Run) -> list[bytes]:
    """A PDF for each file of the run."""
    data = run.look.document([run.posed(entry) for entry in run.entries], run.style, run.ask_unit)
    parts = [data["sheets"]] if len(run.files) == 1 else [[sheet] for sheet in data["sheets"]]
    return [press.print_here("worksheet", {**data, "sheets": sheets}) for sheets in parts]


@dataclass(frozen=True, slots=True)
class _KeyRun:
    """Sheets whose keys are printed in one go."""

    posed: Posed
    entries: tuple[IssuedSheet, ...]
    style: Style


def print_keys(
    entries: Sequence[IssuedSheet], posed: Posed, style: Style, place: Path, progress: Progress, hands: Hands = HERE
) -> list[Path]:
    """The key book, ordered by sheet code so that a key is found as in a dictionary, and the answer grid."""
    parts = batches(sorted(entries, key=lambda entry: entry.code), press.SHEETS_AT_ONCE)
    runs = (_KeyRun(posed.only(part), tuple(part), style) for part in parts)
    made: list[Path] = []
    held: list[SheetKeys] = []
    for number, (pdf, own) in enumerate(hands.in_order(_keys_printed, runs), start=1):
        path = place / f"key-book{f'-{number:03d}' if len(parts) > 1 else ''}.pdf"
        path.write_bytes(pdf)
        made.append(path)
        held += own
        progress(len(own))
    grid = place / "answer-grid.pdf"
    grid.write_bytes(Press("grid").pdf(answer_grid(held, style)))
    return [*made, grid]


def _keys_printed(run: _KeyRun) -> tuple[bytes, list[SheetKeys]]:
    """The keys of a run, and what the answer grid shows of each."""
    sheets = [run.posed(entry) for entry in run.entries]
    return press.print_here("key", paper.keys(sheets, run.style)), [_keys_of(sheet) for sheet in sheets]


def _keys_of(sheet: Sheet) -> SheetKeys:
    found = labelled(sheet.exercises)
    parts = tuple(Key(item.part.kind, item.part.unit, item.part.key_text) for item in found)
    return SheetKeys(sheet.code, tuple(item.label for item in found), parts)
