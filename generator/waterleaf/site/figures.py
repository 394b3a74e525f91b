"""Figures of the lessons. Every number comes from the calc module; drawings without numbers are drawn by hand."""

from collections.abc import Callable
from typing import Any, Final

from waterleaf.calc.quantity import RELATIONS
from waterleaf.site.drawings import nitrogen_flow, trial_layout, water_loop
from waterleaf.site.plots import DASHES, INK, SERIES, figure, plot


def _value(relation: str, **values: float) -> float:
    return float(RELATIONS[relation].checked(**values))


def _span(low: float, high: float, steps: int) -> list[float]:
    return [low + (high - low) * step / steps for step in range(steps + 1)]


def _lines(axes: Any, xs: list[float], curves: dict[str, list[float]]) -> None:
    """Curves told apart by dash as well as by colour, each with its name at its end."""
    for (name, ys), colour, dash in zip(curves.items(), SERIES, DASHES, strict=False):
        axes.plot(xs, ys, color=colour, linestyle=dash, linewidth=2)
        axes.annotate(name, (xs[-1], ys[-1]), xytext=(4, 0), textcoords="offset points", va="center", color=INK)
    axes.margins(x=0.02)


def un_ionised_ammonia() -> str:
    """Un-ionised share over pH, for four temperatures."""
    xs = _span(6.5, 8.8, 46)
    curves = {
        f"{t} °C": [100 * _value("un_ionised_fraction", temperature=float(t), ph=x) for x in xs]
        for t in (18, 22, 26, 30)
    }
    svg = plot(lambda axes: _lines(axes, xs, curves), "pH", "un-ionised share of ammonia, %")
    low, high = curves["26 °C"][xs.index(xs[10])], curves["26 °C"][30]
    return figure(
        "un-ionised-ammonia",
        svg,
        f"Four rising curves for 18, 22, 26 and 30 °C. At 26 °C the share grows from {low:.1f} % at pH 7.0 to {high:.1f} % "
        "at pH 8.0; warmer water lies higher.",
        "The same ammonia becomes far more harmful when pH or temperature rises (Emerson et al. 1975).",
    )


def oxygen_saturation() -> str:
    """Oxygen at saturation over temperature."""
    xs = _span(5, 35, 60)
    ys = [_value("oxygen_saturation", temperature=x) for x in xs]

    def draw(axes: Any) -> None:
        axes.plot(xs, ys, color=SERIES[0], linewidth=2)
        axes.set_ylim(0, 14)

    return figure(
        "oxygen-saturation",
        plot(draw, "water temperature, °C", "oxygen at saturation, mg/L"),
        f"A falling curve: {ys[0]:.1f} mg/L at 5 °C, {ys[xs.index(20.0)]:.1f} at 20 °C, {ys[-1]:.1f} at 35 °C.",
        "Warm water holds less oxygen, just when fish and bacteria need more (fresh water, sea level).",
    )


def feed_band() -> str:
    """Daily feed over bed area, between the ends of the published range."""
    xs = _span(1, 60, 59)
    low = [_value("daily_feed", bed_area=x, feed_ratio=60.0) / 1000 for x in xs]
    high = [_value("daily_feed", bed_area=x, feed_ratio=100.0) / 1000 for x in xs]

    def draw(axes: Any) -> None:
        axes.fill_between(xs, low, high, color=SERIES[0], alpha=0.25)
        _lines(axes, xs, {"60 g/m²/day": low, "100 g/m²/day": high})

    return figure(
        "feed-band",
        plot(draw, "raft bed, m²", "feed, kg/day"),
        f"A band that widens with area: 20 m² of bed takes 1.2 to 2.0 kg a day, 60 m² takes {low[-1]:.1f} to {high[-1]:.1f} kg.",
        "Feed for raft beds, from 60 to 100 g/m²/day (Rakocy 2007).",
    )


# Invented prices and yields of Ostrel Quay College: crop, heads or kilograms on a square metre, price, weeks.
_CROPS: Final = (
    ("basil", 20.0, 1.10, 4.0),
    ("bibb lettuce", 25.0, 0.90, 4.0),
    ("romaine", 16.0, 1.00, 5.0),
    ("chard", 18.0, 0.80, 5.0),
)


def margin_by_crop() -> str:
    """Revenue of a square metre in a week, by crop."""
    rates = [
        (crop, _value("revenue_rate", density=density, price=price, weeks_in_bed=weeks))
        for crop, density, price, weeks in _CROPS
    ]
    rates.sort(key=lambda pair: pair[1])

    def draw(axes: Any) -> None:
        axes.barh([crop for crop, _ in rates], [rate for _, rate in rates], color=SERIES[0])
        for place, (_, rate) in enumerate(rates):
            axes.text(rate, place, f" ${rate:.2f}", va="center", color=INK)
        axes.grid(axis="y", visible=False)
        axes.margins(x=0.15)

    told = ", ".join(f"{crop} ${rate:.2f}" for crop, rate in reversed(rates))
    return figure(
        "margin-by-crop",
        plot(draw, "sales of a square metre in a week, $", "", (6.4, 2.6)),
        f"Bars, longest first: {told} a square metre and week.",
        "Price a head says little; sales by area and week compare crops. Invented prices of Ostrel Quay College.",
    )


def power_curve() -> str:
    """Power of a comparison of two groups over the number of units."""
    xs = [float(n) for n in range(2, 21)]
    curves = {
        f"d = {d:g}": [_value("two_group_power", effect=d, first_units=n, second_units=n, significance=5.0) for n in xs]
        for d in (0.8, 1.2, 2.0)
    }

    def draw(axes: Any) -> None:
        _lines(axes, xs, curves)
        axes.axhline(80, color=INK, linewidth=0.8)
        axes.set_xticks(range(2, 21, 2))
        axes.set_ylim(0, 100)

    two = curves["d = 2"][xs.index(2.0)]
    return figure(
        "power-curve",
        plot(draw, "independent units in each group", "chance of finding the difference, %"),
        f"Three rising curves. With 2 units a group even a difference of two standard deviations is found only {two:.0f} % of "
        f"the time; it passes 80 % at {next(int(n) for n, p in zip(xs, curves['d = 2'], strict=True) if p >= 80)} units.",
        "Few units find only large differences. The line marks 80 %. d is the difference in standard deviations.",
    )


def triangle_critical() -> str:
    """Smallest number of right answers in a triangle test over the number of assessors."""
    xs = [float(n) for n in range(6, 61)]
    need = [_value("smallest_correct", assessors=n, alternatives=3.0, significance=5.0) for n in xs]
    chance = [n / 3 for n in xs]

    def draw(axes: Any) -> None:
        axes.step(xs, need, where="mid", color=SERIES[0], linewidth=2)
        axes.plot(xs, chance, color=SERIES[1], linestyle="--")
        axes.annotate(
            "needed at 5 %", (xs[-1], need[-1]), xytext=(-4, 6), textcoords="offset points", ha="right", color=INK
        )
        axes.annotate(
            "guessing alone", (36.0, 12.0), xytext=(10, -12), textcoords="offset points", ha="left", color=INK
        )

    return figure(
        "triangle-critical",
        plot(draw, "assessors", "right answers"),
        f"A staircase above the line of guessing: {need[xs.index(12.0)]:.0f} of 12, {need[xs.index(24.0)]:.0f} of 24, "
        f"{need[xs.index(36.0)]:.0f} of 36.",
        "Right answers needed in a triangle test at the 5 % level, against what guessing gives.",
    )


FIGURES: Final[dict[str, Callable[[], str]]] = {
    "water-loop": water_loop,
    "nitrogen-flow": nitrogen_flow,
    "trial-layout": trial_layout,
    "un-ionised-ammonia": un_ionised_ammonia,
    "oxygen-saturation": oxygen_saturation,
    "feed-band": feed_band,
    "margin-by-crop": margin_by_crop,
    "power-curve": power_curve,
    "triangle-critical": triangle_critical,
}
