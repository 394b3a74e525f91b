"""Throws spoilt answers and files at everything that reads them: `python -m waterleaf.bench.hostile`.

An answer must be judged; a file must be read or refused by faults of one line each. Anything else is a finding: another
error, more than two seconds of the processor, more than 500 MB, a fault of several lines or with letters that steer a
terminal. Every case has a number, and the same seed and number make the same case. With `--figures` the table is kept
in a file (see `hostile_figures`).
"""

import argparse
import contextlib
import random
import re
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from types import FrameType
from typing import Final, NoReturn

from waterleaf.bench.readers import Reader, judge_of, readers_of, table_readers
from waterleaf.bench.tallies import Tally, table, write_figures
from waterleaf.faults import Faults
from waterleaf.home import find_home

MOST_SECONDS: Final = 2.0
MOST_MEGABYTES: Final = 500.0
_GIVE_UP: Final = 30.0
_ALL_MEMORY: Final = 6_000_000_000
_STEERING: Final = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029]")


class TooLong(BaseException):
    """A case that would not end."""


def _give_up(_number: int, _frame: FrameType | None) -> NoReturn:
    raise TooLong


def _peak() -> float:
    """The most memory that this process ever held [MB]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def try_one(case: Callable[[], object], tally: Tally, number: int) -> None:
    """Run one case, and note what became of it."""
    tally.cases += 1
    start, before = time.process_time(), _peak()  # what else the machine does is no fault of the case
    signal.setitimer(signal.ITIMER_REAL, _GIVE_UP)
    try:
        case()
        tally.taken += 1
    except Faults as faults:
        tally.refused += 1
        if any(_STEERING.search(str(fault)) for fault in faults.faults):
            tally.found("a fault of several lines, or with letters that steer a terminal", number)
    except TooLong:
        tally.found(f"had not ended after {_GIVE_UP:g} s", number)
    except (Exception, MemoryError, RecursionError) as error:
        frame = traceback.extract_tb(error.__traceback__)[-1]
        own = [f for f in traceback.extract_tb(error.__traceback__) if "waterleaf" in f.filename][-1:]
        place = " < ".join(f"{Path(f.filename).name}:{f.name}" for f in (frame, *own))
        tally.found(f"{type(error).__name__} in {place}: {str(error)[:90]!r}", number)
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
    seconds, megabytes = time.process_time() - start, _peak() - before
    if seconds > tally.seconds:
        tally.seconds = seconds
    tally.megabytes = max(tally.megabytes, megabytes)
    if seconds > MOST_SECONDS:
        tally.found(f"took more than {MOST_SECONDS:g} s", number)
    if megabytes > MOST_MEGABYTES:
        tally.found(f"took more than {MOST_MEGABYTES:g} MB", number)


@contextlib.contextmanager
def alarmed() -> Iterator[None]:
    """Let a case that does not end be given up."""
    before = signal.signal(signal.SIGALRM, _give_up)
    try:
        yield
    finally:
        signal.signal(signal.SIGALRM, before)


def throw(reader: Reader, numbers: Sequence[int], seed: int, folder: Path) -> Tally:
    """The cases of one reader with these numbers."""
    tally = Tally(reader.name)
    with alarmed():
        for number in numbers:
            chance = random.Random(f"{seed}:{reader.name}:{number}")
            case = reader.case(chance, folder)
            try_one(case, tally, number)
    return tally


def slice_of(reader: Reader, seed: int, folder: Path) -> Tally:
    """The first cases of a reader: few enough for the suite to make them again."""
    return throw(reader, range(2000 if reader.name == "judge" else 12), seed, folder)


def _shared(count: int, readers: int) -> range:
    return range(max(1, count // readers))


def main() -> None:
    """Print the table; exit status 1 where there was a finding."""
    reader = argparse.ArgumentParser(prog="waterleaf.bench.hostile", description=__doc__.splitlines()[0])
    reader.add_argument("--answers", type=int, default=100_000, help="answers at the judge (100000)")
    reader.add_argument("--files", type=int, default=10_000, help="files that an instructor writes (10000)")
    reader.add_argument("--tables", type=int, default=10_000, help="tables and files that come back (10000)")
    reader.add_argument("--seed", type=int, default=1, help="another number, other cases (1)")
    reader.add_argument("--figures", type=Path, help="keep the table in this file")
    reader.add_argument("--one", default="", help="one case alone, as in growing:17, with its traceback")
    words = reader.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (_ALL_MEMORY, _ALL_MEMORY))
    home = find_home()
    files, tables = readers_of(home), table_readers(home)
    with tempfile.TemporaryDirectory(prefix="waterleaf-hostile-") as place:
        folder = Path(place)
        if words.one:
            name, _, number = words.one.partition(":")
            known = {one.name: one for one in (judge_of(home), *files, *tables)}
            known[name].case(random.Random(f"{words.seed}:{name}:{number}"), folder)()
            return
        tallies, slices = [], []
        for group, count in (((judge_of(home),), words.answers), (files, words.files), (tables, words.tables)):
            for one in group:
                slices.append(slice_of(one, words.seed, folder))
                tallies.append(throw(one, _shared(count, len(group)), words.seed, folder))
                lines = table(tallies[-1:]).splitlines()
                print("\n".join(lines[len(tallies) > 1 :]), flush=True)
    if words.figures:
        write_figures(words.figures, words.seed, slices, tallies)
    sys.exit(any(one.findings for one in tallies))


if __name__ == "__main__":
    main()
