"""Runs a command in a fresh process and says what it cost."""

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Run:
    """What a process cost from start to end: seconds on the wall clock and the most memory that it held."""

    seconds: float
    megabytes: float


def run(*words: str, home: Path, ends_with: int = 0) -> Run:
    """Run `python -m ...` to its end in a fresh process. Raises CalledProcessError where it ends otherwise."""
    start = time.perf_counter()
    child = subprocess.Popen([sys.executable, "-m", *words], cwd=home, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    seconds = time.perf_counter() - start
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode != ends_with:
        raise subprocess.CalledProcessError(child.returncode, child.args)
    return Run(seconds, usage.ru_maxrss / 1024)


def median(runs: Sequence[Run]) -> Run:
    """The middle time of several runs, with the most memory that any of them held."""
    return Run(statistics.median(r.seconds for r in runs), max(r.megabytes for r in runs))
