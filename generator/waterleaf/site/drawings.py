"""Drawings of the lessons that are shapes rather than curves, in the colours of the page."""

from html import escape
from typing import Final

from waterleaf.calc.quantity import RELATIONS
from waterleaf.site.plots import figure

_ARROW: Final = (
    '<defs><marker id="{id}" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="7" markerHeight="7" orient="auto">'
    '<path d="M0 0 10 5 0 10z" fill="currentColor"/></marker></defs>'
)


def _svg(width: int, height: int, body: str, arrow: str) -> str:
    return (
        f'<svg viewBox="0 0 {width} {height}" font-size="13" fill="currentColor" stroke="none">'
        f"{_ARROW.format(id=arrow)}{body}</svg>"
    )


def _box(x: int, y: int, width: int, height: int, lines: tuple[str, ...], water: bool = True) -> str:
    fill = ' fill="var(--wl-series-1)" fill-opacity="0.18"' if water else ' fill="none"'
    text = "".join(
        f'<text x="{x + width / 2:g}" y="{y + height / 2 + 5 + 16 * (i - (len(lines) - 1) / 2):g}" text-anchor="middle">{escape(line)}</text>'
        for i, line in enumerate(lines)
    )
    return f'<rect x="{x}" y="{y}" width="{width}" height="{height}" rx="3" stroke="currentColor" stroke-width="1.5"{fill}/>{text}'


def _way(path: str, arrow: str, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="5 4"' if dashed else ""
    return f'<path d="{path}" fill="none" stroke="currentColor" stroke-width="1.8"{dash} marker-end="url(#{arrow})"/>'


def _label(x: int, y: int, text: str, anchor: str = "middle") -> str:
    return f'<text x="{x}" y="{y}" text-anchor="{anchor}" font-style="italic">{escape(text)}</text>'


def water_loop() -> str:
    """The way of the water: one pump lifts it once, and it runs down by itself from step to step."""
    arrow = "wl-arrow-loop"
    body = "".join(
        (
            _box(20, 40, 120, 70, ("fish tanks",)),
            _box(190, 60, 110, 70, ("clarifier",)),
            _box(350, 80, 110, 60, ("fine solids",)),
            _box(510, 100, 130, 50, ("raft beds",)),
            _box(510, 220, 130, 60, ("sump", "and pump")),
            _box(190, 220, 130, 60, ("aerated", "sludge tank")),
            _way("M140 80 L188 90", arrow),
            _way("M300 98 L348 106", arrow),
            _way("M460 114 L508 122", arrow),
            _way("M575 150 L575 218", arrow),
            _way("M245 130 L250 218", arrow, True),
            _way("M400 140 C400 200 350 240 322 245", arrow, True),
            _way("M320 262 L508 258", arrow, True),
            _way("M640 250 L672 250 L672 15 L80 15 L80 38", arrow),
            _label(400, 32, "the only lift"),
            _label(415, 276, "clear water, once a week"),
            _label(236, 180, "sludge, daily", "end"),
            _label(585, 190, "by gravity", "start"),
        )
    )
    return figure(
        "water-loop",
        _svg(700, 300, body, arrow),
        "Water runs by gravity from the fish tanks through the clarifier and the fine-solids tank to the raft beds and into "
        "the sump, where the one pump lifts it back to the fish tanks. Sludge goes from the clarifier and the fine-solids "
        "tank to an aerated sludge tank, whose clear water returns to the sump once a week.",
        "One pump lifts the water once; standpipes hold every level when it stops.",
    )


def nitrogen_flow() -> str:
    """Where the nitrogen of ten kilograms of feed goes; the width of a stream is its share."""
    rows = RELATIONS["nitrogen_balance"].checked(
        feed_fed=10.0,
        protein=36.0,
        gain=6.0,
        fish_protein=17.0,
        solids_part=20.0,
        mineralised=60.0,
        drawn=50.0,
        uptake=120.0,
    )
    shares = {row.part: row.share for row in rows}
    ends = [part for part in shares if part not in ("in the feed", "dissolved by the fish", "in solids")]
    scale, gap, x0, x1 = 1.8, 14.0, 150.0, 420.0
    body, start, end = [], 30.0, 20.0
    for number, part in enumerate(ends):
        width = shares[part] * scale
        body.append(
            f'<path d="M{x0:g} {start:.1f} C285 {start:.1f} 285 {end:.1f} {x1:g} {end:.1f} L{x1:g} {end + width:.1f} '
            f'C285 {end + width:.1f} 285 {start + width:.1f} {x0:g} {start + width:.1f}Z" '
            f'fill="var(--wl-series-{number % 4 + 1})" fill-opacity="0.55"/>'
            f'<text x="{x1 + 10:g}" y="{end + width / 2 + 5:.1f}">{escape(part)}, {shares[part]:.0f} %</text>'
        )
        start += width
        end += width + gap
    body.append(f'<text x="140" y="{30 + 50 * scale:.0f}" text-anchor="end">nitrogen in the feed</text>')
    told = ", ".join(f"{part} {shares[part]:.0f} %" for part in ends)
    return figure(
        "nitrogen-flow",
        _svg(680, int(end) + 10, "".join(body), "wl-arrow-nitrogen"),
        f"One stream of nitrogen from the feed parts into: {told}.",
        "Nitrogen of 10 kg of feed with 36 % protein in one example system (invented figures; the shares add up by the "
        "relations of this course).",
    )


def trial_layout() -> str:
    """Three blocks with three methods in random order, each plot on a tank of its own."""
    order = (("soil", "raft", "hydroponic"), ("raft", "hydroponic", "soil"), ("hydroponic", "soil", "raft"))
    body = []
    for block, methods in enumerate(order):
        y = 20 + block * 80
        body.append(f'<text x="10" y="{y + 35}">block {block + 1}</text>')
        for place, method in enumerate(methods):
            body.append(
                _box(90 + place * 160, y, 140, 60, (method, f"unit {block * 3 + place + 1}"), water=method != "soil")
            )
    body.append(
        '<text x="90" y="275" font-style="italic">door, draught and sun differ between blocks, not inside one</text>'
    )
    return figure(
        "trial-layout",
        _svg(600, 290, "".join(body), "wl-arrow-layout"),
        "Three rows of three units. Each row is a block that holds soil, raft and hydroponic once, in a different order.",
        "A blocked layout: every method once in each block, in random order, every unit on its own water.",
    )
