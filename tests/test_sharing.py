"""Work shared out on this machine: in order, with a flat memory, and with one line where it goes wrong."""

import os
import pickle
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

from classroom import BANK
from waterleaf.draw import draw
from waterleaf.exercise import pose
from waterleaf.faults import Fault, Faults
from waterleaf.growing.posing import standing_still
from waterleaf.sharing import MOST_PROCESSES, Usual, shared
from waterleaf.sheets import paper
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import PressFault

ROOT = Path(__file__).parents[1]


def squared(number: int) -> int:
    """A piece of work; odd ones take a moment longer, so that they would come late."""
    time.sleep(0.01 * (number % 2))
    return number * number


def where(_piece: int) -> tuple[int, int]:
    """Process and thread that a piece is done by."""
    return os.getpid(), threading.get_ident()


def refused(number: int) -> int:
    """A piece that ends in two faults."""
    raise Faults([Fault(f"sheet {number}", "name", "is missing."), Fault("b.yaml:3", "", "is odd.")])


def unprintable(_piece: int) -> int:
    """A piece that the press refuses."""
    raise PressFault("no font has the letter")


def struck(_piece: int) -> int:
    """A piece that costs the process its life, as the system does where memory is out."""
    os.kill(os.getpid(), signal.SIGKILL)
    return 0


@pytest.mark.parametrize(("word", "usual"), [("1", "here"), (None, "here"), (None, "threads"), ("2", "here")])
def test_results_come_in_the_order_of_the_pieces(word: str | None, usual: Usual) -> None:
    """Whoever does the work, and however long a piece takes."""
    with shared(word, usual) as hands:
        assert list(hands.in_order(squared, range(20))) == [number * number for number in range(20)]


def test_one_word_says_who_works() -> None:
    """One is this process, a number so many others, and without a word it is as usual."""
    own = os.getpid(), threading.get_ident()
    with shared("1", "processes") as hands:
        assert set(hands.in_order(where, range(3))) == {own}
    with shared(None, "threads") as hands:
        found = set(hands.in_order(where, range(3)))
        assert {process for process, _ in found} == {own[0]}
        assert own not in found
    with shared("2", "here") as hands:
        assert own[0] not in {process for process, _ in hands.in_order(where, range(3))}


@pytest.mark.parametrize(
    "word",
    ["0", "61", "-1", "2.5", "two", "", "٣", "tcp://", "tcp://host", "http://host:8786", "tcp://a:1/x", "tcp://a b:1"],
)
def test_a_word_that_is_neither_number_nor_address_is_refused(word: str) -> None:
    """The line names the word and both ways to write it."""
    neither = f"--workers: .* is neither a number from 1 to {MOST_PROCESSES} nor the address"
    with pytest.raises(Faults, match=neither), shared(word):
        pass


@pytest.mark.parametrize("usual", ["here", "threads"])
def test_pieces_are_taken_as_they_are_needed(usual: Usual) -> None:
    """A state's worth of sheets never lies in memory: only a few pieces are ahead of what was put in place."""
    taken = 0

    def pieces() -> Iterator[int]:
        nonlocal taken
        for number in range(100):
            taken = number + 1
            yield number

    with shared(None, usual) as hands:
        ahead = [taken - place for place, _ in enumerate(hands.in_order(squared, pieces()), start=1)]
    assert taken == 100
    assert max(ahead) <= (0 if usual == "here" else 6)


@pytest.mark.parametrize("word", ["1", "2"])
def test_what_a_piece_is_refused_for_arrives_whole(word: str) -> None:
    """Every fault keeps its file, field and mend on the way from another process."""
    with pytest.raises(Faults) as caught, shared(word) as hands:
        list(hands.in_order(refused, range(3)))
    assert str(caught.value) == "sheet 0: name: is missing.\nb.yaml:3: is odd."
    assert len(caught.value.faults) == 2
    with pytest.raises(PressFault, match="no font has the letter"), shared(word) as hands:
        list(hands.in_order(unprintable, range(3)))


def test_a_process_that_is_killed_is_told_in_one_line() -> None:
    """Where the system takes a process away, the line says what to try."""
    told = r"--workers: a process that helped was killed.* --workers 1\.$"
    with pytest.raises(Faults, match=told), shared("2") as hands:
        list(hands.in_order(struck, range(3)))


def test_families_travel_as_data_and_pose_the_same_sheets() -> None:
    """A family that arrives in another process is compiled again, and only once."""
    own = standing_still(BANK["feed/daily_feed"], {"bed_area": 24.0})
    for family in (*BANK.values(), own):
        sent = pickle.dumps(family)
        again = pickle.loads(sent)
        assert again is not family
        assert again is pickle.loads(sent)
        assert (again.identity, again.file) == (family.identity, family.file)
        for system in ("metric", "us"):
            one, other = (
                paper.keys([Sheet((pose(draw(found, 7), system),))], Style(system=system)) for found in (family, again)
            )
            assert one == other


@contextmanager
def at_work() -> Iterator[subprocess.Popen[str]]:
    """A proof of the bank that would take minutes, with both of the processes that help it under way."""
    words = [sys.executable, "-P", "-m", "waterleaf", "bank", "check", "--draws", "100000", "--workers", "2"]
    with subprocess.Popen(
        words, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True,
        # A suite that runs in the background hands on that it does not listen to Ctrl-C.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    ) as run:
        try:
            while len(members(run.pid)) < 4 and run.poll() is None:  # itself, the one that tidies up, two that help
                time.sleep(0.05)
            yield run
        finally:
            with suppress(ProcessLookupError):
                os.killpg(run.pid, signal.SIGKILL)


@pytest.mark.skipif(not hasattr(os, "killpg"), reason="a system without groups of processes")
def test_ctrl_c_ends_all_processes_in_one_line() -> None:
    """The key that is pressed reaches all of them at once; none prints where it was, and none stays."""
    with at_work() as run:
        os.killpg(run.pid, signal.SIGINT)
        out, err = run.communicate(timeout=60)
        assert (out, err) == ("", "Stopped. Whatever was finished before is untouched.\n")
        assert run.returncode == 130
        assert not members(run.pid)


@pytest.mark.skipif(not hasattr(os, "killpg"), reason="a system without groups of processes")
def test_processes_that_help_do_not_outlive_the_one_that_asked() -> None:
    """A run that is killed leaves nobody behind who works for nothing."""
    with at_work() as run:
        run.kill()
        run.wait()
        deadline = time.monotonic() + 60
        while members(run.pid) and time.monotonic() < deadline:
            time.sleep(0.05)
        assert not members(run.pid)


def members(group: int) -> list[int]:
    """The living processes of a group."""
    listed = subprocess.run(["ps", "-eo", "pid=,pgid=,stat="], capture_output=True, text=True, check=True).stdout
    rows = (line.split() for line in listed.splitlines())
    return [int(pid) for pid, pgid, state, *_ in rows if int(pgid) == group and not state.startswith("Z")]
