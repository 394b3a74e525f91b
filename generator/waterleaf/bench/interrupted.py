"""Kills commands at random moments and looks whether anything was lost: `python -m waterleaf.bench.interrupted`.

Each kill starts from a workshop in which the command has run before, and runs it again to another result. Half of the
kills come at a random moment of the run, half at one of its steps on files (see `struck`), where harm is likeliest.
Then, whatever is kept must be what it was or what the whole run makes of it, byte for byte; books must parse; and the
next run must succeed and end as a run does that nobody disturbed.
"""

import argparse
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from waterleaf.bench.struck import Child
from waterleaf.bench.workshop import SCENES, Scene, lay_out
from waterleaf.home import find_home

# How the kills are shared out, in parts: a whole build takes long.
_SHARES: Final = {
    "sheets": 4, "assign": 5, "practicals": 3, "mark": 5, "trial freeze": 3, "trial print": 3, "trial report": 2,
    "build": 1,
}
_LONGEST: Final = 600.0


@dataclass(slots=True)
class Outcome:
    """What came of the kills of one command."""

    name: str
    kills: int = 0
    struck: int = 0  # of these, at a step on files
    late: int = 0  # the run had ended before the kill
    aside: int = 0  # the kill fell between two renames: the last good output lay aside until the next run
    seconds: float = 0.0
    broken: list[str] = field(default_factory=list)


def start(
    place: Path, words: Sequence[str], strike: int, errors: Path, forked: bool
) -> subprocess.Popen[bytes] | Child:
    """Start a command under the hook (see `struck`), in a fresh process or as a fork of this one."""
    if forked:
        return Child(place, words, strike, errors)
    with errors.open("wb") as told:
        return subprocess.Popen(
            [sys.executable, "-P", "-m", "waterleaf.bench.struck", str(place), str(strike), *words], cwd=place,
            stdout=subprocess.DEVNULL, stderr=told,
        )


def whole_run(place: Path, scene: Scene, forked: bool) -> str:
    """Run a command to its end; what it wrote to standard error. Raises CalledProcessError where it fails."""
    errors = place.with_name("errors.txt")
    status = start(place, scene.words, 0, errors, forked).wait(_LONGEST)
    told = errors.read_text(encoding="utf-8", errors="replace")
    if status not in scene.fine:
        raise subprocess.CalledProcessError(status, scene.words, "", told)
    return told


def killed_run(place: Path, scene: Scene, delay: float | None, strike: int | None, forked: bool) -> bool:
    """Run a command and kill it after some seconds, or at a step; whether it was killed before its end."""
    child = start(place, scene.words, strike or 0, place.with_name("errors.txt"), forked)
    try:
        child.wait(_LONGEST if delay is None else delay)
    except subprocess.TimeoutExpired:
        child.kill()
    return child.wait(_LONGEST) == -signal.SIGKILL


@dataclass(frozen=True, slots=True)
class Bout:
    """A command with its workshop before and after an undisturbed run, the steps of that run and its time."""

    scene: Scene
    before: Path
    old: dict[str, dict[str, bytes]]
    new: dict[str, dict[str, bytes]]
    steps: int
    seconds: float
    forked: bool = False


def prepare(scene: Scene, home: Path, folder: Path, forked: bool = False) -> Bout:
    """Lay the workshop out, run the command for the first time, change its input, and see what a whole run makes."""
    before, after = folder / "before", folder / "after"
    lay_out(scene, home, before)
    if scene.first:
        whole_run(before, scene, forked)
    scene.change(before)
    old = scene.kept(before)
    shutil.copytree(before, after)
    start = time.perf_counter()
    told = whole_run(after, scene, forked)
    seconds = time.perf_counter() - start
    return Bout(scene, before, old, scene.kept(after), int(told.strip().splitlines()[-1]), seconds, forked)


def strike_once(bout: Bout, place: Path, chance: random.Random, outcome: Outcome) -> None:
    """One kill, the look at what it left, and the next run."""
    shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(bout.before, place)
    outcome.kills += 1
    step = chance.randint(1, bout.steps) if chance.random() < 0.5 else None
    outcome.struck += step is not None
    delay = None if step else bout.seconds * chance.uniform(0.2, 1.0)
    if not killed_run(place, bout.scene, delay, step, bout.forked):
        outcome.late += 1
    label = f"step {step} of {bout.steps}" if step else f"after {delay:.2f} s"
    complaints = look(bout, place, outcome)
    try:
        if not (bout.scene.once and bout.scene.kept(place) == bout.new):
            whole_run(place, bout.scene, bout.forked)
        found = bout.scene.kept(place)
        complaints += [
            f"{name}: the next run did not end as an undisturbed one" for name, held in bout.new.items()
            if name not in bout.scene.loose and found[name] != held
        ]
        complaints += bout.scene.sound(place)
    except subprocess.CalledProcessError as error:
        complaints.append(f"the next run failed: {error.stderr.strip()[-200:]}")
    outcome.broken += [f"{label}: {complaint}" for complaint in complaints]


def look(bout: Bout, place: Path, outcome: Outcome) -> list[str]:
    """What is neither as before nor as after a whole run."""
    found = bout.scene.kept(place)
    complaints = []
    for name, held in found.items():
        if held in (bout.old[name], bout.new[name]):
            continue
        aside = bout.scene.aside(place, name)
        if not held and aside == bout.old[name]:
            outcome.aside += 1
            continue
        complaints.append(f"{name}: neither the old output nor the new one")
    return complaints + bout.scene.readable(place)


def run(kills: int, seed: int, names: Sequence[str], home: Path, forked: bool = False) -> list[Outcome]:
    """Share the kills among some commands, and do them."""
    total = sum(_SHARES[name] for name in names)
    outcomes = []
    for scene in (scene for scene in SCENES if scene.name in names):
        outcome = Outcome(scene.name)
        chance = random.Random(f"{seed}:{scene.name}")
        start = time.perf_counter()
        with tempfile.TemporaryDirectory(prefix="waterleaf-killed-") as folder:
            bout = prepare(scene, home, Path(folder), forked)
            for _ in range(max(1, round(kills * _SHARES[scene.name] / total))):
                strike_once(bout, Path(folder) / "now", chance, outcome)
        outcome.seconds = time.perf_counter() - start
        outcomes.append(outcome)
    return outcomes


def table(outcomes: Sequence[Outcome]) -> str:
    """The outcomes as lines, with everything that was found broken."""
    heads = ("kills", "at a step", "too late", "lay aside", "broken", "seconds")
    lines = [f"{'command':<14}" + "".join(f"{head:>11}" for head in heads)]
    for one in outcomes:
        lines.append(
            f"{one.name:<14}{one.kills:>11}{one.struck:>11}{one.late:>11}{one.aside:>11}{len(one.broken):>11}"
            f"{one.seconds:>11.0f}"
        )
        lines += [f"    {complaint}" for complaint in one.broken]
    return "\n".join(lines)


def main() -> None:
    """Print the table; exit status 1 where anything was broken."""
    reader = argparse.ArgumentParser(prog="waterleaf.bench.interrupted", description=__doc__.splitlines()[0])
    reader.add_argument("--kills", type=int, default=200, help="how many in all (200)")
    reader.add_argument("--seed", type=int, default=1, help="another number, other moments (1)")
    reader.add_argument("--only", default=",".join(_SHARES), help="commands, separated by commas (all)")
    reader.add_argument("--forked", action="store_true", help="fork each run from this process: fast, and less alike")
    words = reader.parse_args()
    names = [name.strip() for name in words.only.split(",")]
    if not set(names) <= set(_SHARES):
        reader.error(f"commands are {', '.join(_SHARES)}")
    outcomes = run(words.kills, words.seed, names, find_home(), words.forked)
    print(table(outcomes))
    sys.exit(any(one.broken for one in outcomes))


if __name__ == "__main__":
    main()
