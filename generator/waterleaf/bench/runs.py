"""Runs a command in a fresh process and says what it cost."""

import json
import os
import statistics
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Run:
    """What a process cost from start to end: seconds on the wall clock and the most memory that it held."""

    seconds: float
    megabytes: float
    said: str = ""


def run(*words: str, home: Path, ends_with: int = 0) -> Run:
    """Run `python -m ...` to its end in a fresh process. Raises CalledProcessError where it ends otherwise."""
    command = [sys.executable, "-m", *words]
    # Compiled modules are kept, as on most machines: where that is forbidden, each start compiles them all again.
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    read, write = os.pipe()
    with os.fdopen(read, "rb") as told:
        weigh = [sys.executable, "-I", "-S", str(Path(__file__).with_name("weigh.py")), str(write), *command]
        try:
            child = subprocess.run(
                weigh, cwd=home, stdout=subprocess.PIPE, pass_fds=(write,), check=True, env=environment
            )
        finally:
            os.close(write)
        seconds, kilobytes, status = json.loads(told.read())
    if status != ends_with:
        raise subprocess.CalledProcessError(status, command)
    return Run(seconds, kilobytes / 1024, child.stdout.decode("utf-8", "replace"))


def in_turn(commands: Mapping[str, Callable[[], Run]], times: int) -> dict[str, Run]:
    """The median of each command, all of them run turn about, so that what else the machine does falls on each."""
    rounds = [{name: command() for name, command in commands.items()} for _ in range(times)]
    return {name: median([one[name] for one in rounds]) for name in commands}


def median(runs: Sequence[Run]) -> Run:
    """The middle time of several runs, with the most memory that any of them held and the last thing said."""
    return Run(statistics.median(r.seconds for r in runs), max(r.megabytes for r in runs), runs[-1].said)
