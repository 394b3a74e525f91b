"""Drawings of the lessons that show a computed case: a tank in section, a square of parts, sowings week by week."""

from typing import Final

from waterleaf.calc.quantity import RELATIONS
from waterleaf.site.drawings import canvas, label, way
from waterleaf.site.plots import figure

# The settling tank: a rate to plan on, droppings stripped from trout, and a grain whose size and density are assumed.
_OVERFLOW_RATE: Final = 80.0
_DROPPINGS: Final = 7.0
_GRAIN: Final = {"diameter": 100.0, "particle_density": 1100.0, "water_density": 1000.0, "viscosity": 1.0}
# Protein in per cent, of corn and soybean meal, and the wish between them (Wagner and Stanton 2012).
_SQUARE: Final = {"low_content": 10.0, "target": 14.0, "high_content": 45.0}
# The order of the lesson: heads a week, days in the nursery, weeks in the bed, plants on a square metre.
_HEADS: Final = 50.0
_NURSERY_DAYS: Final = 21.0
_BED_WEEKS: Final = 5.0
_DENSITY: Final = 25.0
_WEEK: Final = 7.0


def _value(relation: str, **values: float) -> float:
    return float(RELATIONS[relation].checked(**values))


def settling_tank() -> str:
    """A settling tank in section; the arrows are as long as the speeds are."""
    droppings = _value("overflow_rate_of_particle", settling_velocity=_DROPPINGS)
    grain = RELATIONS["checked_settling"].checked(**_GRAIN)[0].overflow_rate
    rise = _OVERFLOW_RATE / _value("overflow_rate_of_particle", settling_velocity=1.0)
    arrow, scale = "wl-arrow-settling", 0.28
    body = _tank_in_section(arrow)
    body += [way(f"M{x} 160 L{x} {160 - _OVERFLOW_RATE * scale:.1f}", arrow) for x in (148, 256, 312)]
    body += [
        label(160, 154, "1", "start", plain=True),
        '<circle cx="202" cy="92" r="5"/>',
        way(f"M202 92 L202 {92 + droppings * scale:.1f}", arrow),
        label(212, 110, "2", "start", plain=True),
        '<circle cx="284" cy="132" r="2.5"/>',
        way(f"M284 132 L284 {132 + grain * scale:.1f}", arrow),
        label(290, 128, "3", "start", plain=True),
    ]
    told = (
        f"1  Water rises at {_OVERFLOW_RATE:.0f} m/day, or {rise:.2f} mm/s.",
        f"2  Whole droppings sink at {droppings:.0f} m/day. They stay.",
        f"3  A broken grain of {_GRAIN['diameter'] / 1000:g} mm sinks at {grain:.0f} m/day. It is carried out.",
    )
    body += [label(20, 346 + 20 * line, text, "start", plain=True) for line, text in enumerate(told)]
    return figure(
        "settling-tank",
        canvas(480, 396, "".join(body), arrow),
        "A tank with a cone, cut open. Water comes in at the side, rises, and leaves over the rim. "
        + " ".join(text[3:] for text in told),
        "What sinks faster than the water rises stays in the tank. The arrows in the water are as long as the speeds. "
        "Droppings stripped from trout: World Aquaculture Society (undated abstract). The grain is round and weighs "
        "1,100 kg/m³, both assumed, and sinks by the law of Stokes (from memory).",
    )


def _tank_in_section(arrow: str) -> list[str]:
    """The tank with its water and sludge, and the ways in and out."""
    tank = "M130 52 L130 220 L216 292 L216 316 L244 316 L244 292 L330 220 L330 52"
    return [
        '<path d="M131 70 L131 219 L217 291 L243 291 L329 219 L329 70Z" fill="var(--wl-series-1)" fill-opacity="0.18"/>',
        '<path d="M217 291 L243 291 L264 273 L196 273Z" fill="var(--wl-series-2)" fill-opacity="0.6"/>',
        f'<path d="{tank}" fill="none" stroke="currentColor" stroke-width="1.8"/>',
        way("M60 104 L128 104", arrow),
        way("M331 70 L420 70", arrow),
        label(56, 108, "water in", "end"),
        label(338, 60, "clear water out", "start"),
        label(340, 262, "sludge", "start"),
        '<path d="M336 258 L262 280" stroke="currentColor" fill="none"/>',
    ]


def pearson_square() -> str:
    """The square with the numbers of the lesson: contents on the left, the wish in the middle, parts on the right."""
    arrow = "wl-arrow-square"
    rich, poor = RELATIONS["pearson_square"].checked(**_SQUARE)
    wish = _SQUARE["target"]
    body = "".join(
        (
            '<rect x="128" y="20" width="180" height="150" fill="none" stroke="var(--wl-line)"/>',
            way("M134 26 L298 162", arrow),
            way("M134 164 L298 28", arrow),
            '<circle cx="218" cy="95" r="27" fill="var(--md-default-bg-color, Canvas)" stroke="currentColor"/>',
            label(218, 100, f"{wish:g} %", plain=True),
            label(120, 26, "corn", "end"),
            label(120, 44, f"{poor.content:g} %", "end", plain=True),
            label(120, 156, "soybean meal", "end"),
            label(120, 174, f"{rich.content:g} %", "end", plain=True),
            label(316, 26, f"{rich.content:g} − {wish:g} = {poor.parts:g} parts", "start", plain=True),
            label(316, 44, f"corn, {poor.share:.1f} %", "start"),
            label(316, 156, f"{wish:g} − {poor.content:g} = {rich.parts:g} parts", "start", plain=True),
            label(316, 174, f"soybean meal, {rich.share:.1f} %", "start"),
        )
    )
    return figure(
        "pearson-square",
        canvas(480, 190, body, arrow),
        f"A square. Corn with {poor.content:g} % protein stands top left, soybean meal with {rich.content:g} % bottom left, "
        f"and the wish of {wish:g} % in the middle. Arrows cross: {rich.content:g} minus {wish:g} gives {poor.parts:g} parts "
        f"of corn top right, {wish:g} minus {poor.content:g} gives {rich.parts:g} parts of soybean meal bottom right.",
        "Each difference is taken across the middle, and counts for what stands on its own line "
        "(contents from Wagner and Stanton 2012).",
    )


def standing_order() -> str:
    """A steady order as sowings one week apart, each first in the nursery and then in the bed."""
    bed_days = _BED_WEEKS * _WEEK
    whole = _value("days_from_seed", nursery_days=_NURSERY_DAYS, bed_days=bed_days) / _WEEK
    rows = round(_value("sowings_in_house", weeks_from_seed=whole, sowing_interval=1.0))
    days = RELATIONS["sowing_days"].checked(first_day=0.0, sowing_step=_WEEK, sowings=rows)
    area = _value("bed_area_for_harvest", heads_per_week=_HEADS, weeks_in_bed=_BED_WEEKS, density=_DENSITY)
    x0, top, week, row = 70.0, 22.0, 25.5, 22.0
    at = [x0 + day / _WEEK * week for day in days]
    nursery, bed = _NURSERY_DAYS / _WEEK * week, _BED_WEEKS * week
    foot = top + rows * row
    body = []
    for number, x in enumerate(at):
        y = top + number * row
        body.append(
            f'<rect x="{x:.1f}" y="{y:g}" width="{nursery:.1f}" height="15" fill="none" stroke="currentColor"/>'
            f'<rect x="{x + nursery:.1f}" y="{y:g}" width="{bed:.1f}" height="15" fill="var(--wl-series-1)" '
            'fill-opacity="0.55" stroke="currentColor"/>'
            + label(x + nursery + bed + 4, y + 12, f"{_HEADS:.0f}", "start", plain=True)
            + label(x0 - 8, y + 12, f"sowing {number + 1}", "end", plain=True)
        )
    now = x0 + (rows - 0.5) * week
    in_bed = sum(x + nursery <= now < x + nursery + bed for x in at)
    in_nursery = sum(x <= now < x + nursery for x in at)
    last = rows - 1 + round(whole)
    body.append(f'<path d="M{now:.1f} 4 L{now:.1f} {foot + 4:g}" stroke="currentColor" stroke-dasharray="5 4"/>')
    body += [label(x0 + mark * week, foot + 18, str(mark), plain=True) for mark in range(last + 1)]
    body.append(label(x0 + last * week / 2, foot + 38, "weeks from the first sowing", plain=True))
    body.append(label(now - 6, 14, f"{in_nursery} in the nursery, {in_bed} in the bed", "end"))
    return figure(
        "standing-order",
        canvas(480, int(foot) + 48, "".join(body), "wl-arrow-order"),
        f"{rows} bars, each a week later than the one above: {_NURSERY_DAYS / _WEEK:.0f} weeks in the nursery, then "
        f"{_BED_WEEKS:.0f} in the bed, then {_HEADS:.0f} heads. A line through one week crosses {in_bed} sowings in the bed "
        f"and {in_nursery} in the nursery.",
        f"A standing order of {_HEADS:.0f} heads a week. An empty bar is the nursery, a filled one the bed, and the "
        f"number is the harvest in heads. At {_DENSITY:.0f} plants to the square metre, {in_bed} sowings fill {area:g} m² of bed.",
    )
