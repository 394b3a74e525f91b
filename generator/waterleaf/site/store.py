"""Practice data and slow pages kept between builds: made anew only when what they come from, or the kit, has changed."""

import functools
import hashlib
import json
import os
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ProcessPoolExecutor
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from waterleaf.bank.builder import load_family
from waterleaf.bank.family import Family
from waterleaf.bank.models import FamilyFile
from waterleaf.faults import Faults
from waterleaf.site import practice
from waterleaf.writing import written_whole

# Below this many families the start of other processes costs more than they save.
_WORTH_SHARING = 8


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
        for key, files in _made(home, [bank[key] for key in missing], seed).items():
            _keep(missing[key], json.dumps(files, ensure_ascii=False))
            found |= files
        _forget_others(kept, {f"{_fingerprint(home, family, seed)}.json" for family in bank.values()})
    return found


def kept_pages(
    kept: Path, name: str, sources: Iterable[Path], make: Callable[[], Iterable[tuple[str, str]]]
) -> dict[str, str]:
    """Path and text of pages that take long to make, from the store while their source files stay the same."""
    digest = hashlib.blake2b(_kit_fingerprint(), digest_size=16)
    for source in sources:
        digest.update(source.read_bytes())
    file = f"{name}-{digest.hexdigest()}.json"
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


def _made(home: Path, families: list[Family], seed: int) -> dict[str, dict[str, str]]:
    workers = os.cpu_count() or 1
    if len(families) < _WORTH_SHARING or workers < 2:
        return {family.key: practice.practice_files(family, seed) for family in families}
    keys, files, owns = zip(*((family.key, family.file, family.own) for family in families), strict=True)
    with ProcessPoolExecutor(workers) as pool:
        made = pool.map(_one, [home] * len(keys), keys, files, owns, [seed] * len(keys), chunksize=4)
        return dict(zip(keys, made, strict=True))


def _one(home: Path, key: str, file: FamilyFile, own: str, seed: int) -> dict[str, str]:
    """The files of one family, read in this process: compiled families do not travel, their fields do."""
    family = load_family(home / "question_bank" / f"{key}.yaml", home / "question_bank")
    return practice.practice_files(replace(family, file=file, own=own), seed)


def _fingerprint(home: Path, family: Family, seed: int) -> str:
    digest = hashlib.blake2b(_kit_fingerprint(), digest_size=16)
    digest.update(f"{family.key} {family.own} {seed} {practice.SETS} {practice.IN_A_FILE}".encode())
    digest.update((home / "question_bank" / f"{family.key}.yaml").read_bytes())
    return digest.hexdigest()


@functools.cache
def _kit_fingerprint() -> bytes:
    """A digest of the kit's own source and tables: a changed formula changes every page that may use it."""
    digest = hashlib.blake2b(digest_size=16)
    for path in sorted(Path(__file__).parents[1].rglob("*")):
        if path.suffix in (".py", ".csv"):
            digest.update(path.read_bytes())
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
