"""The same input makes the same bytes anywhere: hash seed, locale, time zone, workers and Python do not count."""

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest

from waterleaf.bench.pythons import NoInstallation, different, environment, made_by, pythons

ROOT = Path(__file__).parents[1]

# What a class gets, what its instructor keeps, what the site offers and what a spreadsheet opens, as digests.
SCRIPT = """
import hashlib, os, sys, tempfile
from pathlib import Path
from waterleaf.bank.builder import load_bank
from waterleaf.printing import make_sheets
from waterleaf.sheets import paper, press
from waterleaf.sheets.paper import Style
from waterleaf.site import store
from waterleaf.marking.tableout import write_csv, write_xlsx

root, workers = Path(sys.argv[1]), int(sys.argv[2])
bank = load_bank(root / "question_bank", {"feed/daily_feed", "sugar/mean_and_spread"})
for system, size in (("metric", "a4"), ("us", "letter")):
    style = Style("Ostrel Quay College", "Worksheet", size, system)
    sheets = list(make_sheets(list(bank.values()), 3, 3, style))
    for kind, lay_out in (("worksheet", paper.worksheets), ("key", paper.keys)):
        for pdf in press.packets(kind, [lay_out([sheet], style) for sheet in sheets], workers):
            print(kind, system, hashlib.sha256(pdf).hexdigest())
store._WORTH_SHARING = 1
os.cpu_count = lambda: workers
for files in store._made(list(bank.values()), 1).values():
    for path, text in sorted(files.items()):
        print(path, hashlib.sha256(text.encode()).hexdigest())
with tempfile.TemporaryDirectory() as folder:
    for name, write in (("t.csv", write_csv), ("t.xlsx", lambda p, h, r: write_xlsx(p, "Table", h, r))):
        write(Path(folder, name), ["sheet", "1a"], [["AB3D-EFGH", 1437.5], ["=x", None]])
        print(name, hashlib.sha256(Path(folder, name).read_bytes()).hexdigest())
"""


def made(workers: int, **environment: str) -> list[str]:
    """The digests of everything, made in a fresh process."""
    ran = subprocess.run(
        [sys.executable, "-P", "-c", SCRIPT, str(ROOT), str(workers)], capture_output=True, text=True, check=True,
        env={**os.environ, "PYTHONPATH": str(ROOT / "generator"), **environment},
    )
    return ran.stdout.splitlines()


def test_sheets_keys_tables_and_site_data_do_not_depend_on_the_machine() -> None:
    """One worker in one corner of the world, two in another."""
    one = made(1, PYTHONHASHSEED="0", LC_ALL="C", TZ="UTC", LANG="C")
    two = made(2, PYTHONHASHSEED="4242", LC_ALL="C.UTF-8", TZ="Asia/Kathmandu", LANG="tr_TR.UTF-8")
    assert len(one) > 20
    assert len(set(one)) == len(one)
    assert one == two


@pytest.mark.whole
def test_every_python_makes_the_same_bytes(tmp_path: Path) -> None:
    """Each other Python that is found here, under the packages of the lock file, makes all that this one makes."""
    others = pythons(os.environ.get("PATH", ""))
    if not others:
        pytest.skip("no other Python from 3.11 on was found, neither on the PATH nor in pyenv's folder")
    mine = made_by(Path(sys.executable), ROOT)
    assert len(mine) > 100
    for version, python in others.items():
        try:
            own = environment(python, ROOT, tmp_path / version)
        except NoInstallation as error:
            pytest.skip(f"Python {version} has not the packages, and they could not be installed: {error}")
        assert different(mine, made_by(own, ROOT)) == [], version


def test_what_differs_or_is_missing_is_named() -> None:
    """Otherwise the comparison of Pythons could not fail."""
    assert different({"a": "1", "b": "2", "c": "3"}, {"a": "1", "b": "9", "d": "4"}) == ["b", "c", "d"]


def test_a_python_that_cannot_be_used_is_passed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Too old, the same as this one, another kind, broken; a newer one is found by its own word."""
    monkeypatch.setenv("PYENV_ROOT", str(tmp_path))
    said = {
        "python3.6": "3 6 15 cpython", "python3.14": "", "python3.11": f"3 {sys.version_info.minor} 1 cpython",
        "python3.12": "3 99 2 cpython", "python3.13": "3 99 1 pypy", "python3-config": "3 98 0 cpython",
    }
    for name, text in said.items():
        (tmp_path / name).write_text(f"#!/bin/sh\necho {text}\n", encoding="utf-8")
        (tmp_path / name).chmod(0o755)
    assert pythons(str(tmp_path)) == {"3.99.2": tmp_path / "python3.12"}


# Sums of whole numbers, which no Python adds in another way.
WHOLE_SUMS = {("ranks.py", "sum((size ** 3 - size for size in sizes))")}


def sums_in(text: str) -> list[str]:
    """Every call of the built-in sum but those of lengths."""
    return [
        ast.unparse(node) for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "sum"
        and not ast.unparse(node).startswith("sum((len(")
    ]


def test_relations_add_numbers_up_in_the_way_of_every_python() -> None:
    """From Python 3.12 on, the built-in sum rounds otherwise than before, and a last digit moves; math.fsum never."""
    package = ROOT / "generator" / "waterleaf"
    paths = [*sorted((package / "calc").rglob("*.py")), package / "bank" / "expressions.py"]
    found = {(path.name, call) for path in paths for call in sums_in(path.read_text(encoding="utf-8"))}
    assert found == WHOLE_SUMS
    assert sums_in("x = sum(readings) / len(readings)") == ["sum(readings)"]
