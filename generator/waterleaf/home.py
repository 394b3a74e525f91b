"""Where things are: the folder of the course and its settings, and how finished work is put in place."""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, field_validator

from waterleaf.bank.marked_yaml import read
from waterleaf.bank.models import Strict
from waterleaf.bank.validation import validated
from waterleaf.faults import Faults, refuse
from waterleaf.marking.checklink import base_address
from waterleaf.writing import one_at_a_time, unwritable

SETTINGS = "course/settings.yaml"
# Course and bank as they lie inside the installed package; nobody writes there.
PACKED = Path(__file__).resolve().parent / "kit"


class Settings(Strict):
    """What an instructor sets once for the school; every sheet and page reads it."""

    school: Annotated[str, Field(min_length=1, max_length=80)] = "Ostrel Quay College"
    title: Annotated[str, Field(min_length=1, max_length=80)] = "Growing with fish and plants"
    paper: Literal["a4", "letter"] = "a4"
    units: Literal["metric", "us"] = "metric"
    seed: Annotated[int, Field(ge=0, le=10**9)] = 1
    copies: Annotated[int, Field(ge=1, le=200)] = 6
    site: str = ""

    @field_validator("site")
    @classmethod
    def _an_address(cls, text: str) -> str:
        return base_address(text) if text.strip() else ""


def find_home(start: Path | None = None) -> Path:
    """The folder that holds question_bank/ and course/: here, above here, where the kit's source lies, or packed in it.

    Raises Faults where there is none.
    """
    source = Path(__file__).resolve().parents[2]
    here = (start or Path.cwd()).resolve()
    for folder in (here, *here.parents, source, PACKED):
        if (folder / "question_bank").is_dir() and (folder / "course").is_dir():
            return folder
    raise refuse(here.as_posix(), "no question_bank and course folder here or above. Go to the folder of the kit.")


def output_folder(home: Path) -> Path:
    """`build` beside the course; with the packed course, `build` in the folder where one works."""
    return (Path.cwd() if home == PACKED else home) / "build"


def load_settings(home: Path) -> Settings:
    """The settings of the school, or the defaults where there is no settings file.

    Raises Faults with everything wrong in the file.
    """
    path = home / SETTINGS
    if not path.exists():
        return Settings()
    marked = read(path, SETTINGS)
    return validated(marked, Settings)


@contextmanager
def swapped_in(place: Path) -> Iterator[Path]:
    """A new empty folder to fill; when all went well it takes the place of the old one, else the old one stays.

    Raises Faults where the folder cannot be written, another run is just writing it, or it holds what was not made
    here and would be lost.
    """
    where = place.resolve()  # a link to a folder stays a link; `.` has a name
    lock = where.with_name(f".{where.name}-lock") if where.name else where / ".lock"
    try:
        if not lock.exists():
            _refuse_foreign_folder(where, place)
        where.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _unwritable(place, error) from None
    busy = "another run is writing here just now. Wait until it has ended, or choose another --out."
    with one_at_a_time(lock, place, busy):
        try:
            _finish_interrupted_swap(where)
            fresh = Path(tempfile.mkdtemp(prefix=f".{where.name}-new-", dir=where.parent))
            try:
                fresh.chmod(0o755)
                yield fresh
                old = _aside(where)
                if where.exists():
                    where.replace(old)
                fresh.replace(where)
                shutil.rmtree(old, ignore_errors=True)
            finally:
                shutil.rmtree(fresh, ignore_errors=True)
        except OSError as error:
            raise _unwritable(place, error) from None
    with suppress(OSError):
        lock.touch()  # it stays beside the folder, and says that the folder was made here


def _refuse_foreign_folder(where: Path, place: Path) -> None:
    """What was never put in place from here is somebody's work: a slip of --out must not cost a folder."""
    if where.is_dir() and any(where.iterdir()):
        raise refuse(
            place.as_posix(), "holds files that were not made here and would be lost. Choose a new or an empty folder "
            "with --out, or move these away."
        )


def _aside(place: Path) -> Path:
    return place.with_name(f".{place.name}-old")


def _finish_interrupted_swap(place: Path) -> None:
    """A run that died between the two renames left the good output aside: put it back, and clear away scraps."""
    old = _aside(place)
    if old.exists() and not place.exists():
        old.replace(place)
    shutil.rmtree(old, ignore_errors=True)
    for scrap in place.parent.glob(f".{place.name}-new-*"):
        shutil.rmtree(scrap, ignore_errors=True)


def _unwritable(place: Path, error: OSError) -> Faults:
    """An output folder can also be put elsewhere."""
    return unwritable(place, error, "Another folder is chosen with --out; the last good output is untouched.")
