"""A list of names, printed once to learn which of them the press can print."""

from collections.abc import Sequence
from typing import Any

from waterleaf.sheets.paper import Style, packet_head


def name_list(names: Sequence[str]) -> dict[str, Any]:
    """Data of a page of names."""
    return {**packet_head(Style(), "Names"), "names": list(names)}
