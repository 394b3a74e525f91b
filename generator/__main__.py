"""Sets Waterleaf up on a bare Python, then runs it: `python3 generator build`.

Standard library only, in syntax that Python 3.6 can parse, so that an old Python is told that it is too
old rather than shown a syntax error. Once the private environment is ready this file only compares one
fingerprint and hands over, so it stays light: what set-up needs is imported inside its functions.
"""

import errno
import hashlib
import os
import re
import sys
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

OLDEST = (3, 11)
TRIED = "3.11, 3.12 or 3.13"
SCHEME = "1"  # raise it when an environment made by an earlier launcher must not be reused

WINDOWS = sys.platform == "win32"
ROOT = Path(__file__).resolve().parent.parent
LOCK = ROOT / "requirements.lock"
VENV = ROOT / ".venv"
SCRIPTS = VENV / ("Scripts" if WINDOWS else "bin")
PYTHON = SCRIPTS / ("python.exe" if WINDOWS else "python")
READY = VENV / ".ready"  # holds the fingerprint; written last, so it never vouches for half the work
GATE = VENV / ".setup"  # locked while someone sets up; it also marks the folder as made by this launcher
LOG = VENV / "setup.log"
AGAIN = "then run the same command again."

# What an installer says, and the mend. Numbers stand beside words because systems translate the words.
FAULTS = (
    (
        r"No space left|quota exceeded|Errno (28|122)\b|os error (28|112|122)\b|WinError 112\b",
        "The disk is full: {free} MB are free for {venv}, {temporary_free} MB for temporary files in {temporary}.\n"
        "Setting up needs about 1500 MB. Make room, {again}",
    ),
    (
        r"DO NOT MATCH THE HASHES|Hash mismatch",
        "The download of {package} is not the file that requirements.lock vouches for, so it was not used.\n"
        "Try another network; if it happens there too, fetch the lock afresh: git checkout requirements.lock",
    ),
    (
        r"CERTIFICATE_VERIFY_FAILED|invalid peer certificate|UnknownIssuer",
        "The package index showed a certificate that this machine does not trust (a filter on this network?).\n"
        "Ask whoever runs the network for its certificate file, set PIP_CERT and SSL_CERT_FILE to it, {again}",
    ),
    (
        r"NewConnectionError|ConnectTimeout|ReadTimeout|timed out|ProxyError|ProtocolError|Connection ?Reset|dns error"
        r"|name resolution|getaddrinfo|Network is unreachable|Connection refused|error sending request"
        r"|network was disabled|connectivity is disabled|(Failed to|Could not) (fetch|connect|download)",
        "The package index cannot be reached: the network is down, or a proxy is needed.\n"
        "Connect (behind a proxy, set HTTPS_PROXY), {again} Only setting up needs the network.",
    ),
    (
        r"Permission denied|Read-only file|Access is denied|Errno (1|13|30)\b|os error (1|13|30)\b|WinError (5|32)\b",
        "Cannot write to {venv}: no right to, or a file in it is in use.\n"
        "Copy the project to a folder of your own, or close what uses it, {again}",
    ),
    (
        r"ensurepip|No module named '?venv",
        "This Python cannot make an environment: its {missing} module is missing or broken.\n"
        "On Debian or Ubuntu: sudo apt install python3-venv (or {venv_package}), {again}",
    ),
    (
        r"No matching distribution|Failed (building|to build)|metadata-generation-failed|unsatisfiable",
        "There is no ready-made copy of {package} for Python {version} on this machine.\n"
        "Use Python {tried} (what the installer said is in {log}).",
    ),
)


class SetupFailed(Exception):
    """Set-up cannot go on; the text says what was found and the mend."""


class InstallerFailed(Exception):
    """An installer ended badly; its words are kept for the diagnosis."""

    def __init__(self, lines: "list[str]") -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


class Progress:
    """One line that is rewritten on a terminal; a line a phase anywhere else."""

    def __init__(self) -> None:
        self.live = sys.stderr.isatty()
        self.phase = ""
        say("Setting up Waterleaf (about a minute, once) ...")

    def show(self, phase: str, count: str = "") -> None:
        """Say which phase is under way, and how far it is."""
        if self.live:
            sys.stderr.write("\r" + f"  {phase} {count}".ljust(60))
            sys.stderr.flush()
        elif phase != self.phase:
            say("  " + phase)
        self.phase = phase

    def close(self) -> None:
        """Leave the terminal on a clean line."""
        if self.live:
            sys.stderr.write("\r" + " " * 60 + "\r")
            sys.stderr.flush()


def say(text: str) -> None:
    """A message for the person, kept apart from the data on standard output."""
    sys.stderr.write(text + "\n")
    sys.stderr.flush()


def starts(command: "list[str]") -> bool:
    """Whether a program is there, starts and ends well. A name on the PATH may be only a placeholder."""
    import shutil
    import subprocess

    try:
        found = shutil.which(command[0])
        return bool(found) and subprocess.call(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) == 0
    except OSError:
        return False


def refuse_old_python() -> None:
    """Say so when this Python is too old, and name a better one when there is one."""
    if sys.version_info[:2] >= OLDEST:
        return
    found = f"This is Python {sys.version.split()[0]}; Waterleaf needs {OLDEST[0]}.{OLDEST[1]} or newer."
    question = f"import sys; sys.exit(sys.version_info[:2] < {OLDEST})"
    names = [[f"python3.{minor}"] for minor in (13, 12, 11, 14, 15)] + [["python3"], ["python"], ["py", "-3"]]
    for name in names:
        if starts([*name, "-c", question]):
            raise SetupFailed(f"{found}\nThere is a newer one here: {' '.join(name + sys.argv)}")
    raise SetupFailed(f"{found}\nInstall Python {TRIED} (python.org, or your system's packages), {AGAIN}")


def fingerprint() -> str:
    """What an environment must have been made from to be used: packages, Python, place and scheme."""
    try:
        digest = hashlib.sha256(LOCK.read_bytes())
    except OSError as error:
        raise SetupFailed(f"{LOCK}: {error.strerror}. Fetch it again: git checkout requirements.lock") from None
    # The place counts because scripts in an environment carry its full path: in a copy they would run the original.
    for part in (sys.version, str(VENV), SCHEME):
        digest.update(b"\0" + os.fsencode(part))
    return digest.hexdigest()


def is_ready() -> bool:
    """Whether the environment is whole and made for this lock file and this Python."""
    try:
        return READY.read_text(encoding="ascii") == fingerprint() and PYTHON.exists()
    except (OSError, UnicodeDecodeError):
        return False


def refuse_foreign_folder() -> None:
    """A .venv that nobody made as an environment is somebody's folder and is never emptied."""
    if not os.path.lexists(str(VENV)):
        return
    if VENV.is_dir() and ((VENV / "pyvenv.cfg").exists() or GATE.exists() or not any(VENV.iterdir())):
        return
    raise SetupFailed(f"{VENV} is not a Python environment, so it was left alone.\nRename it or move it away, {AGAIN}")


def lock_gate(gate: int) -> None:
    """Lock the gate, or fail at once. The system lets go of it when its holder ends, however it ends."""
    if sys.platform == "win32":
        msvcrt.locking(gate, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(gate, fcntl.LOCK_EX | fcntl.LOCK_NB)


def wait_for_turn(gate: int) -> None:
    """Return once nobody else sets up here."""
    import itertools
    import time

    for attempt in itertools.count():
        try:
            lock_gate(gate)
            return
        except OSError as error:
            if error.errno in (errno.ENOLCK, errno.ENOSYS, errno.EOPNOTSUPP):
                return  # a file system without locks: two set-ups at once are rare, a refusal would be certain
            if error.errno not in (errno.EAGAIN, errno.EACCES, errno.EDEADLK):
                raise
        if attempt == 0:
            say("Another set-up is under way here; waiting for it ...")
        time.sleep(0.2)


def empty_environment() -> None:
    """Remove all but the gate; the marker goes first, so that no half is ever vouched for."""
    import shutil

    for child in sorted(VENV.iterdir(), key=lambda child: child != READY):
        if child.is_dir() and not child.is_symlink():
            shutil.rmtree(str(child))
        elif child != GATE:
            child.unlink()


def installer_environment() -> "dict[str, str]":
    """The caller's settings (index, proxy, certificates), without those that would install elsewhere."""
    elsewhere = {"PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "VIRTUAL_ENV"}
    kept = {name: value for name, value in os.environ.items() if name not in elsewhere}
    kept.update(PIP_USER="0", PIP_NO_INPUT="1", PIP_DISABLE_PIP_VERSION_CHECK="1", NO_COLOR="1")
    return kept


def run_step(command: "list[str]", progress: Progress, gate: int) -> None:
    """Run one command of the set-up and follow its phases."""
    import subprocess

    lines, fetched = [], 0
    total = len(set(re.findall(r"(?m)^[\w.-]+(?===)", LOCK.read_text(encoding="utf-8"))))
    process = subprocess.Popen(
        command,
        env=installer_environment(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        # The child holds the gate too: should this process be killed, nobody builds over a living installer.
        pass_fds=() if WINDOWS else (gate,),
    )
    try:
        for raw in process.stdout or ():
            lines.append(raw.decode("utf-8", "replace").rstrip())
            if progress.phase == "making .venv":
                continue  # pip's own arrival sounds like the packages'
            if re.match("Collecting |Processing ", lines[-1]):
                fetched += 1
                progress.show("fetching packages", f"({fetched} of {max(fetched, total)})")
            elif re.match("Installing collected |Prepared ", lines[-1]):
                progress.show("unpacking packages")
    except KeyboardInterrupt:
        process.terminate()
        process.wait()
        raise
    if process.wait() != 0:
        raise InstallerFailed(lines)


def steps(uv: str) -> "list[tuple[str, list[str]]]":
    """The commands of the set-up, each with the name of its phase."""
    # From inside an environment the base Python is asked, since the environment itself may be the one to replace.
    base = getattr(sys, "_base_executable", None) or sys.executable
    inside = [str(PYTHON), "-I", "-u", "-X", "utf8", "-m"]
    wanted = ["--require-hashes", "-r", str(LOCK)]
    venv = ("making .venv", [base, "-I", "-u", "-m", "venv", "--without-pip", str(VENV)])
    if uv:
        return [venv, ("fetching packages", [uv, "pip", "install", "--python", str(PYTHON), *wanted])]
    # Apart from venv, which would swallow the reason when this fails.
    pip = ("making .venv", [*inside, "ensurepip", "--default-pip"])
    plain = ["--no-compile", "--progress-bar=off"]
    return [venv, pip, ("fetching packages", [*inside, "pip", "install", *plain, *wanted])]


def write_command() -> None:
    """Let the environment import the package from its source, and put `waterleaf` beside its Python."""
    import shlex
    import sysconfig

    packages = sysconfig.get_path("purelib", "venv", {"base": str(VENV)})
    # A relative path is plain ASCII wherever the project lies; some Pythons read this file in the system's own coding.
    Path(packages, "waterleaf.pth").write_text(os.path.relpath(str(ROOT / "generator"), packages), encoding="ascii")
    if WINDOWS:
        (SCRIPTS / "waterleaf.cmd").write_bytes(b'@echo off\r\n"%~dp0python.exe" "%~dp0..\\..\\generator" %*\r\n')
        return
    launch = " ".join(shlex.quote(str(part)) for part in (PYTHON, ROOT / "generator"))
    (SCRIPTS / "waterleaf").write_bytes(os.fsencode(f'#!/bin/sh\nexec {launch} "$@"\n'))
    (SCRIPTS / "waterleaf").chmod(0o755)


def free_megabytes(folder: Path) -> int:
    """Room left where a folder is."""
    import shutil

    return shutil.disk_usage(str(folder)).free // 1000000 if folder.exists() else 0


def diagnosis(lines: "list[str]") -> str:
    """What went wrong and the mend, from the installer's words."""
    text = "\n".join(lines)
    version = "{}.{}".format(*sys.version_info)
    # Not from tempfile, which refuses to name a folder when all of them are full.
    temporary = Path(os.environ.get("TMPDIR") or os.environ.get("TEMP") or "/tmp")
    for pattern, words in FAULTS:
        found = re.search(pattern, text, re.IGNORECASE)
        if found:
            package = re.search(r"[A-Za-z][\w.-]*==[\w.]+", text[found.start() :])
            return words.format(
                venv=VENV,
                log=LOG,
                again=AGAIN,
                tried=TRIED,
                version=version,
                package=package.group() if package else "a package",
                missing="ensurepip" if "ensurepip" in text else "venv",
                venv_package=f"python{version}-venv",
                free=free_megabytes(VENV if VENV.exists() else ROOT),
                temporary=temporary,
                temporary_free=free_megabytes(temporary),
            )
    last = [line.strip() for line in lines if line.strip()][-1:] or ["the installer ended without a word"]
    return f"Setting up failed: {last[0]}\nMend that, {AGAIN} What the installer said, if it ran, is in {LOG}"


def set_up(gate: int) -> None:
    """Make the environment from nothing."""
    import contextlib
    import shutil

    made_from = fingerprint()  # taken first: should the lock file change meanwhile, the next run starts afresh
    uv = (starts(["uv", "--version"]) and shutil.which("uv")) or ""
    progress = Progress()
    try:
        empty_environment()
        for phase, command in steps(uv):
            progress.show(phase)
            run_step(command, progress, gate)
        write_command()
        written = READY.with_name(".ready.new")
        written.write_text(made_from, encoding="ascii")
        written.replace(READY)
    except InstallerFailed as failed:
        reason = diagnosis(failed.lines)
        with contextlib.suppress(OSError):
            empty_environment()  # gives the room back; what is half made has no use
            LOG.write_text("\n".join(failed.lines) + "\n", encoding="utf-8", errors="replace")
        raise SetupFailed(reason) from None
    finally:
        progress.close()


def prepare() -> None:
    """Make sure that the environment is ready, setting it up when it is not."""
    if is_ready():
        return
    fingerprint()  # says so at once when the lock file is missing
    refuse_foreign_folder()
    try:
        VENV.mkdir(exist_ok=True)
        with GATE.open("a") as gate:
            wait_for_turn(gate.fileno())
            if not is_ready():
                set_up(gate.fileno())
    except OSError as error:
        raise SetupFailed(diagnosis([str(error)])) from None


def run(arguments: "list[str]") -> int:
    """Hand over to the environment's Python; on Windows wait for it and pass its exit code on."""
    module, rest = "waterleaf", arguments or ["--help"]
    if arguments[:1] in (["test"], ["bench"]):
        module, rest = {"test": "pytest", "bench": "waterleaf.bench"}[arguments[0]], arguments[1:]
        os.chdir(str(ROOT))
    private = {name: value for name, value in os.environ.items() if name not in ("PYTHONHOME", "PYTHONPATH")}
    private.update(PYTHONUTF8="1", NO_MKDOCS_2_WARNING="1")
    if private.pop("PYTHONDONTWRITEBYTECODE", ""):  # honoured beside the sources; with none at all each start is slow
        private.setdefault("PYTHONPYCACHEPREFIX", str(VENV / "compiled"))
    # -P: a file called calc.py or yaml.py in the folder where the command is given must not be imported.
    command = [str(PYTHON), "-P", "-X", "utf8", "-m", module, *rest]
    if not WINDOWS:
        os.execve(str(PYTHON), command, private)
    import subprocess

    child = subprocess.Popen(command, env=private)
    while True:
        try:
            return child.wait()
        except KeyboardInterrupt:
            continue  # the child was interrupted too and ends in its own way


def main(arguments: "list[str]") -> int:
    """Check, set up if need be, and run."""
    try:
        refuse_old_python()
        prepare()
        return run(arguments)
    except SetupFailed as failed:
        say(str(failed))
        return 2
    except KeyboardInterrupt:
        say("Stopped. A half-made environment is made afresh next time.")
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
