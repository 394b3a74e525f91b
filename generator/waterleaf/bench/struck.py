"""Runs a command and kills it at one of its own steps, as a cut of the supply would: nothing is tidied up.

`python -m waterleaf.bench.struck FOLDER STEP WORDS...`. A step is whatever the command does to a file below the
folder: open it to write, rename it, remove it, make a folder. At the given step the process ends at once by SIGKILL;
with step 0 it runs to its end and writes the number of its steps to standard error as its last line.
"""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

_STEPS: Final = {"os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.link", "os.truncate", "shutil.rmtree", "open"}
_WRITING: Final = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC


class Strike:
    """Counts the steps below a folder and kills the process at one of them."""

    def __init__(self, folder: Path, step: int) -> None:
        """`step` is counted from 1; 0 stands for none."""
        self.folder, self.step, self.count = str(folder.resolve()), step, 0

    def __call__(self, event: str, words: tuple[Any, ...]) -> None:
        """Look at one thing that the interpreter is about to do."""
        if event not in _STEPS or not words or not isinstance(words[0], str | bytes | os.PathLike):
            return
        if event == "open" and not int(words[2] or 0) & _WRITING:
            return
        if not os.path.abspath(os.fsdecode(words[0])).startswith(self.folder):  # noqa: PTH100
            return
        self.count += 1
        if self.count == self.step:
            os.kill(os.getpid(), signal.SIGKILL)


class Child:
    """A command as a fork of this process, in which everything is loaded already; it must not have printed anything.

    The press works on threads of its own, and a fork of a process with threads may stand still.
    """

    def __init__(self, place: Path, words: Sequence[str], step: int, errors: Path) -> None:
        """Start the command in a folder; what it says goes to a file."""
        import waterleaf.commands.assign
        import waterleaf.commands.sheets  # noqa: F401 - loaded once, for all forks
        from waterleaf.working.units import registry

        registry()
        self._status: int | None = None
        self._pid = os.fork()
        if self._pid == 0:
            status = 1
            try:
                os.chdir(place)
                for number, path in ((1, os.devnull), (2, errors)):
                    os.dup2(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o644), number)
                run(place, step, words)
            except SystemExit as end:
                status = int(end.code or 0)
            finally:
                sys.stderr.flush()
                os._exit(status)

    def wait(self, seconds: float) -> int:
        """Its exit status, or minus the signal that killed it. Raises TimeoutExpired where it takes longer."""
        end = time.monotonic() + seconds
        while self._status is None:
            found, status = os.waitpid(self._pid, os.WNOHANG)
            if found:
                self._status = os.waitstatus_to_exitcode(status)
            elif time.monotonic() > end:
                raise subprocess.TimeoutExpired("waterleaf", seconds)
            else:
                time.sleep(0.002)
        return self._status

    def kill(self) -> None:
        """Kill it at once."""
        os.kill(self._pid, signal.SIGKILL)


def run(folder: Path, step: int, words: Sequence[str]) -> None:
    """Run the command under the hook, in this process."""
    strike = Strike(folder, step)
    sys.argv = ["waterleaf", *words]
    from waterleaf.cli import main as command

    sys.addaudithook(strike)
    try:
        command()
    finally:
        if strike.step == 0:
            print(strike.count, file=sys.stderr)


if __name__ == "__main__":
    run(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3:])
