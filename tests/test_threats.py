"""What could go wrong, and what holds it: the contributor guide's table, and tests of what no other file tests."""

import ast
import re
import struct
from collections.abc import Iterator
from pathlib import Path

import pytest
from jinja2.exceptions import SecurityError

from classroom import assignment, exercises, issued_to
from waterleaf.bank import story
from waterleaf.bank.expressions import compile_expression
from waterleaf.classwork.worked import worked_page
from waterleaf.commands.author import new_family
from waterleaf.faults import Faults
from waterleaf.marking.checklink import check_links
from waterleaf.marking.issuebook import Issued
from waterleaf.trial.plan import load_plan

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "generator" / "waterleaf"
SECTION = "## What could go wrong, and what holds it"

# Where code is made or loaded at run time, and why that is no door. A new place needs a reason here.
RUNNING = {
    ("bank/expressions.py", "eval"): "sums of a family file, after every node of their tree was found on a short list",
    ("bank/expressions.py", "compile"): "the same sums",
    ("working/steps.py", "eval"): "lines of the kit's own relations, read from its source, never from data",
    ("working/steps.py", "compile"): "the same lines",
    ("calc/__init__.py", "import_module"): "the topics of the calc module, by the list in its source",
    ("bank/builder.py", "pickle"): "copyreg's word for how families go to processes of the same kit; nothing is read",
    ("sharing.py", "distributed"): "a scheduler that a person names on the command line, and no file ever does",
}
DOORS = {
    "eval", "exec", "compile", "__import__", "import_module", "pickle", "marshal", "shelve", "dill", "runpy", "code",
    "loads", "load", "system", "popen", "subprocess", "ctypes", "socket", "urllib", "requests",
    "http", "distributed",
}
# Reading data by these is no running of it.
PLAIN = {"json"}
# Only the bench starts other programs; it runs by hand.
BENCH = {"subprocess"}


def called(path: Path) -> Iterator[tuple[str, int]]:
    """Every call or import in a file that could run or fetch what it is given."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((alias.name.split(".")[0], node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from ((name, node.lineno) for name in ((node.module or "").split(".")[0],))
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            yield node.func.id, node.lineno
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            owner = node.func.value.id if isinstance(node.func.value, ast.Name) else ""
            harmless = {"compile": True, "system": owner == "platform"}  # patterns and the press compile texts
            if owner not in PLAIN and not harmless.get(node.func.attr):
                yield node.func.attr, node.lineno


def test_nothing_that_is_read_is_ever_run() -> None:
    """No eval, exec, pickle, dynamic import or network but at the places listed above, each with its reason."""
    found = set()
    for path in PACKAGE.rglob("*.py"):
        name = path.relative_to(PACKAGE).as_posix()
        for word, line in called(path):
            if word in DOORS and not (name.startswith("bench/") and word in BENCH):
                assert (name, word) in RUNNING, f"{name}:{line} uses {word}; if that is sound, list it with its reason"
                found.add((name, word))
    assert found == set(RUNNING), "a place is listed that is not there any more"


@pytest.mark.parametrize(
    "text",
    ["eval(x)", "__import__('os')", "import pickle", "from ctypes import CDLL", "os.system('x')", "import socket"],
)
def test_the_walk_over_the_source_sees_a_door(tmp_path: Path, text: str) -> None:
    """Otherwise the test above could not fail."""
    path = tmp_path / "x.py"
    path.write_text(text, encoding="utf-8")
    assert {word for word, _ in called(path)} & DOORS


def test_a_sum_is_worked_out_without_the_languages_own_names() -> None:
    """Even a compiled sum sees its givens and the few functions, and nothing else."""
    expression = compile_expression("abs(a)")
    assert expression.value({"a": -2.0}) == 2.0
    with pytest.raises(NameError, match="name 'open' is not defined"):
        compile_expression("open").value({})


@pytest.mark.parametrize("text", ["{{ x.__class__.__mro__ }}", "{{ x.append(1) }}", "{{ ''.format.__globals__ }}"])
def test_a_story_that_slipped_past_the_check_would_still_find_nothing_to_run(text: str) -> None:
    """Only names stand in stories; behind that check lies a sandbox that gives no way out and changes nothing."""
    given: list[int] = []
    with pytest.raises(SecurityError, match=r"is unsafe|not safely callable"):
        story._ENVIRONMENT.from_string(text).render(x=given)
    assert given == []


def test_every_package_of_the_lock_file_bears_hashes() -> None:
    """A changed package on the index is refused by the installer."""
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    entries = re.split(r"(?m)^(?=[A-Za-z0-9])", text)[1:]
    assert len(entries) > 50
    assert [entry.splitlines()[0] for entry in entries if "--hash=sha256:" not in entry] == []
    assert [entry for entry in entries if not re.match(r"[\w.\[\]-]+==[\w.]+", entry)] == []
    launcher = (ROOT / "generator" / "__main__.py").read_text(encoding="utf-8")
    assert '"--require-hashes"' in launcher


def test_every_page_lets_nothing_in_from_outside() -> None:
    """The policy of the theme names no host, and no page of worked answers has a script."""
    theme = (PACKAGE / "site" / "theme" / "main.html").read_text(encoding="utf-8")
    policy = re.search(r'Content-Security-Policy" content="([^"]+)"', theme)
    assert policy is not None
    rules = dict(rule.strip().split(" ", 1) for rule in policy[1].split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["form-action"] == "'none'"
    words = {word for rule in rules.values() for word in rule.split()}
    assert words <= {"'none'", "'self'", "file:", "blob:", "data:", "about:", "'unsafe-inline'"}
    issued = issued_to(1)
    page = worked_page(issued, issued.sheets[0], exercises(issued), "Ostrel Quay College")
    assert "default-src 'none'; style-src 'unsafe-inline'" in page
    assert "<script" not in page


@pytest.mark.parametrize("name", ["../../x", "/etc/x", "..", "a/b", "x" * 50, "", "Ünï", "a\nb", "con .", "-x"])
def test_a_name_from_a_file_never_leads_out_of_its_folder(tmp_path: Path, name: str) -> None:
    """Ids of assignments, names of trials and of families become names of files: letters and hyphens only."""
    with pytest.raises(ValueError, match="id"):
        assignment(id=name)
    issued = issued_to(1)
    with pytest.raises(ValueError, match="id"):
        Issued(**{**vars(issued), "id": name})
    path = tmp_path / "trial.yaml"
    path.write_text(f"name: {name!r}\n", encoding="utf-8")
    with pytest.raises(Faults, match="name"):
        load_plan(path)
    with pytest.raises(Faults, match="is not topic/name in small letters"):
        new_family(f"feed/{name}")


def test_a_sheet_of_a_class_cannot_be_guessed_from_the_kit_and_the_assignment() -> None:
    """Without the secret, all that is public leads to other numbers on every sheet and every question."""
    real, guessed = issued_to(6), issued_to(6, secret="")
    for student in range(6):
        for mine, other in zip(exercises(real, student), exercises(guessed, student), strict=True):
            assert mine.draw.number != other.draw.number
    assert not {sheet.code for sheet in real.sheets} & {sheet.code for sheet in guessed.sheets}


def test_a_link_of_a_sheet_holds_neither_key_nor_draw_nor_name() -> None:
    """Its bytes are searched for every printed key and both ends of every band, as text and as stored numbers."""
    issued = issued_to(2)
    for place, sheet in enumerate(issued.sheets):
        posed = exercises(issued, place)
        (link, *more) = check_links(sheet.code, posed, "https://school.example", False, False)
        number = link.partition("#")[2]
        raw = int(number).to_bytes((int(number).bit_length() + 7) // 8, "big")
        assert not more
        assert sheet.student.encode() not in raw and sheet.student not in link
        for part in (part for exercise in posed for part in exercise.parts if not part.options):
            for value in (part.key, part.low, part.high):
                if isinstance(value, float):
                    assert struct.pack(">d", value) not in raw and struct.pack("<d", value) not in raw
            assert len(part.key_text) < 4 or part.key_text.encode() not in raw
        assert sheet.draws[0].split(".")[0].encode() not in raw
        assert sheet.code.replace("-", "") not in link  # the code travels in five bytes of its own


def named_tests(text: str) -> list[str]:
    """The tests that the section of the guide names."""
    section = text.partition(SECTION)[2].partition("\n## ")[0]
    return re.findall(r"`(test_\w+)`", section)


def test_every_test_that_the_guide_names_is_there() -> None:
    """A renamed test would leave a threat without its guard."""
    names = named_tests((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"))
    written = {
        node.name for path in (ROOT / "tests").rglob("test_*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.FunctionDef)
    }
    assert len(names) >= 25
    assert [name for name in names if name not in written] == []
    assert named_tests(f"{SECTION}\n| x | `test_of_nothing` |\n## Next\n`test_beyond`") == ["test_of_nothing"]
