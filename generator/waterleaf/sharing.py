"""Work shared out over the cores of this machine, or over machines that a Dask scheduler knows; results in order.

Whoever has work gives a function and its pieces, both of which can be pickled. Each piece holds all that it needs, so
the same bytes come out in this process, in others and on other machines; a piece that is lost with a worker is simply
done again. A scheduler is named on the command line alone: whoever reaches one can run programs on its workers.
"""

import functools
import hashlib
import importlib.metadata
import logging
import multiprocessing
import multiprocessing.connection
import os
import platform
import re
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import CancelledError, Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, Literal, TypeVar

from waterleaf import __version__
from waterleaf.faults import refuse

T = TypeVar("T")
R = TypeVar("R")
# How work is done where no word says otherwise: in this process, on two threads of it (what Typst prints runs beside
# Python), or in a process on every core.
Usual = Literal["here", "threads", "processes"]

OPTION: Final = "--workers"
MOST_PROCESSES: Final = 60  # Windows can wait for no more
_THREADS: Final = 2
# Pieces under way or waiting for their turn, for each worker: nobody is idle, and a long run never lies in memory.
_AHEAD: Final = 3
_ADDRESS: Final = re.compile(r"tcp://(\[[0-9A-Fa-f:.]+\]|[\w.-]+):\d{1,5}")
_PATIENCE: Final = 10.0  # seconds for a scheduler to answer
_LOST_PATIENCE: Final = 30.0  # seconds after which work that waits is asked whether anybody is left to do it
_TRIES_AGAIN: Final = 2
# Packages whose version may show in what is made.
_SHOWING: Final = ("jinja2", "numpy", "pint", "pydantic", "pyspellchecker", "pyyaml", "scipy", "segno", "typst")


@dataclass(frozen=True, slots=True)
class Hands:
    """An executor, how many pieces it works on at once, and how to wait for one of them."""

    executor: Executor
    count: int
    wait: Callable[[Future[Any]], Any] = Future.result
    excuses: Mapping[type[BaseException], str] = field(default_factory=dict)  # what to say when those who work are lost

    def in_order(self, function: Callable[[T], R], pieces: Iterable[T]) -> Iterator[R]:
        """What the function makes of each piece, in the order of the pieces, which are taken as they are needed.

        Raises Faults where those who do the work are lost, and whatever the function raises.
        """
        waiting: deque[Future[R]] = deque()
        try:
            for piece in pieces:
                waiting.append(self.executor.submit(function, piece))
                if len(waiting) > _AHEAD * self.count or isinstance(self.executor, _ThisProcess):
                    yield self.wait(waiting.popleft())
            while waiting:
                yield self.wait(waiting.popleft())
        except tuple(self.excuses) as error:
            raise refuse(OPTION, next(text for kind, text in self.excuses.items() if isinstance(error, kind))) from None


@contextmanager
def shared(word: str | None, usual: Usual = "processes") -> Iterator[Hands]:
    """Hands to share work with: `usual` ones, so many processes, or those of the scheduler at an address.

    Raises Faults where the word is neither, nobody answers at the address, or somebody there has another kit.
    """
    if word is not None and _ADDRESS.fullmatch(word):
        with _on_other_machines(word) as hands:
            yield hands
        return
    executor, count = _here(word, usual)
    before = set(multiprocessing.active_children())
    killed = f"a process that helped was killed, perhaps for want of memory. Run again with fewer, as in {OPTION} 1."
    try:
        yield Hands(executor, count, excuses={BrokenProcessPool: killed})
    except BaseException:  # Ctrl-C above all: nobody waits for what is not wanted any more
        executor.shutdown(wait=False, cancel_futures=True)
        for child in set(multiprocessing.active_children()) - before:
            child.terminate()
        raise
    executor.shutdown()


def _here(word: str | None, usual: Usual) -> tuple[Executor, int]:
    """An executor on this machine, and how many pieces it works on at once.

    Raises Faults where the word is no number of processes.
    """
    if word is None and usual == "threads":
        return ThreadPoolExecutor(_THREADS), _THREADS
    if word is None:
        count = min(os.cpu_count() or 1, MOST_PROCESSES) if usual == "processes" else 1
    elif re.fullmatch(r"[0-9]{1,2}", word) and 1 <= int(word) <= MOST_PROCESSES:
        count = int(word)
    else:
        raise refuse(
            OPTION, f"{word[:60]!r} is neither a number from 1 to {MOST_PROCESSES} nor the address of a scheduler. "
            f"Write for example {OPTION} 4 or {OPTION} tcp://127.0.0.1:8786."
        )
    return (_Processes(count), count) if count > 1 else (_ThisProcess(), 1)


class _ThisProcess(Executor):
    """Does each piece at once, where it is handed in."""

    def submit(self, fn: Callable[..., R], /, *args: Any, **kwargs: Any) -> Future[R]:
        future: Future[R] = Future()
        try:
            future.set_result(fn(*args, **kwargs))
        except Exception as error:
            future.set_exception(error)
        return future


HERE: Final = Hands(_ThisProcess(), 1)


class _Processes(ProcessPoolExecutor):
    """Fresh processes: one that is split off from this one would take Typst's threads along as corpses, and hang."""

    def __init__(self, count: int) -> None:
        super().__init__(count, multiprocessing.get_context("spawn"), _end_with_the_other)

    def submit(self, fn: Callable[..., R], /, *args: Any, **kwargs: Any) -> Future[R]:
        with _interrupts_held_back():  # a process that is just starting would print where it was
            return super().submit(fn, *args, **kwargs)


@contextmanager
def _interrupts_held_back() -> Iterator[None]:
    """Let Ctrl-C wait while a process is started, which then starts with it held back."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _end_with_the_other() -> None:
    """In a process that helps: end when the one that asked for the work ends it, or is itself no more.

    Ctrl-C reaches both; that one says that it was stopped, this one stays silent.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    asked = multiprocessing.parent_process()
    if asked is not None:
        threading.Thread(target=_end_after, args=(asked.sentinel,), daemon=True).start()


def _end_after(sentinel: int) -> None:
    multiprocessing.connection.wait([sentinel])
    os._exit(1)


@contextmanager
def _on_other_machines(address: str) -> Iterator[Hands]:
    """The workers of a Dask scheduler, each of which must have the very kit that runs here."""
    try:
        from distributed import Client
    except ImportError:
        raise refuse(
            OPTION, f"{address} needs a package more. Install it: pip install 'waterleaf[workers]', here and on every "
            "worker."
        ) from None
    for name in ("distributed", *(name for name in logging.root.manager.loggerDict if name.startswith("distributed."))):
        logging.getLogger(name).setLevel(logging.CRITICAL)  # what matters of it is told here, in one line
    try:
        client = Client(address, timeout=_PATIENCE, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError, OverflowError) as error:
        raise refuse(
            OPTION, f"no scheduler answers at {address} ({type(error).__name__}). Start one with `dask scheduler`, and "
            "workers with `dask worker`, or mend the address."
        ) from None
    try:
        yield _checked_hands(client, address)
    finally:
        client.close(timeout=_PATIENCE)  # type: ignore[no-untyped-call]


def _checked_hands(client: Any, address: str) -> Hands:
    """Hands over a client's workers. Raises Faults where there are none, or one has another kit."""
    own = kit_here()
    try:
        client.wait_for_workers(1, timeout=_PATIENCE)
    except TimeoutError:
        raise refuse(
            OPTION, f"the scheduler at {address} has no workers. Start one: dask worker {address}."
        ) from None
    answers: dict[str, Any] = client.run(kit_here, on_error="return")
    try:
        answers = {"scheduler": client.run_on_scheduler(kit_here), **answers}
    except Exception as error:  # whatever keeps the scheduler from loading the kit
        answers = {"scheduler": error, **answers}
    for who, kit in answers.items():
        _refuse_other_kit(own, kit, who)
    count = sum(worker["nthreads"] for worker in client.scheduler_info()["workers"].values())

    def wait(future: Future[Any]) -> Any:
        while True:
            try:
                return future.result(_LOST_PATIENCE)
            except TimeoutError:
                if future.done():  # this very moment, or the work itself waited too long for something
                    return future.result()
                if not client.scheduler_info()["workers"]:
                    raise refuse(OPTION, f"the last worker of {address} is gone. Start some and run again.") from None

    executor = _CheckedPieces(client.get_executor(pure=False, retries=_TRIES_AGAIN), own)
    return Hands(executor, count, wait, _excuses(address))


def _excuses(address: str) -> dict[type[BaseException], str]:
    from distributed.comm.core import CommClosedError
    from distributed.scheduler import KilledWorker

    gone = f"the scheduler at {address} went away. Start it, or another, and run again."
    died = f"worker after worker of {address} died over one piece of work, perhaps for want of memory. See their logs."
    return {KilledWorker: died, CommClosedError: gone, CancelledError: gone}


class _CheckedPieces(Executor):
    """Hands every piece on together with the kit that is wanted: a worker may join after the others were asked."""

    def __init__(self, inner: Executor, kit: dict[str, str]) -> None:
        self._inner, self._kit = inner, kit

    def submit(self, fn: Callable[..., R], /, *args: Any, **kwargs: Any) -> Future[R]:
        return self._inner.submit(_with_this_kit, self._kit, fn, *args, **kwargs)


def _with_this_kit(kit: dict[str, str], function: Callable[..., R], *args: Any, **kwargs: Any) -> R:
    _refuse_other_kit(kit, kit_here(), platform.node())
    return function(*args, **kwargs)


def _refuse_other_kit(own: dict[str, str], other: Any, who: str) -> None:
    if other == own:
        return
    if not isinstance(other, dict):
        raise refuse(OPTION, f"{who} cannot load Waterleaf {__version__} ({type(other).__name__}). Install it there.")
    name = next(name for name in own if other.get(name) != own[name])
    raise refuse(
        OPTION, f"{who} has {name} {other.get(name, 'of no version')}, here is {own[name]}: its sheets might differ. "
        "Install the same there, and start it anew."
    )


@functools.cache
def kit_here() -> dict[str, str]:
    """What must be the same wherever work is done: Python, the kit with its very files, and what it prints with."""
    found = {"Waterleaf": f"{__version__} ({_fingerprint()})", "Python": ".".join(platform.python_version_tuple()[:2])}
    for name in _SHOWING:
        found[name] = importlib.metadata.version(name)
    return found


def _fingerprint() -> str:
    """A digest of the kit's own files; a course that is packed beside them does not count, since families travel."""
    root = Path(__file__).parent
    digest = hashlib.blake2b(digest_size=5)
    for path in sorted(root.rglob("*")):
        own = path.relative_to(root)
        if path.is_file() and own.parts[0] != "kit" and "__pycache__" not in own.parts:
            digest.update(own.as_posix().encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()
