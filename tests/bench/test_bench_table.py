"""The table of figures: what is chosen, how a row reads, and that a stopped bench has lost nothing."""

from collections import defaultdict
from pathlib import Path
from typing import Any

import pytest

from waterleaf.bench import __main__ as bench
from waterleaf.bench.figures import Row, Table, each
from waterleaf.bench.runs import Run, in_turn, median, run

ROOT = Path(__file__).parents[2]
# A bank in which every family is found; nothing is measured with it.
_ANY: Any = defaultdict(str)


def test_every_row_is_kept_as_it_comes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The file is a whole table after the first row already, and says what was shown."""
    out = tmp_path / "figures.md"
    table = Table(out)
    table.add(Row("sheets", 100, Run(2.0, 90.4), 5, "Typst alone", Run(1.6, 80.0), "the same PDFs"))
    first = out.read_text(encoding="utf-8")
    table.add(Row("start", 1, Run(0.1, 0.0), 5))
    assert first.count("\n") == 5
    assert out.read_text(encoding="utf-8").startswith(first)
    assert out.read_text(encoding="utf-8") == capsys.readouterr().out


def test_a_row_says_its_cost_for_one_item_and_its_ratio(tmp_path: Path) -> None:
    """From which growth can be read: seconds, seconds an item, and against what."""
    out = tmp_path / "figures.md"
    Table(out).add(Row("sheets", 1000, Run(20.0, 90.4), 5, "Typst alone", Run(16.0, 80.0)))
    cells = [cell.strip() for cell in out.read_text(encoding="utf-8").splitlines()[-1].strip("|").split("|")]
    assert cells == ["sheets", "1,000", "20.0", "20 ms", "Typst alone", "16.0", "1.25", "90", "80", "5", ""]


def test_rows_have_as_many_cells_as_there_are_heads(tmp_path: Path) -> None:
    """Otherwise a reader of Markdown shows no table."""
    out = tmp_path / "figures.md"
    Table(out).add(Row("start", 1, Run(0.1, 0.0), 5))
    assert len({line.count("|") for line in out.read_text(encoding="utf-8").splitlines()[2:]}) == 1


@pytest.mark.parametrize(
    ("seconds", "text"),
    [(2.0, "2 s"), (0.99997, "1 s"), (0.0314, "31.4 ms"), (0.00099997, "1 ms"), (0.000012, "12 µs")],
)
def test_a_time_for_one_item_has_a_unit_that_suits_it(seconds: float, text: str) -> None:
    """Seconds, thousandths or millionths."""
    assert each(seconds) == text


def test_the_median_keeps_the_largest_memory() -> None:
    """The middle time, since one slow run says nothing; the largest memory, since a machine must have it."""
    assert median([Run(3.0, 10.0), Run(1.0, 30.0), Run(2.0, 20.0)]) == Run(2.0, 30.0)


def test_commands_are_run_turn_about() -> None:
    """What else the machine does falls on each of them."""
    order: list[str] = []

    def command(name: str) -> Run:
        order.append(name)
        return Run(float(len(order)), 0.0)

    costs = in_turn({"one": lambda: command("one"), "two": lambda: command("two")}, 3)
    assert order == ["one", "two"] * 3
    assert (costs["one"].seconds, costs["two"].seconds) == (3.0, 4.0)


def test_the_memory_of_the_bench_itself_is_not_counted() -> None:
    """A process inherits its parent's mark; a small one stands between."""
    held = bytearray(200 * 2**20)
    held[::4096] = b"x" * len(held[::4096])
    assert run("waterleaf", "--version", home=ROOT).megabytes < 100


def test_what_a_command_says_is_kept() -> None:
    """The engines tell how many pages they made."""
    assert "waterleaf 0" in run("waterleaf", "--version", home=ROOT).said


def test_sizes_above_the_largest_are_left_out() -> None:
    """`--most` bounds sheets, students, and the long runs for memory."""
    small, large = ({(job.name, job.what) for job in bench.jobs(ROOT, _ANY, 5, most)} for most in (100, 100_000))
    assert ("sheets", "100 sheets") in small
    assert not any("1,000" in what for name, what in small if name in ("sheets", "engines", "mark", "memory"))
    assert {("memory", "100,000 sheets"), ("mark", "100,000 students"), ("engines", "10,000 sheets")} <= large


def test_only_what_was_named_is_measured() -> None:
    """In the order of the table."""
    found = bench.jobs(ROOT, _ANY, 1, 1)
    assert [job.name for job in bench._chosen(found, "assign, start")] == ["start", "assign"]
    assert bench._chosen(found, "") == found


def test_a_name_that_is_not_known_is_refused() -> None:
    """With the names that are."""
    with pytest.raises(SystemExit, match=r"--only starts: not known\. Choose from start, draws, sheets"):
        bench._chosen(bench.jobs(ROOT, _ANY, 1, 1), "starts")
