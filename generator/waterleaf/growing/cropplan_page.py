"""The choice of crops as plain data for paper, and as one HTML page that needs nothing else."""

from typing import Any, Final

from waterleaf.calc.quantity import RELATIONS
from waterleaf.growing.cropplan import CropPlan
from waterleaf.growing.cropplan_change import entries, markets
from waterleaf.growing.cropplan_words import (
    CARE,
    SQUARE_FOOT,
    entry_lines,
    losers_line,
    market_line,
    space_line,
    tie_line,
    together_line,
    whole_line,
    worth_line,
)
from waterleaf.growing.facts import reference
from waterleaf.growing.page import page
from waterleaf.growing.report import BEFORE_ACTING
from waterleaf.growing.system import System
from waterleaf.working import figures

HEADINGS: Final = (
    "Crop", "Margin, $/m²/week", "Labour, h/m²/week", "Lamps, mol/m²/day", "Promised, m²",
    "Can be sold, m²", "Area, m²",
    "Area, ft²",
)  # fmt: skip
_ENDLESS: Final = 1e5


def title(system: System) -> str:
    """What the page is called."""
    return f"Choice of crops: {system.file.name}"


def page_data(system: System, plan: CropPlan) -> dict[str, Any]:
    """Everything that the page says, as texts and tables."""
    sources = dict.fromkeys(
        f"{name}: {'; '.join(map(reference, RELATIONS[name].sources))}"
        for name in ("margin_rate", "crop_plan_areas", "crop_plan_limits")
    )
    return {
        "title": title(system), "note": system.file.note or "", "care": BEFORE_ACTING,
        "together": together_line(plan), "space": space_line(plan.worths[0]), "headings": list(HEADINGS),
        "rows": [
            [one.name, f"{one.margin:.2f}", f"{one.labour:.2f}", f"{one.lamp:.1f}", _area(one.least),
             _area(one.largest), f"{area:.1f}", f"{area / SQUARE_FOOT:.0f}"]
            for one, area in zip(plan.candidates, plan.areas, strict=True)
        ],
        "worths": [worth_line(worth) for worth in plan.worths],
        "changes": [
            *(line for entry in entries(plan) for line in entry_lines(entry)),
            *map(market_line, markets(plan)), *losers_line(plan),
        ],
        "left_out": [f"Left out, {reason}." for reason in plan.left_out],
        "tie": tie_line(plan), "beds_line": whole_line(plan),
        "beds": [[bed, f"{area:.1f}", f"{area / SQUARE_FOOT:.0f}", crop] for bed, area, crop in plan.beds or ()],
        "last": CARE, "sources": list(sources),
    }  # fmt: skip


def _area(area: float) -> str:
    return "any" if area > _ENDLESS else figures.plain(area, 3) if area else "0"


def html(system: System, plan: CropPlan) -> str:
    """The choice of crops as one HTML page."""
    return page("crops", **page_data(system, plan))
