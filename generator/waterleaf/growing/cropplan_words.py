"""The choice of crops in words, for a terminal, and as data for a program."""

import json
from dataclasses import asdict
from typing import Final

from waterleaf import __version__
from waterleaf.growing.cropplan import CropPlan, Worth
from waterleaf.growing.system import System
from waterleaf.working import figures

_ONE: Final = {
    "bed": "square metre of bed", "labour": "hour of labour a week", "lamp light": "mole of lamp light a day",
}  # fmt: skip
_SQUARE_FOOT: Final = 0.09290304


def text(system: System, plan: CropPlan) -> str:
    """The plan for a terminal."""
    lines = [f"Crops for {system.file.name}", *([system.file.note] if system.file.note else []), ""]
    heads = ("margin $/m²/week", "labour h/m²/week", "lamp mol/m²/day", "area m² (ft²)")
    lines.append(f"{'crop':<14}" + "".join(f"{head:>18}" for head in heads))
    for one, area in zip(plan.candidates, plan.areas, strict=True):
        space = f"{area:.2f} ({area / _SQUARE_FOOT:.0f})"
        lines.append(f"{one.name:<14}{one.margin:>18.2f}{one.labour:>18.2f}{one.lamp:>18.1f}{space:>18}")
    lines += ["", f"Together {_dollars(plan.margin)} of gross margin a week.", ""]
    lines += [worth_line(worth) for worth in plan.worths]
    lines += ["", *_tie_lines(plan), *_bed_lines(plan)]
    lines += [f"Left out, {reason}." for reason in plan.left_out]
    losers = [one.name for one in plan.candidates if one.margin < 0]
    if losers:
        lines.append(f"{', '.join(losers)}: costs more than it brings, so it gets no space beyond what is promised.")
    lines += ["", CARE]
    return "\n".join(lines)


CARE: Final = (
    "A plan is only as good as its prices and hours: use what you were paid and what you wrote down. It knows nothing "
    "of rotation, pests, shade of one crop on the other, or of the nutrient balance. Run `growing check` before you "
    "change the beds."
)


def worth_line(worth: Worth) -> str:
    """What a limit does to the plan, and what its shadow price means, in plain words."""
    amounts = f"{figures.plain(worth.used, 3)} of {figures.plain(worth.available, 3)} {worth.unit} used"
    name = f"{worth.key[0].upper()}{worth.key[1:]}"
    if not worth.binds:
        return f"{name}: {amounts}. It does not bind: one more {_ONE[worth.key]} would bring nothing."
    if not worth.more and not worth.less:
        return f"{name}: {amounts}, but one more {_ONE[worth.key]} would bring nothing."
    line = f"{name}: {amounts}. It binds."
    if worth.more:
        line += (
            f" One more {_ONE[worth.key]} would bring {_dollars(worth.more)} a week, for up to "
            f"{figures.plain(worth.holds, 3)} more: that is its shadow price."
        )
    else:
        line += f" One more {_ONE[worth.key]} would bring nothing."
    if abs(worth.more - worth.less) > 1e-4 * max(1.0, abs(worth.less)):
        line += (
            f" One less would cost {_dollars(worth.less)}. The two differ, since several limits meet in this plan."
        )
    return line


def _tie_lines(plan: CropPlan) -> list[str]:
    if not plan.ties:
        return ["No other plan earns as much."]
    ranges = "; ".join(f"{name} from {low:.2f} to {high:.2f} m²" for name, low, high in plan.ties)
    return [f"Other plans earn the same: {ranges}. Choose the one that is easiest to work."]


def _bed_lines(plan: CropPlan) -> list[str]:
    if plan.beds is None:
        return ["In whole beds, what is promised cannot be met with the labour, light and market that there is."]
    beds = "; ".join(f"{bed} ({area:.1f} m²): {crop}" for bed, area, crop in plan.beds)
    lost = plan.margin - plan.whole_margin
    cost = "That costs nothing." if lost < 0.005 else f"Not splitting a bed costs {_dollars(lost)} a week."
    return [f"In whole beds: {beds}. That earns {_dollars(plan.whole_margin)} a week. {cost}"]


def _dollars(amount: float) -> str:
    return f"{'−' if amount < -0.005 else ''}${abs(amount):.2f}"


def data(system: System, plan: CropPlan) -> str:
    """The plan as JSON."""
    return json.dumps(
        {
            "name": system.file.name, "version": __version__, "margin": plan.margin,
            "crops": [{**asdict(one), "area": area} for one, area in zip(plan.candidates, plan.areas, strict=True)],
            "limits": [{**asdict(worth), "binds": worth.binds, "told": worth_line(worth)} for worth in plan.worths],
            "ties": [{"crop": name, "from": low, "to": high} for name, low, high in plan.ties],
            "whole_beds": None if plan.beds is None else [
                {"bed": bed, "area": area, "crop": crop} for bed, area, crop in plan.beds
            ],
            "whole_beds_margin": plan.whole_margin, "left_out": list(plan.left_out),
        },
        ensure_ascii=False, indent=2,
    )  # fmt: skip
