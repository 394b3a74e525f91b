"""How a run of the command line ends: with a status, and one line on standard error for whatever went wrong."""

import os
import sys
from collections.abc import Callable
from contextlib import suppress
from typing import Any, Final, NoReturn

import typer

from waterleaf.faults import Faults

INTERRUPTED: Final = 130
_STOPPED: Final = "Stopped. Whatever was finished before is untouched."


def run_to_end(app: Callable[..., Any]) -> NoReturn:
    """Run the command line; every fault ends as one line each on standard error and exit status 2."""
    try:
        status = app(prog_name="waterleaf", standalone_mode=False)
    except Faults as faults:
        _stop(str(faults))
    except KeyboardInterrupt:
        _stop(_STOPPED, INTERRUPTED)
    except OSError as error:
        _no_output(error)
    except Exception as error:
        if type(error).__module__.startswith(("click", "typer")):  # a wrong option or a missing word
            message = _option(error) or (error.format_message() if hasattr(error, "format_message") else str(error))
            where = getattr(getattr(error, "ctx", None), "command_path", "waterleaf")
            _stop(f"{message if message.endswith('?') else message.rstrip('.') + '.'} Try `{where} --help`.")
        raise
    if status == INTERRUPTED:  # what the parser makes of Ctrl-C
        _stop(_STOPPED, INTERRUPTED)
    sys.exit(status if isinstance(status, int) else 0)


def _option(error: Exception) -> str:
    """What is wrong with the number of an option; nothing for a fault of another kind."""
    names = getattr(getattr(error, "param", None), "opts", [])
    found: Any = getattr(error.__cause__, "errors", list)()
    if not names or not found:
        return ""
    kind, value, limits = found[0]["type"], found[0].get("input"), found[0].get("ctx", {})
    if kind.startswith("int_"):
        return f"{names[0]}: {value!r} is not a whole number"
    for bound, words in (("ge", "at least"), ("gt", "more than"), ("le", "at most"), ("lt", "less than")):
        if bound in limits:
            return f"{names[0]}: {value!r} is out of range; give {words} {limits[bound]}"
    return ""


def _no_output(error: OSError) -> NoReturn:
    """A full disk at the output is no fault of the kit. A pipe that is closed is seen to by the parser, in silence."""
    with suppress(OSError):  # what is still held back for the output has nowhere to go
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    _stop(f"{error.filename or 'output'}: {error.strerror or error}. Free some space, or mend the permissions.")


def _stop(message: str, status: int = 2) -> NoReturn:
    with suppress(OSError):
        typer.echo(message, err=True)
    sys.exit(status)
