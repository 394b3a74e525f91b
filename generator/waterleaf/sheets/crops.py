"""The choice of crops on paper: which crops earn the space, what binds, and what would have to change."""

from typing import Any

from waterleaf.growing.cropplan import CropPlan
from waterleaf.growing.cropplan_page import page_data
from waterleaf.growing.system import System
from waterleaf.sheets.paper import Style, packet_head


def crops_sheet(system: System, plan: CropPlan, style: Style) -> dict[str, Any]:
    """Data of the sheet."""
    return {**packet_head(style, "Choice of crops"), **page_data(system, plan)}
