"""Practice data kept between builds: made anew only when the family, the seed or the kit itself has changed."""

import functools
import hashlib
import os
import tempfile
from collections.abc import Mapping
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from waterleaf.bank.builder import load_family
from waterleaf.bank.family import Family
from waterleaf.site import practice

# Below this many families the start of other processes costs more than they save.
_WORTH_SHARING = 8


def practice_scripts(home: Path, bank: Mapping[str, Family], seed: int, kept: Path) -> dict[str, str]:
    """The practice data of every family as JSON text, from the store where it is still right."""
    found: dict[str, str] = {}
    missing: dict[str, Path] = {}
    for key in bank:
        place = kept / f"{_fingerprint(home, key, seed)}.json"
        if place.exists():
            found[key] = place.read_text(encoding="utf-8")
        else:
            missing[key] = place
    if missing:
        for key, text in _made(home, bank, seed, list(missing)).items():
            _keep(missing[key], text)
            found[key] = text
        _forget_others(kept, {f"{_fingerprint(home, key, seed)}.json" for key in bank})
    return found


def _made(home: Path, bank: Mapping[str, Family], seed: int, keys: list[str]) -> dict[str, str]:
    workers = os.cpu_count() or 1
    if len(keys) < _WORTH_SHARING or workers < 2:
        return {key: practice.script_text(practice.practice_data(bank[key], seed)) for key in keys}
    with ProcessPoolExecutor(workers) as pool:
        texts = pool.map(_one, [home] * len(keys), keys, [seed] * len(keys), chunksize=4)
        return dict(zip(keys, texts, strict=True))


def _one(home: Path, key: str, seed: int) -> str:
    """The data of one family, read in this process: compiled families do not travel."""
    family = load_family(home / "question_bank" / f"{key}.yaml", home / "question_bank")
    return practice.script_text(practice.practice_data(family, seed))


def _fingerprint(home: Path, key: str, seed: int) -> str:
    digest = hashlib.blake2b(_kit_fingerprint(), digest_size=16)
    digest.update(f"{key} {seed} {practice.SETS}".encode())
    digest.update((home / "question_bank" / f"{key}.yaml").read_bytes())
    return digest.hexdigest()


@functools.cache
def _kit_fingerprint() -> bytes:
    """A digest of the kit's own source: a changed formula changes every page that may use it."""
    digest = hashlib.blake2b(digest_size=16)
    for path in sorted(Path(__file__).parents[1].rglob("*.py")):
        digest.update(path.read_bytes())
    return digest.digest()


def _keep(place: Path, text: str) -> None:
    """Written whole or not at all; a store that cannot be written only costs time."""
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile("w", dir=place.parent, delete=False, encoding="utf-8", suffix=".part") as handle:
            handle.write(text)
        Path(handle.name).replace(place)
    except OSError:
        return


def _forget_others(kept: Path, wanted: set[str]) -> None:
    for path in kept.glob("*.json"):
        if path.name not in wanted:
            path.unlink(missing_ok=True)
