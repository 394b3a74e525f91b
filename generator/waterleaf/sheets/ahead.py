"""A look ahead on paper: what goes wrong, what crosses a limit, figures, the table, and what was assumed."""

from typing import Any

from waterleaf.growing.ahead import Ahead
from waterleaf.growing.ahead_page import page_data
from waterleaf.sheets.paper import Style, packet_head


def ahead_sheet(ahead: Ahead, style: Style) -> dict[str, Any]:
    """Data of the sheet."""
    return {**packet_head(style, "Look ahead"), **page_data(ahead)}
