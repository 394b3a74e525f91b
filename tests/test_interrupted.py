"""A command that is killed loses nothing; a run that is stopped or cannot write says so in one line."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from waterleaf.bench.interrupted import Bout, Outcome, look, table
from waterleaf.bench.workshop import SCENES
from waterleaf.endings import _STOPPED, INTERRUPTED
from waterleaf.trial.frozen import freeze, frozen_path, thaw
from waterleaf.trial.plan import load_plan

ROOT = Path(__file__).parents[1]
COMMAND = [sys.executable, "-P", "-m", "waterleaf"]
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT / "generator"), "PYTHONUTF8": "1"}


def test_killed_commands_lose_nothing() -> None:
    """Old or new, byte for byte; books parse; the next run ends as if nothing had been. The bench does many more."""
    words = ["--kills", "4", "--only", "assign,sheets", "--forked", "--seed", "7"]
    ran = subprocess.run(
        [sys.executable, "-P", "-m", "waterleaf.bench.interrupted", *words], env=ENVIRONMENT, cwd=ROOT,
        capture_output=True, text=True, check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    rows = {line.split()[0]: [int(cell) for cell in line.split()[1:]] for line in ran.stdout.splitlines()[1:]}
    for name in ("sheets", "assign"):
        kills, at_a_step, too_late, _aside, broken, _seconds = rows[name]
        assert (kills, broken) == (2, 0), ran.stdout
        assert at_a_step >= 1, ran.stdout
        assert too_late < kills, ran.stdout


def test_what_is_torn_is_found(tmp_path: Path) -> None:
    """The look after a kill sees a file cut short, a lost folder and a book that does not parse."""
    scene = next(scene for scene in SCENES if scene.name == "sheets")
    whole = {"out": {"a.pdf": b"whole", "b.pdf": b"whole"}}
    bout = Bout(scene, tmp_path, whole, {"out": {"a.pdf": b"new"}}, 1, 1.0)
    place = tmp_path / "now"
    (place / "out").mkdir(parents=True)
    outcome = Outcome("sheets")
    assert look(bout, place, outcome) == ["out: neither the old output nor the new one"]
    (place / "out" / "a.pdf").write_bytes(b"who")
    assert look(bout, place, outcome) == ["out: neither the old output nor the new one"]
    (place / "out" / "a.pdf").write_bytes(b"new")
    assert look(bout, place, outcome) == []
    outcome.broken.append("step 3 of 9: torn")
    assert "torn" in table([outcome])


def test_ctrl_c_ends_in_one_line_and_leaves_the_last_good_output(tmp_path: Path) -> None:
    """As soon as the run has begun to write beside the old folder, it is interrupted."""
    words = [*COMMAND, "sheets", "--families", "feed/daily_feed", "--out", str(tmp_path / "out")]
    subprocess.run([*words, "--count", "1"], env=ENVIRONMENT, check=True, capture_output=True)
    before = {path: path.read_bytes() for path in (tmp_path / "out").rglob("*.pdf")}
    child = subprocess.Popen(
        [*words, "--count", "5000"], env=ENVIRONMENT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        # A suite that runs in the background hands on that it does not listen to Ctrl-C.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )
    while not list(tmp_path.glob(".out-new-*")) and child.poll() is None:
        time.sleep(0.01)
    child.send_signal(signal.SIGINT)
    told, said = child.communicate(timeout=60)
    assert (child.returncode, told, said) == (130, "", "Stopped. Whatever was finished before is untouched.\n")
    assert {path: path.read_bytes() for path in (tmp_path / "out").rglob("*.pdf")} == before
    assert sorted(path.name for path in tmp_path.iterdir()) == [".out-lock", "out"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_an_output_that_is_full_is_told_in_one_line() -> None:
    """The answer went nowhere, so the status says that it did not arrive."""
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        ran = subprocess.run(
            [*COMMAND, "--version"], env=ENVIRONMENT, stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert ran.returncode == 2
    assert ran.stderr == "output: No space left on device. Free some space, or mend the permissions.\n"


def test_a_reader_who_has_seen_enough_is_no_fault() -> None:
    """A pipe that is closed at its other end ends the run in silence."""
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "w") as pipe:
        ran = subprocess.run(
            [*COMMAND, "--version"], env=ENVIRONMENT, stdout=pipe, stderr=subprocess.PIPE, text=True, check=False
        )
    assert (ran.returncode, ran.stderr) == (1, "")


def test_a_clock_set_back_changes_no_frozen_plan(tmp_path: Path) -> None:
    """Frozen again on an earlier day, the plan keeps its first date and every byte."""
    path = tmp_path / "trial.yaml"
    path.write_bytes((ROOT / "course" / "demo" / "trial-lettuce.yaml").read_bytes())
    freeze(load_plan(path), path, "2026-03-02")
    before = frozen_path(path).read_bytes()
    freeze(load_plan(path), path, "1970-01-01")
    assert frozen_path(path).read_bytes() == before
    frozen = thaw(path)
    assert frozen is not None
    assert (frozen.date, frozen.intact) == ("2026-03-02", True)


def test_ctrl_c_while_the_command_still_loads_ends_in_the_same_line(tmp_path: Path) -> None:
    """A part that is interrupted while it loads; the message and the status are those of any other interruption."""
    paths = [str(tmp_path), ENVIRONMENT["PYTHONPATH"]]
    (tmp_path / "typer.py").write_text("raise KeyboardInterrupt\n", encoding="utf-8")
    ran = subprocess.run(
        [*COMMAND, "--version"], env={**ENVIRONMENT, "PYTHONPATH": os.pathsep.join(paths)},
        capture_output=True, text=True, check=False,
    )
    assert (ran.returncode, ran.stdout, ran.stderr) == (INTERRUPTED, "", f"{_STOPPED}\n")
