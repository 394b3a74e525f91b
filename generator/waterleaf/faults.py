"""What is wrong in a file or a command, said in one line each, all at once."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: where it stands, what was found, and how to mend it."""

    where: str
    field: str
    message: str

    def __str__(self) -> str:
        """The fault on one line: file and line, field, message."""
        return ": ".join(part for part in (self.where, self.field, self.message) if part)


class Faults(ValueError):
    """Input that cannot be used, with every fault found in it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        """Collect the faults; there must be at least one."""
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


def refuse(where: str, message: str, field: str = "") -> Faults:
    """A single fault, ready to be raised."""
    return Faults([Fault(where, field, message)])
