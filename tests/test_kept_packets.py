"""Packets that nothing has changed are taken over from the last build, byte for byte, and no others."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.bank.family import Family
from waterleaf.commands import packets
from waterleaf.commands.packets import Tray, packets_of, print_packets
from waterleaf.home import Settings
from waterleaf.site.store import Shelf

ROOT = Path(__file__).parents[1]
KEYS = ("feed/daily_feed", "solids/flush_day")


@pytest.fixture(scope="module")
def bank() -> dict[str, Family]:
    """Two families of two topics: four packets."""
    return load_bank(ROOT / "question_bank", KEYS)


class House:
    """Builds packets again and again in one place, and counts what was printed."""

    def __init__(self, folder: Path, bank: dict[str, Family]) -> None:
        self.folder, self.bank, self.printed, self.builds = folder, bank, [], 0  # type: list[str]

    def build(self, **changed: Any) -> dict[str, bytes]:
        """The files of a build, by folder and name."""
        self.builds += 1
        old, new = (self.folder / str(number) for number in (self.builds - 1, self.builds))
        tray = Tray(new / "worksheets", new / "keys", old / "worksheets", old / "keys")
        for place in (tray.worksheets, tray.keys):
            place.mkdir(parents=True)
        shelf = Shelf(self.folder / "packets.json")
        settings = Settings(copies=2, **changed)
        self.printed.clear()
        assert print_packets(ROOT, self.bank, settings, tray, shelf) == 4
        shelf.close()
        return {path.relative_to(new).as_posix(): path.read_bytes() for path in sorted(new.rglob("*.pdf"))}

    def last(self, name: str) -> Path:
        """A file of the last build."""
        return self.folder / str(self.builds) / name


@pytest.fixture
def house(bank: dict[str, Family], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> House:
    """One in which nothing was built yet."""
    house = House(tmp_path, dict(bank))
    really: Callable[..., Iterable[Path]] = packets.print_packet

    def counted(*words: Any) -> Any:
        house.printed.append(words[5])
        return really(*words)

    monkeypatch.setattr(packets, "print_packet", counted)
    return house


def test_a_second_build_prints_nothing_and_is_the_same(house: House) -> None:
    """Worksheets and keys, each in its own folder."""
    first = house.build()
    assert len(first) == 8
    assert all(name.startswith("keys/") == name.endswith("-key.pdf") for name in first)
    assert house.printed == ["feed-metric", "feed-us", "solids-metric", "solids-us"]
    assert house.build() == first
    assert house.printed == []
    assert house.build() == first  # and so on: what was taken over is still known


@pytest.mark.parametrize(
    "changed",
    [{"seed": 2}, {"school": "Boat shed"}, {"paper": "letter"}, {"units": "us"}],
)
def test_another_setting_prints_what_it_concerns(house: House, changed: dict[str, Any]) -> None:
    """And the files are those of a first build with it."""
    house.build()
    found = house.build(**changed)
    assert house.printed
    house.folder = house.folder / "afresh"
    assert house.build(**changed) == found


def test_the_other_system_first_is_the_same_paper(house: House) -> None:
    """A school that works in US units prints both packets too: nothing about them has changed."""
    first = house.build()
    assert house.build(units="us", paper="letter") == first
    assert house.printed == []


def test_a_changed_family_prints_its_own_packets(house: House) -> None:
    """Here with a value of a school's own in it; the other topic is taken over."""
    house.build()
    family = house.bank[KEYS[0]]
    area = family.file.given["bed_area"].model_copy(update={"from_": 21.0, "to": 21.0})
    file = family.file.model_copy(update={"given": {**family.file.given, "bed_area": area}})
    house.bank[KEYS[0]] = replace(family, file=file, own="own1")
    house.build()
    assert house.printed == ["feed-metric", "feed-us"]


@pytest.mark.parametrize("name", ["worksheets/feed-us.pdf", "keys/feed-us-key.pdf"])
@pytest.mark.parametrize("harm", ["gone", "shorter", "another"])
def test_a_file_that_is_not_what_was_printed_is_printed_again(house: House, name: str, harm: str) -> None:
    """A page is not trusted by its name."""
    first = house.build()
    path = house.last(name)
    if harm == "gone":
        path.unlink()
    else:
        path.write_bytes(first[name][:-1] if harm == "shorter" else first["worksheets/feed-metric.pdf"])
    assert house.build() == first
    assert house.printed == ["feed-us"]


@pytest.mark.parametrize("text", ["", "{", "[]", '{"x": 7}', "harm"])
def test_a_damaged_note_prints_afresh(house: House, text: str) -> None:
    """Whatever lies in the file of the digests."""
    first = house.build()
    note = house.folder / "packets.json"
    if text == "harm":
        text = note.read_text(encoding="utf-8").replace("worksheets", "elsewhere")
    note.write_text(text, encoding="utf-8")
    assert house.build() == first
    assert len(house.printed) == 4


def test_a_note_never_leads_out_of_the_folders(house: House) -> None:
    """A name in it is a name, not a path."""
    house.build()
    note = house.folder / "packets.json"
    (house.folder / "stolen.pdf").write_bytes(house.last("keys/feed-us-key.pdf").read_bytes())
    note.write_text(note.read_text(encoding="utf-8").replace("feed-us-key.pdf", "../../stolen.pdf"), encoding="utf-8")
    assert "keys/feed-us-key.pdf" in house.build()
    assert house.printed == ["feed-us"]


def test_a_packet_holds_four_exercises_at_most(bank: dict[str, Family]) -> None:
    """A worksheet is one sheet of paper or two, not a booklet; no family is left out."""
    six = {f"feed/{place}": replace(bank[KEYS[0]], key=f"feed/{place}") for place in range(6)}
    found = [(packet.name, len(packet.families)) for packet in packets_of(six, Settings())]
    assert found == [("feed-1-metric", 4), ("feed-1-us", 4), ("feed-2-metric", 2), ("feed-2-us", 2)]
