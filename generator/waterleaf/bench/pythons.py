"""Makes one set of everything under every Python that is found here, and compares the bytes.

`python -m waterleaf.bench.pythons` makes a virtual environment for each other Python from `requirements.lock`, which
needs the network the first time, and lets each make worksheets, keys, tables, practice data of the site, a class's
sheets and their marks (see `made_of_all`). It ends with status 1 where a byte differs.
"""

import argparse
import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from waterleaf.home import find_home

_OLDEST: Final = (3, 11)
_NAME: Final = re.compile(r"python3\.\d+")
_VERSION: Final = "import sys, venv; print(*sys.version_info[:3], sys.implementation.name)"


class NoInstallation(OSError):
    """The packages could not be installed, most often for want of a network."""


def pythons(places: str) -> dict[str, Path]:
    """Every CPython of another minor version than this one that the kit can run on, by its version.

    `places` are folders as in PATH; what pyenv keeps beside them is looked into too.
    """
    found: dict[str, Path] = {}
    for path in _candidates(places):
        ran = subprocess.run([path, "-I", "-c", _VERSION], capture_output=True, text=True, check=False)
        major, minor, patch, kind = [*ran.stdout.split(), "", "", "", ""][:4]
        if kind != "cpython" or (int(major), int(minor)) < _OLDEST or int(minor) == sys.version_info.minor:
            continue
        found.setdefault(f"{major}.{minor}.{patch}", path)
    return found


def _candidates(places: str) -> Iterator[Path]:
    kept = Path(os.environ.get("PYENV_ROOT", Path.home() / ".pyenv")) / "versions"
    folders = [Path(place) for place in places.split(os.pathsep) if place]
    for folder in [*folders, *sorted(kept.glob("*/bin"))]:
        if folder.is_dir() and folder.name != "shims":
            yield from sorted(path for path in folder.iterdir() if _NAME.fullmatch(path.name))


def environment(python: Path, home: Path, place: Path) -> Path:
    """The interpreter of a virtual environment with the packages of the lock file.

    Raises NoInstallation with the last line that the installer said.
    """
    lock, ready = home / "requirements.lock", place / "ready"
    own = place / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    if ready.exists() and ready.read_bytes() == lock.read_bytes():
        return own
    for words in (
        [str(python), "-m", "venv", "--clear", str(place)],
        [str(own), "-m", "pip", "install", "-q", "--disable-pip-version-check", "--require-hashes", "-r", str(lock)],
    ):
        ran = subprocess.run(words, capture_output=True, text=True, check=False)
        if ran.returncode:
            raise NoInstallation((ran.stderr.strip().splitlines() or ["the installer failed"])[-1])
    ready.write_bytes(lock.read_bytes())
    return own


def made_by(python: Path, home: Path) -> dict[str, str]:
    """The digests of everything that one interpreter makes, by name. Raises CalledProcessError where it fails."""
    package = str(home / "generator")
    ran = subprocess.run(
        [python, "-P", "-W", "error", "-m", "waterleaf.bench.made_of_all", str(home)], capture_output=True, text=True,
        check=True, env={**os.environ, "PYTHONPATH": package, "PYTHONUTF8": "1"},
    )
    return dict(line.rsplit(" ", 1) for line in ran.stdout.splitlines())


def different(one: Mapping[str, str], other: Mapping[str, str]) -> list[str]:
    """The names whose bytes differ, or that one of the two has not made."""
    return sorted(name for name in one.keys() | other.keys() if one.get(name) != other.get(name))


def main() -> None:
    """Print a line for every Python; exit status 1 where a byte differs or none was found."""
    reader = argparse.ArgumentParser(prog="waterleaf.bench.pythons", description=__doc__.splitlines()[0])
    reader.add_argument("--keep", type=Path, required=True, help="folder for the virtual environments")
    words = reader.parse_args()
    home = find_home()
    mine = made_by(Path(sys.executable), home)
    print(f"{sys.version.split()[0]}: {len(mine)} digests, to compare with")
    others, status = pythons(os.environ.get("PATH", "")), 0
    for version, python in others.items():
        try:
            own = environment(python, home, words.keep / version)
        except NoInstallation as error:
            print(f"{version}: left out, since the packages could not be installed: {error}")
            continue
        differing = different(mine, made_by(own, home))
        status |= bool(differing)
        print(f"{version}: {'differs in ' + ', '.join(differing) if differing else 'the same bytes'}", flush=True)
    if not others:
        print("no other Python was found here")
    sys.exit(status)


if __name__ == "__main__":
    main()
