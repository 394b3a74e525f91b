"""What is slow to make is kept between builds, and made anew only when what it comes from, or the kit, has changed."""

import functools
import hashlib
import json
import sys
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path

from waterleaf.bank.family import Family
from waterleaf.faults import Faults
from waterleaf.sharing import shared
from waterleaf.site import practice
from waterleaf.writing import written_whole

# Below this many families the start of other processes costs more than they save.
_WORTH_SHARING = 8
# Kinds of files of the kit that can change what it makes; scripts and styles of the site go into it as they are.
_SOURCES = (".py", ".csv", ".yaml", ".txt", ".typ")


class Shelf:
    """Texts kept in one file, each under a digest of all that it comes from. What was not laid by again is forgotten."""

    def __init__(self, place: Path) -> None:
        """Take up what the last build left, if anything can be read."""
        self._place = place
        self._kept = {origin: text for origin, text in (_from_store(place) or {}).items() if isinstance(text, str)}
        self._laid_by: dict[str, str] = {}

    def kept(self, origin: str) -> str | None:
        """The text of that origin, if there is one."""
        return self._kept.get(origin)

    def keep(self, origin: str, text: str) -> str:
        """Lay the text of an origin by, and hand it on."""
        self._laid_by[origin] = text
        return text

    def close(self) -> None:
        """Leave for the next build what this one laid by."""
        if self._laid_by != self._kept:
            _keep(self._place, json.dumps(self._laid_by, ensure_ascii=False))


def digest_of(*parts: str) -> str:
    """A digest of texts that come after one another, and of the kit that works on them."""
    digest = hashlib.blake2b(kit_fingerprint(), digest_size=16)
    for part in parts:
        raw = part.encode()
        digest.update(b"%d:" % len(raw) + raw)  # with its length, so that no end of one looks like a start of the next
    return digest.hexdigest()


def practice_scripts(home: Path, bank: Mapping[str, Family], seed: int, kept: Path) -> dict[str, str]:
    """Path and text of the practice scripts of every family, from the store where it is still right."""
    found: dict[str, str] = {}
    missing: dict[str, Path] = {}
    for family in bank.values():
        place = kept / f"{_fingerprint(home, family, seed)}.json"
        files = _from_store(place)
        if files is None:
            missing[family.key] = place
        else:
            found |= files
    if missing:
        for key, files in _made([bank[key] for key in missing], seed).items():
            _keep(missing[key], json.dumps(files, ensure_ascii=False))
            found |= files
        _forget_others(kept, {f"{_fingerprint(home, family, seed)}.json" for family in bank.values()})
    return found


def kept_pages(
    kept: Path, name: str, sources: Iterable[Path], make: Callable[[], Iterable[tuple[str, str]]]
) -> dict[str, str]:
    """Path and text of pages that take long to make, from the store while their source files stay the same."""
    origin = digest_of(*(text for source in sources for text in (source.name, _raw_text(source))))
    file = f"{name}-{origin}.json"
    files = _from_store(kept / file)
    if files is None:
        files = dict(make())
        _keep(kept / file, json.dumps(files, ensure_ascii=False))
        _forget_others(kept, {file}, f"{name}-*.json")
    return files


def _from_store(place: Path) -> dict[str, str] | None:
    """The files of a family; None where the store has none, or has been damaged."""
    try:
        files = json.loads(place.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return files if isinstance(files, dict) else None


def _made(families: list[Family], seed: int) -> dict[str, dict[str, str]]:
    with shared(None, "processes" if len(families) >= _WORTH_SHARING else "here") as hands:
        made = hands.in_order(functools.partial(practice.practice_files, seed=seed), families)
        return {family.key: files for family, files in zip(families, made, strict=True)}


def family_fingerprint(home: Path, family: Family) -> str:
    """A digest of a family: its file as it lies there, and as it was read with a school's own numbers."""
    raw = _raw_text(home / "question_bank" / f"{family.key}.yaml")
    return digest_of(family.identity, family.file.model_dump_json(), raw)


def _fingerprint(home: Path, family: Family, seed: int) -> str:
    return digest_of(family_fingerprint(home, family), str(seed), str(practice.SETS), str(practice.IN_A_FILE))


def _raw_text(path: Path) -> str:
    return path.read_bytes().decode("latin-1")  # every byte is a letter of its own


@functools.cache
def kit_fingerprint() -> bytes:
    """A digest of the kit's own source, of Python, and of the names and versions of all packages that are installed.

    A changed formula, template or library changes everything that may use it.
    """
    digest = hashlib.blake2b(sys.version.encode(), digest_size=16)
    packages = {found.name for folder in sys.path for found in Path(folder).glob("*.*-info")}
    digest.update("\n".join(sorted(packages)).encode())
    package = Path(__file__).parents[1]
    for path in sorted(package.rglob("*")):
        if path.suffix in _SOURCES:
            digest.update(f"{path.relative_to(package)}\n".encode() + path.read_bytes())
    return digest.digest()


def _keep(place: Path, text: str) -> None:
    """Written whole or not at all; a store that cannot be written only costs time."""
    with suppress(OSError, Faults):
        place.parent.mkdir(parents=True, exist_ok=True)
        written_whole(place, text)


def _forget_others(kept: Path, wanted: set[str], pattern: str = "*.json") -> None:
    for path in kept.glob(pattern):
        if path.name not in wanted:
            path.unlink(missing_ok=True)
