"""Lines of a table that are worked out one by one, each of them here or by another process."""

from collections.abc import Callable, Iterable

from waterleaf.sharing import Usual, shared

# A line as it stands, or what makes it; a function of a module with its arguments, which can be pickled.
Line = str | Callable[[], str]


def print_lines(lines: Iterable[Line], workers: str | None = None, usual: Usual = "processes") -> None:
    """Print every line as soon as it and those before it are there.

    Raises Faults where `workers` is no word for somebody who could do the work.
    """
    with shared(workers, usual) as hands:
        for text in hands.in_order(worked_out, lines):
            print(text, flush=True)


def worked_out(line: Line) -> str:
    """The line's text."""
    return line if isinstance(line, str) else line()
