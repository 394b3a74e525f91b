"""Duties on paper: a board for each week, and a page of cards for each day with the amounts of the day."""

from collections.abc import Sequence
from datetime import date
from typing import Any, Final

from waterleaf.growing.duties import Plan, Shift, by_day
from waterleaf.sheets.paper import Style, packet_head

# Duties whose short name says too little on a board.
_LABELS: Final = {"fine": "fine-solids tank", "test": "daily test", "draw_off": "draw-off of clear water"}


def duty_pages(plan: Plan, name: str, style: Style) -> dict[str, Any]:
    """Data of the board and of the cards."""
    days = list(by_day(plan.shifts).items())
    return {
        **packet_head(style, "Duties"),
        "title": f"Duties: {name}",
        "weeks": [_week(days[start : start + 7]) for start in range(0, len(days), 7)],
        "shares": [[who, f"{minutes} min"] for who, minutes in plan.minutes.items()],
        "left_out": list(plan.left_out),
        "days": [
            {
                "day": f"{day:%A} {day.isoformat()}",
                "cards": [
                    {"title": shift.duty.title, "who": _who(shift), "caution": shift.duty.caution} for shift in shifts
                ],
            }
            for day, shifts in days
        ],
    }


def _who(shift: Shift) -> str:
    return " and ".join(shift.who) or "nobody yet"


def _week(days: Sequence[tuple[date, list[Shift]]]) -> dict[str, Any]:
    keys = list(dict.fromkeys(shift.duty.key for _, shifts in days for shift in shifts))
    rows = []
    for key in keys:
        cells = ["; ".join(_who(shift) for shift in shifts if shift.duty.key == key) for _, shifts in days]
        rows.append([_LABELS.get(key, key.replace("_", " ")), *cells, *[""] * (7 - len(cells))])
    headings = [f"{day:%a} {day.day} {day:%b}" for day, _ in days]
    return {"first": days[0][0].isoformat(), "headings": [*headings, *[""] * (7 - len(headings))], "rows": rows}
