"""What is wrong in a file or a command, said in one line each, all at once."""

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

# Letters that end a line or steer a terminal; a message may quote what a stranger wrote.
_STEERING: Final = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: where it stands, what was found, and how to mend it."""

    where: str
    field: str
    message: str

    def __str__(self) -> str:
        """The fault on one line: file and line, field, message, with every letter that steers a terminal spelt out."""
        text = ": ".join(part for part in (self.where, self.field, self.message) if part)
        return _STEERING.sub(lambda found: ascii(found[0])[1:-1], text)


class Faults(ValueError):
    """Input that cannot be used, with every fault found in it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        """Collect the faults; there must be at least one."""
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def __reduce__(self) -> tuple[type["Faults"], tuple[tuple[Fault, ...]]]:
        """What travels between processes is the faults; the text is made of them anew."""
        return type(self), (self.faults,)


def refuse(where: str, message: str, field: str = "") -> Faults:
    """A single fault, ready to be raised."""
    return Faults([Fault(where, field, message)])


def nearest(word: str, choices: Iterable[str], likeness: float = 0.5) -> str:
    """A sentence, after a space, on the name that was probably meant; nothing where none is like it."""
    found = difflib.get_close_matches(word, list(choices), n=2, cutoff=likeness)
    return f" Did you mean {' or '.join(found)}?" if found else ""
