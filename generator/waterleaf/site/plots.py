"""Plots as SVG that takes its colours from the page: legible in light, in dark, and on paper."""

import io
import logging
import re
from collections.abc import Callable
from html import escape
from typing import Any, Final

# Marker colours that are swapped for the page's own: text and axes, faint lines, and four series.
INK: Final = "#010203"
FAINT: Final = "#040506"
SERIES: Final = ("#070809", "#0a0b0c", "#0d0e0f", "#101112")
_PAGE_COLOURS: Final = {
    INK: "currentColor",
    FAINT: "var(--wl-line)",
    **{marker: f"var(--wl-series-{number})" for number, marker in enumerate(SERIES, start=1)},
}
PHONE: Final = (4.9, 3.4)  # inches at 72 points: as wide as a phone shows a figure without shrinking it
DASHES: Final = ("-", "--", "-.", ":")


def figure(name: str, svg: str, alternative: str, caption: str) -> str:
    """A figure with its text alternative and caption, as HTML on one line."""
    flat = " ".join(svg.split())
    opening = f'<svg role="img" aria-label="{escape(alternative)}" '
    flat = flat.replace("<svg ", opening, 1)
    return f'<figure class="wl-figure" id="figure-{name}">{flat}<figcaption>{escape(caption)}</figcaption></figure>'


def plot(draw: Callable[[Any], None], x_label: str, y_label: str, size: tuple[float, float] = PHONE) -> str:
    """An SVG of one set of axes, filled in by `draw`; the same bytes every time."""
    import matplotlib as mpl

    # The first run on a computer builds a font cache and would tell the reader so.
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    mpl.use("svg")
    from matplotlib.figure import Figure

    settings: Any = {
        "svg.fonttype": "none",
        "svg.hashsalt": "waterleaf",
        "font.size": 12,
        "axes.edgecolor": INK,
        "axes.labelcolor": INK,
        "xtick.color": INK,
        "ytick.color": INK,
        "text.color": INK,
        "grid.color": FAINT,
        "grid.linewidth": 0.4,
        "axes.spines.top": False,
        "axes.spines.right": False,
        "legend.frameon": False,
        "font.family": "sans-serif",
    }
    with mpl.rc_context(settings):
        canvas = Figure(figsize=size, layout="constrained")
        axes = canvas.add_subplot()
        axes.grid(True)
        axes.set_xlabel(x_label)
        axes.set_ylabel(y_label)
        draw(axes)
        canvas.patch.set_alpha(0)
        axes.patch.set_alpha(0)
        out = io.StringIO()
        canvas.savefig(out, format="svg", metadata={"Date": None, "Creator": None}, transparent=True)
    return page_colours(out.getvalue())


def page_colours(svg: str) -> str:
    """The drawing alone, scaled to its column, with marker colours swapped for the page's."""
    svg = svg[svg.index("<svg") :]
    svg = re.sub(r"<metadata>.*?</metadata>", "", svg, flags=re.DOTALL)
    svg = re.sub(r' width="[\d.]+pt" height="[\d.]+pt"', "", svg, count=1)
    svg = re.sub(r"font: ([\d.]+px) [^;\"]*", r"font: \1 inherit", svg)
    for marker, colour in _PAGE_COLOURS.items():
        svg = svg.replace(marker, colour)
    return svg
