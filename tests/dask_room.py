"""A real Dask scheduler and real workers: processes of their own on this machine, on ports that happen to be free."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

GENERATOR = Path(__file__).parents[1] / "generator"
_PATIENCE = 120.0
_WORKER = ("--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1", "--memory-limit", "0")


@dataclass
class Cluster:
    """The scheduler's address, and the processes of its workers."""

    address: str
    scheduler: subprocess.Popen[bytes]
    folder: Path
    workers: list[subprocess.Popen[bytes]] = field(default_factory=list)

    def add_worker(self, home: Path = GENERATOR) -> None:
        """Start one more worker, with the kit that lies in `home`."""
        words = [self.address, *_WORKER, "--local-directory", str(self.folder)]
        self.workers.append(_started("distributed.cli.dask_worker", words, self.folder, home))

    def kill_a_worker(self) -> None:
        """End the first worker as a lost supply would."""
        worker = self.workers.pop(0)
        worker.send_signal(signal.SIGKILL)
        worker.wait()

    def wait_for(self, count: int) -> None:
        """Wait until so many workers, and no dead ones, are known to the scheduler."""
        from distributed import Client

        end = time.monotonic() + _PATIENCE
        with Client(self.address, set_as_default=False) as client:
            while len(client.scheduler_info()["workers"]) != count:
                assert time.monotonic() < end, "the workers did not come"
                time.sleep(0.05)


@contextmanager
def cluster(folder: Path, workers: int) -> Iterator[Cluster]:
    """A scheduler with so many workers, which all end with the block."""
    file = folder / "scheduler.json"
    words = ("--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--dashboard-address", "127.0.0.1:0")
    scheduler = _started("distributed.cli.dask_scheduler", [*words, "--scheduler-file", str(file)], folder, GENERATOR)
    made = Cluster("", scheduler, folder)
    try:
        made.address = _address(file, scheduler)
        for _ in range(workers):
            made.add_worker()
        yield made
    finally:
        for process in (*made.workers, scheduler):
            process.kill()
            process.wait()


def _started(module: str, words: Sequence[str], folder: Path, home: Path) -> subprocess.Popen[bytes]:
    """A process that works in an empty folder: it finds the kit, and neither a bank nor a course."""
    place = folder / "elsewhere"
    place.mkdir(exist_ok=True)
    environment = {**os.environ, "PYTHONPATH": str(home)}
    with (folder / "cluster.log").open("ab") as log:
        return subprocess.Popen(
            [sys.executable, "-P", "-m", module, *words], cwd=place, env=environment, stdout=log, stderr=log
        )


def _address(file: Path, scheduler: subprocess.Popen[bytes]) -> str:
    end = time.monotonic() + _PATIENCE
    while time.monotonic() < end and scheduler.poll() is None:
        try:
            return str(json.loads(file.read_text(encoding="utf-8"))["address"])
        except (OSError, ValueError):
            time.sleep(0.05)
    raise AssertionError("the scheduler did not start")
