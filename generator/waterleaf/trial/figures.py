"""Figures of a trial: every reading shown, unit means, method means with intervals, and what the model leaves over."""

import io
import logging
import re
from collections.abc import Callable, Sequence
from typing import Any, Final

from waterleaf.calc.sugar.statistics import t_quantile
from waterleaf.trial.analysis import Analysis, UnitMean, method_means
from waterleaf.trial.planning import measured, measured_amount
from waterleaf.working.units import label

INK: Final = "#16323a"
WATER: Final = "#1f6f78"
WARM: Final = "#8a3b12"
FAINT: Final = "#9db8bb"
_LETTERS_ABREAST: Final = 50  # of names below an axis


def axis_label(analysis: Analysis) -> str:
    """What the axis of readings says."""
    response = analysis.plan.response
    unit = label(response.unit)
    return f"{response.name} ({unit})" if unit else response.name


def readings_figure(analysis: Analysis) -> str:
    """Every reading as a small dot, unit means as rings, lines along blocks, method means with 95 % intervals."""

    def draw(axes: Any) -> None:
        methods = [
            method for method in analysis.plan.methods if any(m.unit.method == method for m in analysis.unit_means)
        ]
        where = _across(analysis, methods)
        for mean in analysis.unit_means:
            place = where[mean.unit.code]
            count = len(mean.readings)
            spread = [place + 0.05 * (number - (count - 1) / 2) / max(1, count) for number in range(count)]
            axes.plot(spread, mean.readings, ".", color=FAINT, markersize=4, zorder=1)
            axes.plot([place], [mean.value], "o", color=WATER, fillstyle="none", markersize=6, zorder=3)
        _block_lines(axes, analysis, where)
        _method_means(axes, analysis, methods)
        name_places(axes, methods)
        axes.set_xlim(-0.6, len(methods) - 0.4)
        axes.set_ylabel(axis_label(analysis))

    return svg("readings", draw, size=(4.6, 3.1))


def name_places(axes: Any, names: Sequence[str]) -> None:
    """Names below the axis, aslant where they would run into each other."""
    crowded = sum(len(name) + 2 for name in names) > _LETTERS_ABREAST
    axes.set_xticks(range(len(names)), names, **({"rotation": 25, "ha": "right"} if crowded else {}))


def _across(analysis: Analysis, methods: list[str]) -> dict[str, float]:
    """Where each unit stands across the figure: beside the others of its method."""
    found = {}
    for place, method in enumerate(methods):
        own = [mean for mean in analysis.unit_means if mean.unit.method == method]
        for number, mean in enumerate(own):
            found[mean.unit.code] = place - 0.1 + 0.4 * (number - (len(own) - 1) / 2) / max(1, len(own))
    return found


def _block_lines(axes: Any, analysis: Analysis, where: dict[str, float]) -> None:
    blocks: dict[str, list[UnitMean]] = {}
    for mean in analysis.unit_means:
        if mean.unit.block:
            blocks.setdefault(mean.unit.block, []).append(mean)
    for block in blocks.values():
        block.sort(key=lambda mean: where[mean.unit.code])
        axes.plot(
            [where[mean.unit.code] for mean in block], [mean.value for mean in block],
            "-", color=FAINT, linewidth=0.7, zorder=2,
        )  # fmt: skip


def _method_means(axes: Any, analysis: Analysis, methods: list[str]) -> None:
    for method, middle, error, freedom in method_means(analysis):
        half = t_quantile(0.975, freedom) * error if analysis.tested and error > 0 else 0.0
        style = {"color": WARM, "markersize": 7, "capsize": 4, "linewidth": 1.4, "zorder": 4}
        axes.errorbar([methods.index(method) + 0.28], [middle], yerr=[half] if half else None, fmt="D", **style)


def residual_figure(analysis: Analysis, *, narrow: bool = False) -> str:
    """What the model leaves over, against what it fits: a fan or a bow would be a warning."""
    fitted = analysis.fit
    assert fitted is not None

    def draw(axes: Any) -> None:
        axes.axhline(0, color=FAINT, linewidth=0.8)
        # The last digits are those of the library that solved it, and would change the bytes of the picture.
        points = ([round(value, 9) for value in values] for values in (fitted.fitted, fitted.residuals))
        axes.plot(*points, "o", color=WATER, fillstyle="none", markersize=5)
        axes.set_xlabel(f"fitted {axis_label(analysis)}")
        axes.set_ylabel("residual")

    return svg("residuals", draw, size=(2.76, 3.1) if narrow else (4.6, 2.2))


def residual_alternative(analysis: Analysis) -> str:
    """The second figure in words: how far the largest residuals lie, over lower and over higher fitted values."""
    assert analysis.fit is not None
    pairs = sorted(zip(analysis.fit.fitted, analysis.fit.residuals, strict=True))
    halves = [pairs[: len(pairs) // 2], pairs[len(pairs) // 2 :]]
    low, high = (measured_amount(max((abs(left) for _, left in half), default=0.0), analysis.plan) for half in halves)
    return f"Residuals: at most {low} in the lower half of the fitted values, {high} in the upper."


def readings_alternative(analysis: Analysis) -> str:
    """The first figure in words."""
    plan = analysis.plan
    told = [f"{name} mean {measured(mean, plan)}" for name, mean, _, _ in method_means(analysis)]
    means = "; ".join(told) or "no means"
    return f"Every reading of {plan.response.name} by method, with the mean of every {plan.unit}: {means}."


def svg(name: str, draw: Callable[[Any], None], size: tuple[float, float]) -> str:
    """One set of axes as SVG, letters as outlines, no wider than a phone; the same bytes every time."""
    import matplotlib as mpl

    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # the first run would tell of its font cache
    mpl.use("svg")
    from matplotlib.figure import Figure

    settings: Any = {
        "svg.fonttype": "path", "svg.hashsalt": "waterleaf", "font.size": 9, "axes.edgecolor": INK,
        "axes.labelcolor": INK, "xtick.color": INK, "ytick.color": INK, "text.color": INK,
        "axes.spines.top": False, "axes.spines.right": False,
    }  # fmt: skip
    with mpl.rc_context(settings):
        canvas = Figure(figsize=size, layout="constrained")
        draw(canvas.add_subplot())
        out = io.StringIO()
        canvas.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    text = out.getvalue()
    # Two figures stand on one page: each keeps its own names for letters and clips.
    return re.sub(r'(id="|href="#|url\(#)', rf"\g<1>{name}-", text[text.index("<svg") :])
