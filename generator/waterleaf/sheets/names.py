"""A list of names, printed once to learn which of them the press can print."""

from collections.abc import Sequence
from typing import Any

from waterleaf.sheets.paper import Style, _packet


def name_list(names: Sequence[str]) -> dict[str, Any]:
    """Data of a page of names."""
    return {**_packet(Style(), "Names"), "names": list(names)}
