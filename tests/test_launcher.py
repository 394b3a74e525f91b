"""The launcher on copies of itself: real environments, an installer that is a script, and no network."""

import ast
import errno
import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the stand-ins for installers are shell scripts")

LAUNCHER = Path(__file__).parent.parent / "generator" / "__main__.py"
BASE = getattr(sys, "_base_executable", sys.executable)
STAND_IN = """
import os, sys
print("ran", *sys.argv[1:], os.environ["PYTHONUTF8"], sys.flags.utf8_mode)
sys.exit(int(os.environ.get("ENDS_WITH", "0")))
"""


class Kit:
    """A copy of the launcher with a small lock file, a stand-in for the package and one for the installer."""

    def __init__(self, root: Path, programs: Path) -> None:
        self.root, self.programs = root, programs
        self.venv = root / ".venv"
        self.lock = root / "requirements.lock"
        package = root / "generator" / "waterleaf"
        package.mkdir(parents=True)
        programs.mkdir()
        shutil.copy(LAUNCHER, root / "generator")
        self.lock.write_text("pebble==1.0 --hash=sha256:00\n", encoding="utf-8")
        (package / "__init__.py").touch()
        (package / "__main__.py").write_text(STAND_IN, encoding="utf-8")

    def program(self, name: str, script: str) -> None:
        """Put a program on the path."""
        path = self.programs / name
        path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
        path.chmod(0o755)

    def installer(self, says: str = "Prepared 1 package", ends_with: int = 0) -> None:
        """Put a stand-in for uv on the path; each time it installs it leaves a line."""
        words = f"cat <<'END'\n{says}\nEND\nexit {ends_with}"
        self.program("uv", f'[ "$1" = --version ] && exit 0\necho "$*" >> "{self.programs}/calls"\n{words}')

    def calls(self) -> list[str]:
        """What the installer was asked, a line a call."""
        log = self.programs / "calls"
        return log.read_text(encoding="utf-8").splitlines() if log.exists() else []

    def environment(self, **more: str) -> dict[str, str]:
        """The path holds the stand-ins and the system's tools, and pip has no index to ask."""
        apart = {"PATH": f"{self.programs}:/usr/bin:/bin", "PIP_NO_INDEX": "1", "PIP_CONFIG_FILE": os.devnull}
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("PIP_", "UV_"))}
        return {**kept, **apart, **more}

    def run(self, *arguments: str, python: str = BASE, **more: str) -> "subprocess.CompletedProcess[str]":
        """Give a command from the kit's own folder."""
        command = [python, "generator", *arguments]
        environment = self.environment(**more)
        return subprocess.run(command, cwd=self.root, env=environment, capture_output=True, encoding="utf-8")

    def load(self) -> ModuleType:
        """The launcher as a module, for a look inside."""
        found = importlib.util.spec_from_file_location("launcher_copy", self.root / "generator" / "__main__.py")
        assert found and found.loader
        module = importlib.util.module_from_spec(found)
        found.loader.exec_module(module)
        return module


@pytest.fixture
def kit(tmp_path: Path) -> Kit:
    """A kit in a folder whose name holds what paths stumble over, with an installer that succeeds."""
    made = Kit(tmp_path / "L'élève & eau 水", tmp_path / "programs")
    made.installer()
    return made


@pytest.fixture
def handed_over(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> list[tuple[str, list[str], dict[str, str]]]:
    """What the launcher would have turned itself into."""
    seen: list[tuple[str, list[str], dict[str, str]]] = []

    def execve(*arguments: Any) -> None:
        seen.append(arguments)
        raise SystemExit(0)

    monkeypatch.setattr(os, "execve", execve)
    monkeypatch.chdir(tmp_path)
    return seen


def old_python(minor: int) -> str:
    """An old Python of this machine; the test is skipped where there is none."""
    installed = sorted((Path.home() / ".pyenv" / "versions").glob(f"3.{minor}.*/bin/python3"))
    found = str(installed[0]) if installed else shutil.which(f"python3.{minor}")
    if not found:
        pytest.skip(f"no Python 3.{minor} on this machine")
    return found


@pytest.mark.parametrize("minor", [6, 7, 8, 9, 10])
def test_old_python_is_told_which_newer_one_to_use(kit: Kit, minor: int) -> None:
    """An old Python can parse the launcher, says that it is too old and names one that starts."""
    kit.program("python3.13", "exit 127")
    kit.program("python3.12", "exit 0")
    run = kit.run("build", "--quick", python=old_python(minor))
    assert run.returncode == 2
    assert run.stderr.startswith(f"This is Python 3.{minor}.")
    assert run.stderr.endswith("There is a newer one here: python3.12 generator build --quick\n")


def test_old_python_is_told_to_install_one_when_there_is_none(kit: Kit, monkeypatch: pytest.MonkeyPatch) -> None:
    """With nothing newer on the path the mend is to install one."""
    launcher = kit.load()
    monkeypatch.setattr(launcher, "OLDEST", (99, 0))
    monkeypatch.setenv("PATH", str(kit.programs))
    with pytest.raises(launcher.SetupFailed, match=r"needs 99.0 or newer.\nInstall Python 3"):
        launcher.refuse_old_python()


def test_launcher_is_standard_library_in_old_syntax() -> None:
    """Nothing but the standard library is imported, in the syntax of Python 3.6."""
    tree = ast.parse(LAUNCHER.read_text(encoding="utf-8"), feature_version=(3, 6))
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {str(node.module) for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert {name.split(".")[0] for name in imported} <= sys.stdlib_module_names


def test_first_call_sets_up_and_runs(kit: Kit) -> None:
    """The first call says what it does by phases on standard error, installs by hash, and runs the command."""
    kit.venv.mkdir()  # an empty one holds nothing that could be lost
    run = kit.run("build", "é")
    assert (run.returncode, run.stdout) == (0, "ran build é 1 1\n")
    assert run.stderr.splitlines() == [
        "Setting up Waterleaf (about a minute, once) ...",
        "  making .venv",
        "  fetching packages",
        "  unpacking packages",
    ]
    wanted = f"pip install --python {kit.venv}/bin/python --require-hashes -r {kit.lock}"
    assert kit.calls() == [wanted]


def test_exit_code_is_passed_on(kit: Kit) -> None:
    """The command's exit code is the launcher's."""
    assert kit.run("build", ENDS_WITH="7").returncode == 7


def test_command_of_the_environment_is_the_same_command(kit: Kit) -> None:
    """`waterleaf` inside the environment does what `python3 generator` does, a new lock file included."""
    kit.run("build")
    kit.lock.write_text("pebble==2.0 --hash=sha256:00\n", encoding="utf-8")
    command = [str(kit.venv / "bin" / "waterleaf"), "build", "a b"]
    run = subprocess.run(command, env=kit.environment(ENDS_WITH="3"), capture_output=True, encoding="utf-8")
    assert (run.returncode, run.stdout) == (3, "ran build a b 1 1\n")
    assert len(kit.calls()) == 2


def test_ready_environment_starts_nothing_but_the_command(
    kit: Kit, handed_over: list[Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Once set up, no process is started: the launcher turns into the command."""
    kit.run("build")
    launcher = kit.load()
    monkeypatch.setattr(subprocess, "Popen", None)
    with pytest.raises(SystemExit):
        launcher.main(["build", "--now"])
    assert [words for _, words, _ in handed_over] == [
        [str(kit.venv / "bin" / "python"), "-P", "-X", "utf8", "-m", "waterleaf", "build", "--now"]
    ]


@pytest.mark.parametrize(
    ("given", "module", "rest"),
    [
        ([], "waterleaf", ["--help"]),
        (["test"], "pytest", []),
        (["test", "-k", "feed"], "pytest", ["-k", "feed"]),
        (["bench", "--quick"], "waterleaf.bench", ["--quick"]),
        (["build", "test"], "waterleaf", ["build", "test"]),
    ],
)
def test_words_choose_what_runs(
    kit: Kit, handed_over: list[Any], given: list[str], module: str, rest: list[str]
) -> None:
    """`test` is pytest and `bench` the benchmark, both in the project's folder; all else is the command."""
    before = Path.cwd()
    with pytest.raises(SystemExit):
        kit.load().run(given)
    _, words, _ = handed_over[0]
    assert words[words.index("-m") + 1 :] == [module, *rest]
    assert Path.cwd() == (before if module == "waterleaf" else kit.root)


def test_command_runs_in_a_clean_environment(kit: Kit, handed_over: list[Any], monkeypatch: pytest.MonkeyPatch) -> None:
    """Settings that would bring in foreign packages are dropped; the rest is passed on."""
    monkeypatch.setenv("PYTHONPATH", "/elsewhere")
    monkeypatch.setenv("KEPT", "yes")
    with pytest.raises(SystemExit):
        kit.load().run(["build"])
    _, _, passed = handed_over[0]
    assert "PYTHONPATH" not in passed
    assert (passed["KEPT"], passed["PYTHONUTF8"], passed["NO_MKDOCS_2_WARNING"]) == ("yes", "1", "1")


def test_compiled_files_stay_out_of_the_source_when_unwanted(
    kit: Kit, handed_over: list[Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Who wants no compiled files beside the source gets them inside the environment, where they keep starts quick."""
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    monkeypatch.delenv("PYTHONPYCACHEPREFIX", raising=False)
    with pytest.raises(SystemExit):
        kit.load().run(["build"])
    _, _, passed = handed_over[0]
    assert "PYTHONDONTWRITEBYTECODE" not in passed
    assert passed["PYTHONPYCACHEPREFIX"] == str(kit.venv / "compiled")


def change_lock(kit: Kit) -> None:
    kit.lock.write_text("pebble==2.0 --hash=sha256:00\n", encoding="utf-8")


def lose_marker(kit: Kit) -> None:
    (kit.venv / ".ready").unlink()


def spoil_marker(kit: Kit) -> None:
    (kit.venv / ".ready").write_bytes(b"\xff\xfe half")


def lose_python(kit: Kit) -> None:
    (kit.venv / "bin" / "python").unlink()


def move(kit: Kit) -> None:
    kit.root = kit.root.rename(kit.root.with_name("elsewhere"))
    kit.venv, kit.lock = kit.root / ".venv", kit.root / "requirements.lock"


@pytest.mark.parametrize("happens", [change_lock, lose_marker, spoil_marker, lose_python, move])
def test_environment_that_cannot_be_trusted_is_made_afresh(kit: Kit, happens: Callable[[Kit], None]) -> None:
    """Anything but a whole environment for this lock file, Python and place is emptied and made again, once."""
    kit.run("build")
    (kit.venv / "bin" / "leftover").touch()
    happens(kit)
    assert kit.run("build").stdout == "ran build 1 1\n"
    assert not (kit.venv / "bin" / "leftover").exists()
    kit.run("build")
    assert len(kit.calls()) == 2


def test_folder_of_somebody_else_is_left_alone(kit: Kit) -> None:
    """A folder called .venv that is no environment is neither emptied nor used."""
    kit.venv.mkdir()
    (kit.venv / "thesis.txt").touch()
    run = kit.run("build")
    assert run.returncode == 2
    assert f"{kit.venv} is not a Python environment, so it was left alone.\nRename it" in run.stderr
    assert [path.name for path in kit.venv.iterdir()] == ["thesis.txt"]


def test_missing_lock_file_is_named(kit: Kit) -> None:
    """Without its lock file the project is not whole, and nothing is made."""
    kit.lock.unlink()
    run = kit.run("build")
    assert run.returncode == 2
    assert run.stderr == f"{kit.lock}: No such file or directory. Fetch it again: git checkout requirements.lock\n"
    assert not kit.venv.exists()


FAULTS = [
    ("ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device", "The disk is full: "),
    ("error: failed to write to file: Espace insuffisant (os error 28)", "Setting up needs about 1500 MB. Make room"),
    ("NewConnectionError('[Errno -3] Temporary failure in name resolution')", "The package index cannot be reached"),
    ("Caused by: client error (Connect)\n  Caused by: dns error: failed to lookup", "Connect (behind a proxy"),
    ("[SSL: CERTIFICATE_VERIFY_FAILED] self-signed certificate", "a certificate that this machine does not trust"),
    ("invalid peer certificate: UnknownIssuer", "PIP_CERT and SSL_CERT_FILE"),
    (
        "THESE PACKAGES DO NOT MATCH THE HASHES\n    pebble==1.0 from https://x",
        "download of pebble==1.0 is not the file",
    ),
    ("Hash mismatch for `pebble==1.0`", "The download of pebble==1.0 is not the file that requirements.lock vouches"),
    ("Error: ensurepip is not available", "its ensurepip module is missing or broken"),
    ("/usr/bin/python3: No module named ensurepip", f"python3-venv (or python3.{sys.version_info[1]}-venv)"),
    ("/usr/bin/python3: No module named venv", "its venv module is missing or broken"),
    ("error: Failed to create file (os error 13)", "Cannot write to "),
    ("ERROR: No matching distribution found for pebble==1.0", "no ready-made copy of pebble==1.0 for Python 3."),
    ("something nobody foresaw", "Setting up failed: something nobody foresaw\nMend that, then run"),
    ("", "Setting up failed: the installer ended without a word"),
]


@pytest.mark.parametrize(("says", "expected"), FAULTS, ids=[expected[:40].strip() for _, expected in FAULTS])
def test_failure_is_told_with_its_mend(kit: Kit, says: str, expected: str) -> None:
    """What an installer says becomes two lines: what was found and the mend."""
    told = kit.load().diagnosis(says.splitlines())
    assert expected in told
    assert told.count("\n") == 1


def test_failed_set_up_keeps_the_installers_words_and_can_be_repeated(kit: Kit) -> None:
    """A failure ends in two lines and exit code 2, leaves only a log, and the next call starts from nothing."""
    kit.installer("one\nerror: No space left on device", ends_with=1)
    run = kit.run("build")
    assert (run.returncode, run.stdout) == (2, "")
    assert [line[:18] for line in run.stderr.splitlines()[3:]] == ["The disk is full: ", "Setting up needs a"]
    assert sorted(path.name for path in kit.venv.iterdir()) == [".setup", "setup.log"]
    assert (kit.venv / "setup.log").read_text(encoding="utf-8") == "one\nerror: No space left on device\n"
    kit.installer()
    assert kit.run("build").returncode == 0


@pytest.mark.parametrize("number", [errno.EROFS, errno.EACCES])
def test_folder_that_cannot_be_written_is_told(
    kit: Kit, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], number: int
) -> None:
    """A read-only folder is an ordinary answer, not a traceback."""
    launcher = kit.load()

    def refuse(path: Path, **_: Any) -> None:
        raise OSError(number, os.strerror(number), str(path))

    monkeypatch.setattr(Path, "mkdir", refuse)
    assert launcher.main(["build"]) == 2
    assert capsys.readouterr().err.startswith(f"Cannot write to {kit.venv}: no right to, or a file in it is in use.\n")


def test_interrupted_set_up_is_quiet_and_not_trusted(
    kit: Kit, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ctrl-C while setting up ends in one line, and the next call starts from nothing."""
    launcher = kit.load()

    def interrupt(*_: Any) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(launcher, "run_step", interrupt)
    assert launcher.main(["build"]) == 130
    assert capsys.readouterr().err.endswith("Stopped. A half-made environment is made afresh next time.\n")
    assert not launcher.is_ready()


def test_second_set_up_waits_for_the_first(kit: Kit) -> None:
    """While one sets up, another says that it waits, and goes on when the first is done or gone."""
    launcher = kit.load()
    kit.venv.mkdir()
    with launcher.GATE.open("a") as gate:
        launcher.lock_gate(gate.fileno())
        command = [BASE, "generator", "build"]
        pipes: dict[str, Any] = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "encoding": "utf-8"}
        with subprocess.Popen(command, cwd=kit.root, env=kit.environment(), **pipes) as second:
            assert (
                second.stderr and second.stderr.readline() == "Another set-up is under way here; waiting for it ...\n"
            )
            assert kit.calls() == []
            gate.close()
            out, _ = second.communicate()
    assert (second.returncode, out) == (0, "ran build 1 1\n")


def wheel(folder: Path) -> str:
    """Make the smallest package there can be; its hash."""
    path = folder / "pebble-1.0-py3-none-any.whl"
    about = {
        "METADATA": "Name: pebble\nVersion: 1.0\n",
        "WHEEL": "Wheel-Version: 1.0\nTag: py3-none-any\n",
        "RECORD": "",
    }
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("pebble.py", "")
        for name, text in about.items():
            archive.writestr(
                f"pebble-1.0.dist-info/{name}", f"Metadata-Version: 2.1\n{text}" if name == "METADATA" else text
            )
    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_pip_installs_where_uv_does_not_start(kit: Kit) -> None:
    """Where uv is missing or does not start, pip installs by hash, whatever place the caller's settings name."""
    kit.program("uv", "exit 127")
    kit.lock.write_text(f"pebble==1.0 --hash=sha256:{wheel(kit.programs)}\n", encoding="utf-8")
    run = kit.run("build", PIP_FIND_LINKS=str(kit.programs), PIP_USER="1", PIP_TARGET="/elsewhere")
    assert (run.returncode, run.stdout) == (0, "ran build 1 1\n")
    assert list(kit.venv.glob("lib/*/site-packages/pebble.py"))
