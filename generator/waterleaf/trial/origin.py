"""Where a report comes from."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a report comes from: what differs from the frozen plan, its fingerprint and date, the table's name."""

    changes: tuple[str, ...]
    fingerprint: str
    frozen_on: str
    data_file: str

    @property
    def margin_stands(self) -> bool:
        """Whether margin and error rate were fixed in a plan that was frozen and not touched since."""
        return bool(self.frozen_on) and not any("itself was changed" in change for change in self.changes)
