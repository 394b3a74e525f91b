"""Drawings of the lessons that are shapes rather than curves, in the colours of the page."""

from html import escape
from typing import Final

from waterleaf.calc.quantity import RELATIONS
from waterleaf.site.plots import figure

_ARROW: Final = (
    '<defs><marker id="{id}" viewBox="0 0 10 10" refX="9" refY="5" markerWidth="7" markerHeight="7" orient="auto">'
    '<path d="M0 0 10 5 0 10z" fill="currentColor"/></marker></defs>'
)


def canvas(width: int, height: int, body: str, arrow: str) -> str:
    """A drawing of that size; at most 480 wide, so that its letters stay readable on a phone."""
    return (
        f'<svg viewBox="0 0 {width} {height}" font-size="13" fill="currentColor" stroke="none">'
        f"{_ARROW.format(id=arrow)}{body}</svg>"
    )


def box(x: float, y: float, width: float, height: float, lines: tuple[str, ...], water: bool = True) -> str:
    """A box with lines of text in its middle, tinted if it holds water."""
    fill = ' fill="var(--wl-series-1)" fill-opacity="0.18"' if water else ' fill="none"'
    text = "".join(
        f'<text x="{x + width / 2:g}" y="{y + height / 2 + 5 + 16 * (i - (len(lines) - 1) / 2):g}" '
        f'text-anchor="middle">{escape(line)}</text>'
        for i, line in enumerate(lines)
    )
    return (
        f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" rx="3" stroke="currentColor" '
        f'stroke-width="1.5"{fill}/>{text}'
    )


def way(path: str, arrow: str, dashed: bool = False) -> str:
    """A line with a head at its end."""
    dash = ' stroke-dasharray="5 4"' if dashed else ""
    return f'<path d="{path}" fill="none" stroke="currentColor" stroke-width="1.8"{dash} marker-end="url(#{arrow})"/>'


def label(x: float, y: float, text: str, anchor: str = "middle", plain: bool = False) -> str:
    """A text of its own; notes on a drawing lean."""
    style = "" if plain else ' font-style="italic"'
    return f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}"{style}>{escape(text)}</text>'


def water_loop() -> str:
    """The way of the water: one pump lifts it once, and it runs down by itself from step to step."""
    arrow = "wl-arrow-loop"
    body = "".join(
        (
            box(10, 40, 92, 64, ("fish tanks",)),
            box(128, 58, 92, 64, ("clarifier",)),
            box(246, 76, 92, 58, ("fine solids",)),
            box(364, 94, 92, 48, ("raft beds",)),
            box(364, 220, 92, 60, ("sump", "and pump")),
            box(128, 220, 92, 60, ("aerated", "sludge tank")),
            way("M102 78 L126 84", arrow),
            way("M220 96 L244 102", arrow),
            way("M338 112 L362 116", arrow),
            way("M410 142 L410 218", arrow),
            way("M168 122 L168 218", arrow, True),
            way("M292 134 C292 190 262 236 222 242", arrow, True),
            way("M220 264 L362 260", arrow, True),
            way("M456 250 L472 250 L472 20 L56 20 L56 38", arrow),
            label(264, 36, "the only lift"),
            label(291, 282, "clear water,"),
            label(291, 298, "once a week"),
            label(160, 176, "sludge, daily", "end"),
            label(402, 186, "by gravity", "end"),
        )
    )
    return figure(
        "water-loop",
        canvas(480, 306, body, arrow),
        "Water runs by gravity from the fish tanks through the clarifier and the fine-solids tank to the raft beds and into "
        "the sump, where the one pump lifts it back to the fish tanks. Sludge goes from the clarifier and the fine-solids "
        "tank to an aerated sludge tank, whose clear water returns to the sump once a week.",
        "One pump lifts the water once; standpipes hold every level when it stops.",
    )


def nitrogen_flow() -> str:
    """Where the nitrogen of a week's feed ends up; the width of a stream is its share."""
    ends = _nitrogen_ends()
    scale, gap, start, end = 1.8, 14.0, 30.0, 20.0
    body = []
    for number, (part, share) in enumerate(ends.items(), start=1):
        width = share * scale
        body.append(_stream(number, start, end, width, f"{part}, {share:.0f} %"))
        start += width
        end += width + gap
    for line, text in enumerate(("nitrogen", "in the feed")):
        body.append(label(72, 30 + 50 * scale + 16 * line, text, "end", plain=True))
    told = ", ".join(f"{part} {share:.0f} %" for part, share in ends.items())
    return figure(
        "nitrogen-flow",
        canvas(480, int(end) + 10, "".join(body), "wl-arrow-nitrogen"),
        f"One stream of nitrogen from the feed parts into four: {told}.",
        "Where the nitrogen of one week's feed ends at Ostrel Quay College: 7 kg of feed, and 120 g of nitrogen in the "
        "crop (invented figures; the shares come from the relations of this course).",
    )


def _nitrogen_ends() -> dict[str, float]:
    """Shares of the nitrogen by where it ends: what fish and sludge give to the water goes on to the crop, or is lost."""
    rows = RELATIONS["nitrogen_balance"].checked(
        feed_fed=7.0, protein=32.0, gain=4.1, fish_protein=16.0, solids_part=18.0, mineralised=40.0, drawn=50.0,
        uptake=120.0,
    )
    shares = {row.part: row.share for row in rows}
    return {
        "kept by the fish": shares["kept by the fish"],
        "left in sludge": shares["left in sludge"],
        "taken up by the crop": shares["taken up by the crop"],
        "not found": shares["lost or left in the water"],
    }


def _stream(number: int, start: float, end: float, width: float, named: str) -> str:
    """A stream from one height on the left to another on the right, with its name behind it."""
    left, right = 80.0, 280.0
    middle = (left + right) / 2
    return (
        f'<path d="M{left:g} {start:.1f} C{middle:g} {start:.1f} {middle:g} {end:.1f} {right:g} {end:.1f} '
        f"L{right:g} {end + width:.1f} C{middle:g} {end + width:.1f} {middle:g} {start + width:.1f} "
        f'{left:g} {start + width:.1f}Z" fill="var(--wl-series-{number})" fill-opacity="0.55"/>'
        + label(right + 8, end + width / 2 + 5, named, "start", plain=True)
    )


def trial_layout() -> str:
    """Three blocks with three methods in random order, each plot on a tank of its own."""
    order = (("soil", "raft", "hydroponic"), ("raft", "hydroponic", "soil"), ("hydroponic", "soil", "raft"))
    body = []
    for block, methods in enumerate(order):
        y = 10 + block * 72
        body.append(label(6, y + 33, f"block {block + 1}", "start", plain=True))
        for place, method in enumerate(methods):
            body.append(
                box(74 + place * 126, y, 112, 56, (method, f"unit {block * 3 + place + 1}"), water=method != "soil")
            )
    body.append(label(74, 242, "door, draught and sun differ between blocks,", "start"))
    body.append(label(74, 258, "not inside one", "start"))
    return figure(
        "trial-layout",
        canvas(452, 266, "".join(body), "wl-arrow-layout"),
        "Three rows of three units. Each row is a block that holds soil, raft and hydroponic once, in a different order.",
        "A blocked layout: every method once in each block, in random order, every unit on its own water.",
    )
