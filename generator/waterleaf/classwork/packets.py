"""Prints what a class gets and what its instructor keeps: packets, separate sheets, key book and answer grid."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeVar

from waterleaf.classwork.issue import Posed
from waterleaf.marking.issuebook import Issued, IssuedSheet
from waterleaf.marking.labels import labelled
from waterleaf.sheets import paper, press
from waterleaf.sheets.grid import Answers, answer_grid
from waterleaf.sheets.names import name_list
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press, PressFault

Progress = Callable[[float], None]
T = TypeVar("T")

LARGE_PRINT: Final = "16pt"
EXTRA_ROOM: Final = "60mm"


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


def print_packets(
    issued: Issued, entries: Sequence[IssuedSheet], posed: Posed, style: Style, place: Path, progress: Progress
) -> list[Path]:
    """One packet for each look, and every sheet in a file of its own, named by its code."""
    separate = place / "separate"
    separate.mkdir()
    made: list[Path] = []
    looks: dict[Look, list[IssuedSheet]] = {}
    for entry in entries:
        looks.setdefault(Look(entry.accommodations), []).append(entry)
    for look, own in looks.items():
        runs = batches(own, press.SHEETS_AT_ONCE)
        documents = (look.document([posed(entry) for entry in run], style, issued.ask_unit) for run in runs)
        for number, pdf in enumerate(press.packets("worksheet", documents), start=1):
            path = place / f"packet{look.suffix}{f'-{number:03d}' if len(runs) > 1 else ''}.pdf"
            path.write_bytes(pdf)
            made.append(path)
            progress(len(runs[number - 1]))
        singles = (look.document([posed(entry)], style, issued.ask_unit) for entry in own)
        for entry, pdf in zip(own, press.packets("worksheet", singles), strict=True):
            (separate / f"{entry.code}.pdf").write_bytes(pdf)
            progress(1)
    return made


def print_keys(
    entries: Sequence[IssuedSheet], posed: Posed, style: Style, place: Path, progress: Progress
) -> list[Path]:
    """The key book, ordered by sheet code so that a key is found as in a dictionary, and the answer grid."""
    ordered = sorted(entries, key=lambda entry: entry.code)
    runs = batches(ordered, press.SHEETS_AT_ONCE)
    made: list[Path] = []
    documents = (paper.keys([posed(entry) for entry in run], style) for run in runs)
    for number, pdf in enumerate(press.packets("key", documents), start=1):
        path = place / f"key-book{f'-{number:03d}' if len(runs) > 1 else ''}.pdf"
        path.write_bytes(pdf)
        made.append(path)
        progress(len(runs[number - 1]))
    grid = place / "answer-grid.pdf"
    grid.write_bytes(Press("grid").pdf(answer_grid([_answers(posed(entry)) for entry in ordered], style)))
    return [*made, grid]


def _answers(sheet: Sheet) -> Answers:
    parts = labelled(sheet.exercises)
    return Answers(sheet.code, tuple(part.label for part in parts), tuple(part.part for part in parts))
