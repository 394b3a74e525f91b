"""Sets Waterleaf up on a bare Python, then runs it: `python3 generator build`.

Standard library only, and only syntax that Python 3.6 can parse, so that an old Python is told that
it is too old rather than shown a syntax error. Once the private environment is ready this file does
nothing but compare one fingerprint and hand over, so it must stay light: what only set-up needs is
imported inside the functions that need it.
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

NETWORK = re.compile(
    r"NewConnectionError|ConnectTimeout|ReadTimeout|Read timed out|ProxyError|ProtocolError|ConnectionResetError|name resolution"
    r"|getaddrinfo|Network is unreachable|Connection refused|error sending request|dns error|client error \(Connect\)"
    r"|network was disabled|connectivity is disabled|(?:Failed to|Could not) (?:fetch|connect|download)|operation timed out",
    re.IGNORECASE,
)

# What an installer says, and the mend. Numbers stand beside words because systems translate the words.
FAULTS = (
    (
        re.compile(r"No space left|Disk quota exceeded|Errno (?:28|122)\b|os error (?:28|112|122)\b|WinError 112\b"),
        "The disk is full: {free} MB are free for {venv} and {free_temporary} MB for temporary files ({temporary}).\n"
        "Setting up needs about 1500 MB. Make room, " + AGAIN,
    ),
    (
        re.compile(r"DO NOT MATCH THE HASHES|Hash mismatch", re.IGNORECASE),
        "The download of {package} is not the file that requirements.lock vouches for, so it was not used.\n"
        "Try another network; if it happens there too, fetch requirements.lock afresh (git checkout requirements.lock).",
    ),
    (
        re.compile(r"CERTIFICATE_VERIFY_FAILED|invalid peer certificate|UnknownIssuer"),
        "The package index answered with a certificate that this machine does not trust (a filter on this network?).\n"
        "Ask whoever runs the network for its certificate file and set PIP_CERT and SSL_CERT_FILE to it, " + AGAIN,
    ),
    (
        NETWORK,
        "The package index cannot be reached: the network is down, or a proxy is needed.\n"
        "Connect (behind a proxy, set HTTPS_PROXY), " + AGAIN + " The network is needed for this step only.",
    ),
    (
        re.compile(r"Permission denied|Read-only file|Access is denied|Errno (?:13|30)\b|os error (?:13|30)\b|WinError (?:5|32)\b"),
        "Cannot write in {venv}, or a file in it is in use.\n"
        "Copy the project to a folder of your own, or close what uses it, " + AGAIN,
    ),
    (
        re.compile(r"ensurepip"),
        "This Python cannot make an environment with pip (ensurepip is missing or broken).\n"
        "On Debian or Ubuntu: sudo apt install python3-venv ({venv_package}), " + AGAIN,
    ),
    (
        re.compile(r"No matching distribution|Failed (?:building|to build)|metadata-generation-failed|no wheels? with"),
        "There is no ready-made {package} for Python {version} on this machine.\n"
        "Use Python " + TRIED + " instead (the installer's own words are in {log}).",
    ),
)


class SetupFailed(Exception):
    """Set-up cannot go on; the text says what was found and the mend."""


class Progress:
    """One line that is rewritten on a terminal; a line a phase anywhere else."""

    def __init__(self) -> None:
        self.live = sys.stderr.isatty()
        self.phase = ""
        say("Setting up Waterleaf (about a minute, once) ...")

    def show(self, phase: str, count: str = "") -> None:
        """Say which phase is under way, and how far it is."""
        if self.live:
            sys.stderr.write("\r" + "  {} {}".format(phase, count).ljust(60))
            sys.stderr.flush()
        elif phase != self.phase:
            say("  " + phase)
        self.phase = phase

    def close(self) -> None:
        """Leave the terminal on a clean line."""
        if self.live and self.phase:
            sys.stderr.write("\r" + " " * 60 + "\r")
            sys.stderr.flush()


def say(text: str) -> None:
    """A message for the person, kept apart from the data on standard output."""
    sys.stderr.write(text + "\n")
    sys.stderr.flush()


def newer_python() -> str:
    """The name of a Python on the PATH that is new enough and really starts, or nothing."""
    import shutil
    import subprocess

    question = "import sys; sys.exit(sys.version_info[:2] < {})".format(OLDEST)
    names = [["python3.{}".format(minor)] for minor in (13, 12, 11, 14, 15, 16)] + [["python3"], ["python"], ["py", "-3"]]
    for name in names:
        # A name may be a placeholder that only says which Python to choose, so each is tried.
        if shutil.which(name[0]):
            asked = subprocess.Popen(name + ["-c", question], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            if asked.wait() == 0:
                return " ".join(name)
    return ""


def refuse_old_python() -> None:
    """Say so when this Python is too old, and name a better one when there is one."""
    if sys.version_info[:2] >= OLDEST:
        return
    found = "This is Python {}; Waterleaf needs {}.{} or newer.".format(sys.version.split()[0], *OLDEST)
    other = newer_python()
    if other:
        raise SetupFailed("{}\nThere is a newer one here: {} {}".format(found, other, " ".join(sys.argv)))
    raise SetupFailed("{}\nInstall Python {} (python.org, or your system's packages), {}".format(found, TRIED, AGAIN))


def fingerprint() -> str:
    """What an environment must have been made from to be used: packages, Python, place and scheme."""
    try:
        digest = hashlib.sha256(LOCK.read_bytes())
    except OSError as error:
        raise SetupFailed(
            "{}: cannot be read ({}). Fetch it again: git checkout requirements.lock".format(LOCK, error.strerror)
        ) from None
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
    raise SetupFailed(
        "{} is not a Python environment, so it was left alone.\nRename it or move it away, {}".format(VENV, AGAIN)
    )


def find_uv() -> str:
    """The uv program when there is one that starts, else nothing."""
    import shutil
    import subprocess

    uv = shutil.which("uv") or ""
    try:
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        return uv if uv and subprocess.call([uv, "--version"], **quiet) == 0 else ""
    except OSError:
        return ""


def refuse_missing_venv(uv: str) -> None:
    """Some systems ship Python without venv, or without the part that brings pip; uv needs only the first."""
    import importlib.util

    if importlib.util.find_spec("venv") is None or not (uv or importlib.util.find_spec("ensurepip")):
        raise SetupFailed(diagnosis(["ensurepip"]))


def lock_gate(gate: int) -> None:
    """Lock the gate, or fail at once. The system lets go of it when its holder ends, however it ends."""
    if sys.platform == "win32":
        msvcrt.locking(gate, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(gate, fcntl.LOCK_EX | fcntl.LOCK_NB)


def wait_for_turn(gate: int) -> None:
    """Return once nobody else sets up here."""
    import time

    told = False
    while True:
        try:
            return lock_gate(gate)
        except OSError as error:
            if error.errno in (errno.ENOLCK, errno.ENOSYS, errno.EOPNOTSUPP):
                return None  # a file system without locks: two set-ups at once are unlikely, a refusal would be certain
            if error.errno not in (errno.EAGAIN, errno.EACCES, errno.EDEADLK):
                raise
        if not told:
            say("Another set-up is under way here; waiting for it ...")
            told = True
        time.sleep(0.2)


def empty_environment() -> None:
    """Remove all but the gate; the marker goes first so that no half is ever vouched for."""
    import shutil

    children = sorted(VENV.iterdir(), key=lambda child: child != READY)
    for child in children:
        if child.is_dir() and not child.is_symlink():
            shutil.rmtree(str(child))
        elif child != GATE:
            child.unlink()


def installer_environment() -> "dict[str, str]":
    """The caller's settings (index, proxy, certificates), without those that would install elsewhere."""
    elsewhere = ("PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "VIRTUAL_ENV", "__PYVENV_LAUNCHER__")
    kept = {name: value for name, value in os.environ.items() if name not in elsewhere}
    kept.update(PYTHONUTF8="1", PYTHONUNBUFFERED="1", PIP_USER="0", PIP_NO_INPUT="1", PIP_DISABLE_PIP_VERSION_CHECK="1")
    return kept


def phase_of(line: str) -> str:
    """The phase that a line of pip or uv announces, if any."""
    if re.match(r"Collecting |Processing |Resolved ", line):
        return "fetching packages"
    if re.match(r"Installing collected packages|Prepared ", line):
        return "unpacking packages"
    return ""


def run_step(command: "list[str]", progress: Progress, gate: int) -> None:
    """Run one installer command; raise with the mend when it fails."""
    import subprocess

    lines = []
    fetched = 0
    total = len(set(re.findall(r"(?m)^[\w.-]+(?===)", LOCK.read_text(encoding="utf-8"))))
    # The child keeps the gate locked too: should this process be killed, nobody builds over a living installer.
    inherited = {} if WINDOWS else {"pass_fds": (gate,)}
    pipes = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE, "stderr": subprocess.STDOUT}
    process = subprocess.Popen(command, env=installer_environment(), **pipes, **inherited)
    try:
        for raw in process.stdout or ():
            line = raw.decode("utf-8", "replace").rstrip()
            lines.append(line)
            phase = phase_of(line)
            fetched += phase == "fetching packages"
            if phase:
                progress.show(phase, "({} of {})".format(fetched, total) if phase.startswith("fetching") else "")
        status = process.wait()
    except KeyboardInterrupt:
        process.terminate()
        process.wait()
        raise
    if status != 0:
        raise SetupFailed(diagnosis(lines))


def free_megabytes(folder: Path) -> int:
    """Room left where a folder is."""
    import shutil

    return shutil.disk_usage(str(folder)).free // 1000000


def diagnosis(lines: "list[str]") -> str:
    """What went wrong and the mend, from the installer's words."""
    import tempfile

    text = "\n".join(lines)
    temporary = Path(os.environ.get("TMPDIR") or "/tmp")
    try:
        temporary = Path(tempfile.gettempdir())
    except OSError:
        pass  # it refuses to name a folder when all of them are full, which is when the name is wanted
    for pattern, words in FAULTS:
        found = pattern.search(text)
        if found:
            package = re.search(r"[A-Za-z][\w.-]*==[\w.]+", text[found.start() :])
            return words.format(
                venv=VENV,
                log=LOG,
                package=package.group() if package else "a package",
                version="{}.{}".format(*sys.version_info),
                venv_package="python{}.{}-venv".format(*sys.version_info),
                free=free_megabytes(VENV if VENV.exists() else ROOT),
                temporary=temporary,
                free_temporary=free_megabytes(temporary) if temporary.exists() else 0,
            )
    last = [line for line in lines if line.strip()][-1:] or ["the installer said nothing"]
    return "Setting up failed: {}\nAll that the installer said is in {}. Mend that, {}".format(last[0].strip(), LOG, AGAIN)
