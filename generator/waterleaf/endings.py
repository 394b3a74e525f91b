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
            message = error.format_message() if hasattr(error, "format_message") else str(error)
            _stop(f"{message if message.endswith('?') else message.rstrip('.') + '.'} Try `waterleaf --help`.")
        raise
    if status == INTERRUPTED:  # what the parser makes of Ctrl-C
        _stop(_STOPPED, INTERRUPTED)
    sys.exit(status if isinstance(status, int) else 0)


def _no_output(error: OSError) -> NoReturn:
    """A full disk at the output is no fault of the kit. A pipe that is closed is seen to by the parser, in silence."""
    with suppress(OSError):  # what is still held back for the output has nowhere to go
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    _stop(f"{error.filename or 'output'}: {error.strerror or error}. Free some space, or mend the permissions.")


def _stop(message: str, status: int = 2) -> NoReturn:
    with suppress(OSError):
        typer.echo(message, err=True)
    sys.exit(status)
