"""The packets of worksheets and keys of the whole course. What the last build printed is taken over, not printed again.

A packet is known by a digest of all that it comes from. Beside each digest stand the digests of its files: a file of
the last build is taken only if its bytes are still those.
"""

import hashlib
import json
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf.bank.family import Family, System
from waterleaf.home import Settings
from waterleaf.printing import make_sheets, print_packet
from waterleaf.sheets.paper import Style
from waterleaf.site.store import Shelf, digest_of, family_fingerprint

# A worksheet is one sheet of paper or two, not a booklet.
_MOST_EXERCISES: Final = 4


@dataclass(frozen=True)
class Packet:
    """Worksheets for some families of a topic in one system of units."""

    name: str
    families: tuple[Family, ...]
    style: Style


@dataclass(frozen=True)
class Tray:
    """Where packets go: worksheets into one folder and keys into another, new ones that take the place of old ones."""

    worksheets: Path
    keys: Path
    old_worksheets: Path
    old_keys: Path


def packets_of(bank: Mapping[str, Family], settings: Settings) -> Iterator[Packet]:
    """A packet for every few families of a topic in the school's units and paper, and one in the other system."""
    other: System = "us" if settings.units == "metric" else "metric"
    topics: dict[str, list[Family]] = {}
    for family in bank.values():
        topics.setdefault(family.topic, []).append(family)
    for topic, families in topics.items():
        for part, start in enumerate(range(0, len(families), _MOST_EXERCISES), start=1):
            chosen = tuple(families[start : start + _MOST_EXERCISES])
            number = f"-{part}" if len(families) > _MOST_EXERCISES else ""
            for system, paper in ((settings.units, settings.paper), (other, "letter" if other == "us" else "a4")):
                style = Style(settings.school, f"{topic.capitalize()}: worksheet", paper, system)
                yield Packet(f"{topic}{number}-{system}", chosen, style)


def print_packets(home: Path, bank: Mapping[str, Family], settings: Settings, tray: Tray, shelf: Shelf) -> int:
    """Print every packet, or take over what the last build printed; returns how many there are.

    Raises NoDraw, PressFault.
    """
    packets = list(packets_of(bank, settings))
    families = {family.key: family_fingerprint(home, family) for family in bank.values()}
    for packet in packets:
        origin = digest_of(
            packet.name, repr(packet.style), str(settings.seed), str(settings.copies),
            *(families[family.key] for family in packet.families),
        )
        kept = shelf.kept(origin)
        if kept is None or not _taken_over(kept, tray):
            kept = json.dumps(_printed(packet, settings, tray))
        shelf.keep(origin, kept)
    return len(packets)


def _printed(packet: Packet, settings: Settings, tray: Tray) -> list[list[str]]:
    """Print a packet. Returns the folder, the name and the digest of each of its files."""
    sheets = make_sheets(packet.families, settings.seed, settings.copies, packet.style)
    made = print_packet(sheets, settings.copies, packet.style, tray.worksheets, tray.keys, packet.name)
    return [
        ["keys" if path.parent == tray.keys else "worksheets", path.name, _digest(path.read_bytes())] for path in made
    ]


def _taken_over(kept: str, tray: Tray) -> bool:
    """Copy the files of a packet from the last build, if every one is still what was printed."""
    folders = {"worksheets": (tray.old_worksheets, tray.worksheets), "keys": (tray.old_keys, tray.keys)}
    try:
        files = [(folders[kind], Path(name).name, digest) for kind, name, digest in json.loads(kept)]
        same = all(_digest((old / name).read_bytes()) == digest for (old, _), name, digest in files)
    except (OSError, ValueError, TypeError, KeyError):  # a file is gone, or the note about it is damaged
        return False
    if same:
        for (old, new), name, _ in files:
            shutil.copyfile(old / name, new / name)
    return same


def _digest(raw: bytes) -> str:
    return hashlib.blake2b(raw, digest_size=16).hexdigest()
