"""The choice of crops in words, for a terminal, and as data for a program."""

import json
from dataclasses import asdict
from typing import Final

from waterleaf import __version__
from waterleaf.growing.cropplan import CropPlan, Worth
from waterleaf.growing.cropplan_change import Entry, Market, entries, markets, price_line
from waterleaf.growing.system import System
from waterleaf.working import figures
from waterleaf.working.units import with_unit

_ONE: Final = {
    "bed": "square metre of bed", "labour": "hour of labour a week", "lamp light": "mole of lamp light a day",
}  # fmt: skip
SQUARE_FOOT: Final = 0.09290304


def text(system: System, plan: CropPlan) -> str:
    """The plan for a terminal."""
    lines = [f"Crops for {system.file.name}", *([system.file.note] if system.file.note else []), ""]
    heads = ("margin $/m²/week", "labour h/m²/week", "lamp mol/m²/day", "area m² (ft²)")
    lines.append(f"{'crop':<14}" + "".join(f"{head:>18}" for head in heads))
    for one, area in zip(plan.candidates, plan.areas, strict=True):
        space = f"{area:.2f} ({area / SQUARE_FOOT:.0f})"
        lines.append(f"{one.name:<14}{one.margin:>18.2f}{one.labour:>18.2f}{one.lamp:>18.1f}{space:>18}")
    lines += ["", together_line(plan), space_line(plan.worths[0]), ""]
    lines += [worth_line(worth) for worth in plan.worths]
    lines += ["", *(line for entry in entries(plan) for line in entry_lines(entry)), *map(market_line, markets(plan))]
    lines += [*losers_line(plan), tie_line(plan), bed_line(plan)]
    lines += [f"Left out, {reason}." for reason in plan.left_out]
    lines += ["", CARE]
    return "\n".join(lines)


def together_line(plan: CropPlan) -> str:
    """What the whole plan earns."""
    return f"Together {_dollars(plan.margin)} of gross margin a week."


def space_line(bed: Worth) -> str:
    """What one square metre more would bring, as the decision that hangs on it."""
    if not bed.more:
        return "One more square metre of bed would bring nothing: do not build it for these crops."
    foot = bed.more * SQUARE_FOOT
    return (
        f"One more square metre of bed is worth {_dollars(bed.more)} a week ({_dollars(foot)} a square foot); that "
        f"holds for the first {_area(bed.holds, 2)} or so. Build, rent or clear space only where that costs "
        "less."
    )


def entry_lines(entry: Entry) -> list[str]:
    """What a crop without space would have to earn or need before it gets some."""
    name = _named(entry.crop)
    if entry.gap < 0.005:
        return [f"{name} gets no space, but would earn as much as what stands there."]
    now, needed = price_line(entry)
    ways = [f"at {needed} instead of {now}"]
    if entry.lamp is not None:
        ways.append(f"if it needed {with_unit(figures.plain(entry.lamp, 2), 'mol/m^2/day')} from lamps")
    if entry.labour is not None:
        ways.append(f"if it took {with_unit(figures.plain(entry.labour, 2), 'hour/m^2/week')} of work")
    enough = "; one of these is enough" if len(ways) > 1 else ""
    return [
        f"{name} gets no space: it falls {_dollars(entry.gap)} a square metre and week "
        f"({_dollars(entry.gap * SQUARE_FOOT)} a square foot) short of what it would push out. It would come in "
        f"{', or '.join(ways)}{enough}."
    ]


def _named(crop: str) -> str:
    return f"{crop[0].upper()}{crop[1:]}"


def market_line(market: Market) -> str:
    """What more to sell of a crop would bring."""
    return (
        f"{_named(market.crop)} fills its market of {_area(market.area)}. "
        f"Could you sell the harvest of one more "
        f"square metre, that would bring {_dollars(market.more)} a week."
    )


def losers_line(plan: CropPlan) -> list[str]:
    """Crops that lose money."""
    losers = [one.name for one in plan.candidates if one.margin < 0]
    return (
        [f"{_named(', '.join(losers))}: costs more than it brings, so it gets no space beyond what is promised."]
        if losers else []
    )  # fmt: skip


CARE: Final = (
    "A plan is only as good as its prices and hours: use what you were paid and what you wrote down. It knows nothing "
    "of rotation, pests, shade of one crop on the other, or of the nutrient balance. Check the system again (growing "
    "check) before you change the beds."
)


def worth_line(worth: Worth) -> str:
    """What a limit does to the plan, and what its shadow price means, in plain words."""
    used, available = figures.plain(worth.used, 3), figures.plain(worth.available, 3)
    foot = f" ({worth.available / SQUARE_FOOT:.0f}\u00a0ft²)" if worth.key == "bed" else ""
    amounts = f"{used} of {available}\u00a0{worth.unit}{foot} used"
    name = f"{worth.key[0].upper()}{worth.key[1:]}"
    if not worth.binds:
        return f"{name}: {amounts}. It does not bind: one more {_ONE[worth.key]} would bring nothing."
    if not worth.more and not worth.less:
        return f"{name}: {amounts}, but one more {_ONE[worth.key]} would bring nothing."
    line = f"{name}: {amounts}. It binds."
    if worth.more:
        line += (
            f" One more {_ONE[worth.key]} would bring {_dollars(worth.more)} a week, for up to "
            f"{figures.plain(worth.holds, 3)}\u00a0{worth.unit} more: that is its shadow price."
        )
    else:
        line += f" One more {_ONE[worth.key]} would bring nothing."
    if abs(worth.more - worth.less) > 1e-4 * max(1.0, abs(worth.less)):
        line += (
            f" One less would cost {_dollars(worth.less)}. The two differ, since several limits meet in this plan."
        )
    return line


def tie_line(plan: CropPlan) -> str:
    """Whether other plans earn the same."""
    if not plan.ties:
        return "No other plan earns as much."
    ranges = "; ".join(f"{name} from {low:.2f} to {high:.2f}\u00a0m²" for name, low, high in plan.ties)
    return f"Other plans earn the same: {ranges}. Choose the one that is easiest to work."


def bed_line(plan: CropPlan) -> str:
    """The plan in whole beds."""
    beds = "; ".join(
        f"{bed} ({area:.1f}\u00a0m², {area / SQUARE_FOOT:.0f}\u00a0ft²): {crop}" for bed, area, crop in plan.beds or ()
    )
    return f"In whole beds: {beds}. {whole_line(plan)}" if beds else whole_line(plan)


def whole_line(plan: CropPlan) -> str:
    """What the plan in whole beds earns, and what it costs not to split one."""
    if plan.beds is None:
        return "In whole beds, what is promised cannot be met with the labour, light and market that there is."
    lost = plan.margin - plan.whole_margin
    cost = "That costs nothing." if lost < 0.005 else f"Not splitting a bed costs {_dollars(lost)} a week."
    return f"That earns {_dollars(plan.whole_margin)} a week. {cost}"


def _area(area: float, shown: int = 3) -> str:
    return f"{figures.plain(area, shown)}\u00a0m² ({figures.plain(area / SQUARE_FOOT, shown)}\u00a0ft²)"


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
            "would_come_in": [asdict(entry) for entry in entries(plan)],
            "full_markets": [asdict(market) for market in markets(plan)],
        },
        ensure_ascii=False, indent=2,
    )  # fmt: skip
