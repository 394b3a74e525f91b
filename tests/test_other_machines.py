"""Work on a real Dask scheduler with two workers, one of which dies in the middle: the same bytes, and nothing lost."""

import itertools
import shutil
import socket
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

import papers_room
from classroom import BANK, KEYS, quiet, small_bank
from dask_room import GENERATOR, Cluster, cluster
from waterleaf import sharing
from waterleaf.commands.assign import assign_sheets
from waterleaf.commands.bank import check_bank
from waterleaf.commands.mark import mark_class
from waterleaf.commands.papers import make_papers
from waterleaf.commands.sheets import Wish, make_packets
from waterleaf.faults import Faults
from waterleaf.marking import classmarks
from waterleaf.marking.issuebook import read_book
from waterleaf.sheets import press
from waterleaf.trial import simulate
from waterleaf.trial.lines import worked_out

STUDENTS = 12
ASSIGNMENT = "id: week-3\ntitle: Feed\nsite: https://school.example/growing\nquestions:\n" + "".join(
    f"  - family: {key}\n" for key in KEYS
)


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Cluster]:
    """A scheduler; its workers come and go."""
    with cluster(tmp_path_factory.mktemp("cluster"), 0) as made:
        yield made


@pytest.fixture
def two(room: Cluster) -> Cluster:
    """The scheduler with two workers that are at work."""
    while len(room.workers) < 2:
        room.add_worker()
    room.wait_for(2)
    return room


@pytest.fixture(autouse=True)
def _small_pieces(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pieces so small that both workers have some when the first is done, and a bank of three families."""
    monkeypatch.setattr(press, "SHEETS_AT_ONCE", 2)
    monkeypatch.setattr(classmarks, "_SHEETS_AT_ONCE", 2)
    small_bank(monkeypatch, BANK, "assign", "mark")
    monkeypatch.setattr("waterleaf.commands.options.families", lambda *_: 4 * list(BANK.values()))


def killing(room: Cluster) -> Callable[[float], None]:
    """A progress bar that ends one of the workers at its first step."""

    def step(_done: float) -> None:
        if len(room.workers) == 2:
            room.kill_a_worker()

    return step


def everything(folder: Path) -> dict[str, bytes]:
    """All files below a folder, by name."""
    found = {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    assert found
    return found


@pytest.mark.parametrize(("separate", "files"), [(False, 16), (True, 32)])
def test_sheets_and_keys_survive_a_worker(two: Cluster, tmp_path: Path, separate: bool, files: int) -> None:
    """Packets and separate files are those of this machine alone."""
    made = []
    for name, progress, workers in (("alone", quiet, None), ("far", killing(two), two.address)):
        make_packets(Wish(16, seed="5", separate=separate, out=tmp_path / name, workers=workers), progress)
        made.append(everything(tmp_path / name))
    assert len(made[0]) == files
    assert made[0] == made[1]
    assert len(two.workers) == 1


def test_a_proof_of_the_bank_survives_a_worker(two: Cluster) -> None:
    """Every family has its line, in order, with the figures of this machine alone."""

    @contextmanager
    def bar(step: Callable[[float], None]) -> Iterator[Any]:
        yield step

    alone = check_bank(40, "", None, True, lambda *_: bar(quiet), "1")
    assert all(key in alone[0] for key in KEYS)
    assert check_bank(40, "", None, True, lambda *_: bar(killing(two)), two.address) == alone
    assert len(two.workers) == 1


def class_folder(place: Path) -> Path:
    """A class with some large print, a secret and an assignment."""
    place.mkdir()
    rows = [f"S{number:02d},Student {number},{'' if number % 3 else 'large print'}" for number in range(STUDENTS)]
    (place / "class.csv").write_text("\n".join(["id,name,accommodations", *rows]) + "\n", encoding="utf-8")
    (place / "class-secret.txt").write_text("0123456789abcdef" * 4 + "\n", encoding="utf-8")
    (place / "assignment.yaml").write_text(ASSIGNMENT, encoding="utf-8")
    return place


@pytest.fixture(scope="module")
def given_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The class with its sheets, printed by this machine alone, and answers of which some are wrong or odd."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(press, "SHEETS_AT_ONCE", 2)
        small_bank(patch, BANK, "assign")
        folder = class_folder(tmp_path_factory.mktemp("class") / "class")
        assign_sheets(folder, "assignment.yaml", None, quiet)
    table = folder / "week-3" / "responses.csv"
    head, *rows = table.read_text(encoding="utf-8-sig").splitlines()
    columns = head.split(",")
    lines = [head]
    for place, row in enumerate(rows):
        cells = row.split(",")
        cells[2:] = [("A", "12.5 g", "1,200", "名")[(place + column) % 4] for column in range(2, len(columns))]
        lines.append(",".join(cells) if place != 5 else row)
    table.write_text("\n".join(line.replace("1,200", '"1,200"') for line in lines) + "\n", encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def marked_alone(given_out: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[int, dict[str, bytes]]:
    """How many answers wait for a decision, and all that comes of marking on this machine alone."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(press, "SHEETS_AT_ONCE", 2)
        small_bank(patch, BANK, "mark")
        return marked(given_out, tmp_path_factory.mktemp("alone") / "class", quiet, "1")


def marked(
    given_out: Path, folder: Path, progress: Callable[[float], None], workers: str
) -> tuple[int, dict[str, bytes]]:
    """The class marked in a folder of its own."""
    shutil.copytree(given_out, folder)
    return mark_class(folder, None, True, progress, workers)[1], everything(folder / "week-3" / "marked")


def same_assignment(folder: Path, given_out: Path) -> None:
    """Two class folders have the same book, links and prints."""
    assert read_book(folder) == read_book(given_out)
    for part in ("sheets", "keys"):
        assert everything(folder / "week-3" / part) == everything(given_out / "week-3" / part)
    assert (folder / "week-3" / "self-check.csv").read_bytes() == (given_out / "week-3" / "self-check.csv").read_bytes()


def test_an_assignment_survives_a_worker(two: Cluster, given_out: Path, tmp_path: Path) -> None:
    """Key book, answer grid, packets, separate sheets, links and the book are those of this machine alone."""
    folder = class_folder(tmp_path / "class")
    assign_sheets(folder, "assignment.yaml", None, killing(two), None, two.address)
    assert len(two.workers) == 1
    same_assignment(folder, given_out)


def test_marking_survives_a_worker(
    two: Cluster, given_out: Path, marked_alone: tuple[int, dict[str, bytes]], tmp_path: Path
) -> None:
    """Marks, verdicts, the short list, feedback and the report are those of this machine alone."""
    assert marked_alone[0] > 0
    assert marked(given_out, tmp_path / "class", killing(two), two.address) == marked_alone
    assert len(two.workers) == 1


def test_two_processes_print_an_assignment_alike(given_out: Path, tmp_path: Path) -> None:
    """What threads of one process print, two processes print byte for byte."""
    folder = class_folder(tmp_path / "class")
    assign_sheets(folder, "assignment.yaml", None, quiet, None, "2")
    same_assignment(folder, given_out)


def test_two_processes_mark_alike(
    given_out: Path, marked_alone: tuple[int, dict[str, bytes]], tmp_path: Path
) -> None:
    """What one process marks, two mark byte for byte."""
    assert marked(given_out, tmp_path / "class", quiet, "2") == marked_alone


def test_two_processes_print_sheets_alike(tmp_path: Path) -> None:
    """Sheets of one process, of two, and of the quick way without a number are the same."""
    for name, workers in (("usual", None), ("one", "1"), ("two", "2")):
        wish = Wish(6, seed="5", paper="letter", units="us", out=tmp_path / name, workers=workers)
        make_packets(wish, quiet)
    assert everything(tmp_path / "usual") == everything(tmp_path / "one") == everything(tmp_path / "two")


def test_papers_survive_a_worker(two: Cluster, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Packets and every copy are those of this machine alone."""
    small_bank(monkeypatch, papers_room.BANK, "papers")
    made = []
    for name, progress, workers in (("alone", quiet, None), ("far", killing(two), two.address)):
        folder = papers_room.fish_class(tmp_path / name)
        (folder / "class-secret.txt").write_text(f"{papers_room.SECRET}\n", encoding="utf-8")
        (folder / "test-plan.yaml").write_text(papers_room.PLAN, encoding="utf-8")
        make_papers(folder, "test-plan.yaml", progress, workers)
        made.append(everything(folder / "mid-term" / "papers"))
    assert made[0] == made[1]
    assert len(two.workers) == 1


def test_a_simulation_survives_a_worker(two: Cluster) -> None:
    """Every line has a seed of its own, so it is the same wherever it is worked out."""
    lines = list(itertools.islice(simulate.lines(50), 16))
    with sharing.shared(two.address) as hands:
        found = []
        for text in hands.in_order(worked_out, lines):
            found.append(text)
            killing(two)(1)
    assert found == [worked_out(line) for line in lines]
    assert len(two.workers) == 1


def test_a_scheduler_that_goes_away_is_told_in_one_line(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    """Nobody waits for ever for work that nobody does, and nothing but the line is said."""
    with cluster(tmp_path, 1) as room:
        room.wait_for(1)

        def step(_done: float) -> None:
            room.scheduler.kill()
            room.scheduler.wait()

        told = f"--workers: the scheduler at {room.address} went away"
        with pytest.raises(Faults, match=told):
            make_packets(Wish(60, seed="5", out=tmp_path / "out", workers=room.address), step)
    assert not (tmp_path / "out").exists()
    assert capfd.readouterr() == ("", "")


def test_a_scheduler_that_does_not_answer_is_told_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    """The line names the address and how a scheduler is started."""
    monkeypatch.setattr(sharing, "_PATIENCE", 0.5)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        address = f"tcp://127.0.0.1:{free.getsockname()[1]}"
    told = f"--workers: no scheduler answers at {address} .*dask scheduler"
    with pytest.raises(Faults, match=told), sharing.shared(address):
        pass


def test_without_the_extra_the_line_names_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The kit works without Dask; who names a scheduler is told what to install."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(Faults, match=r"pip install 'waterleaf\[workers\]'"), sharing.shared("tcp://127.0.0.1:8786"):
        pass


def test_a_scheduler_without_workers_and_workers_with_another_kit_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another kit may print other sheets, so its workers get none to print, even if it has the same number."""
    other = tmp_path / "generator"
    shutil.copytree(GENERATOR, other, ignore=shutil.ignore_patterns("__pycache__"))
    with (other / "waterleaf" / "draw.py").open("a", encoding="utf-8") as handle:
        handle.write("# changed by hand\n")
    with cluster(tmp_path, 0) as room:
        with monkeypatch.context() as patch:
            patch.setattr(sharing, "_PATIENCE", 0.5)
            told = f"{room.address} has no workers. Start one: dask worker {room.address}"
            with pytest.raises(Faults, match=told), sharing.shared(room.address):
                pass
        room.add_worker(other)
        room.wait_for(1)
        told = r"has Waterleaf ([\d.]+) \(\w+\), here is \1 \(\w+\): its sheets might differ"
        with pytest.raises(Faults, match=told), sharing.shared(room.address):
            pass


def test_a_worker_that_comes_later_is_asked_too() -> None:
    """Each piece names the kit that it wants."""
    kit = {**sharing.kit_here(), "typst": "0.0.1"}
    with pytest.raises(Faults, match=r"has typst [\d.]+, here is 0\.0\.1"):
        sharing._with_this_kit(kit, abs, -1)
    assert sharing._with_this_kit(sharing.kit_here(), abs, -1) == 1
