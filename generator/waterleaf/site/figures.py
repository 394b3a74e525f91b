"""Figures of the lessons. Every number comes from the calc module; drawings without numbers are drawn by hand."""

import math
from collections.abc import Callable
from typing import Any, Final

from waterleaf.calc.quantity import RELATIONS
from waterleaf.site.drawings import nitrogen_flow, trial_layout, water_loop
from waterleaf.site.plots import DASHES, INK, SERIES, figure, plot
from waterleaf.site.sections import pearson_square, settling_tank, standing_order
from waterleaf.working.units import convert


def _value(relation: str, **values: float) -> float:
    return float(RELATIONS[relation].checked(**values))


def _span(low: float, high: float, steps: int) -> list[float]:
    return [low + (high - low) * step / steps for step in range(steps + 1)]


def _lines(axes: Any, xs: list[float], curves: dict[str, list[float]]) -> None:
    """Curves told apart by dash as well as by colour, each with its name at its end, no name on top of another."""
    apart = 0.08 * (max(max(ys) for ys in curves.values()) - min(min(ys) for ys in curves.values()))
    height = math.inf
    heights = {}
    for name, ys in sorted(curves.items(), key=lambda curve: curve[1][-1], reverse=True):
        heights[name] = height = min(ys[-1], height - apart)
    for (name, ys), colour, dash in zip(curves.items(), SERIES, DASHES, strict=False):
        axes.plot(xs, ys, color=colour, linestyle=dash, linewidth=2)
        axes.annotate(
            name, (xs[-1], heights[name]), xytext=(4, 0), textcoords="offset points", va="center", color=INK,
            annotation_clip=False,
        )
    axes.margins(x=0.02)


def un_ionised_ammonia() -> str:
    """Un-ionised share over pH, for four temperatures."""
    xs = _span(6.5, 8.8, 46)
    curves = {
        f"{t} °C": [100 * _value("un_ionised_fraction", temperature=float(t), ph=x) for x in xs]
        for t in (18, 22, 26, 30)
    }
    svg = plot(lambda axes: _lines(axes, xs, curves), "pH", "un-ionised share of ammonia, %")
    low, high = (100 * _value("un_ionised_fraction", temperature=26.0, ph=ph) for ph in (7.0, 8.0))
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
        f"A band that widens with area: 20 m² of bed takes {low[19]:.1f} to {high[19]:.1f} kg a day, 60 m² takes "
        f"{low[-1]:.1f} to {high[-1]:.1f} kg.",
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
            axes.annotate(f"${rate:.2f}", (rate, place), xytext=(4, 0), textcoords="offset points", va="center", color=INK)
        axes.grid(axis="y", visible=False)
        axes.margins(x=0.15)

    told = ", ".join(f"{crop} ${rate:.2f}" for crop, rate in reversed(rates))
    return figure(
        "margin-by-crop",
        plot(draw, "sales of a square metre in a week, $", "", (4.9, 2.4)),
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
        axes.set_ylim(0, 101)

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


def like_shape() -> str:
    """What a vessel's lengths, areas and wall do when it is shrunk in like shape to a share of its volume."""
    xs = _span(0.05, 1, 95)
    scale_of = {
        "wall for each litre": "surface_scale",
        "length": "length_scale_for_volume",
        "area": "area_scale_for_volume",
    }
    curves = {name: [_value(relation, volume_scale=x) for x in xs] for name, relation in scale_of.items()}
    curves["volume"] = xs
    tenth = xs.index(min(xs, key=lambda x: abs(x - 0.1)))

    def draw(axes: Any) -> None:
        for (name, ys), colour, dash in zip(curves.items(), SERIES, DASHES, strict=True):
            axes.plot(xs, ys, color=colour, linestyle=dash, linewidth=2, label=name)
            axes.plot(xs[tenth], ys[tenth], "o", color=colour)
        axes.legend(loc="upper right", handlelength=3)
        axes.set_xlim(0, 1.02)
        axes.set_ylim(0, 3)

    told = {name: ys[tenth] for name, ys in curves.items()}
    return figure(
        "like-shape",
        plot(draw, "volume, as a share of the large vessel's", "factor"),
        f"Four curves that meet at 1. At a tenth of the volume, lengths are at {told['length']:.2f}, areas at "
        f"{told['area']:.2f}, and the wall for each litre has grown to {told['wall for each litre']:.2f}.",
        f"A vessel shrunk in like shape. The dots stand at a tenth of the volume: length {told['length']:.2f}, area "
        f"{told['area']:.2f}, wall for each litre {told['wall for each litre']:.2f} of what they were.",
    )


# The row of the lesson: degrees north, metres high, from east to west.
_LATITUDE, _ROW_HEIGHT, _ROW_BEARING = 42.0, 2.0, 90.0


def _reach(day: float) -> tuple[list[float], list[float]]:
    """Hours of a day, and how far north of the row its shadow reaches at each."""
    rows = RELATIONS["row_shadows"].checked(
        latitude=_LATITUDE, declination=_value("solar_declination", day=day), row_height=_ROW_HEIGHT,
        row_bearing=_ROW_BEARING,
    )
    shown = [row for row in rows if 7 <= row.solar_time <= 17]
    # The sun stands south of the row while its bearing from due south is below a right angle.
    return (
        [float(row.solar_time) for row in shown],
        [float(row.across if abs(row.bearing) < _ROW_BEARING else -row.across) for row in shown],
    )


def shadow_hours() -> str:
    """How far the shadow of a row from east to west reaches, hour by hour, on three days."""
    curves = {name: _reach(day) for name, day in (("midwinter", 355.0), ("equinox", 81.0), ("midsummer", 172.0))}
    # Where a name stands, in points above its curve.
    below = {"midwinter": -14, "equinox": 4, "midsummer": 4}

    def draw(axes: Any) -> None:
        for (name, (hours, reach)), colour, dash in zip(curves.items(), SERIES, DASHES, strict=False):
            axes.plot(hours, reach, color=colour, linestyle=dash, linewidth=2, marker="o", markersize=3)
            axes.annotate(
                name, (12, reach[hours.index(12.0)]), xytext=(0, below[name]), textcoords="offset points", ha="center",
                color=INK,
            )
        axes.axhline(0, color=INK, linewidth=2)
        axes.annotate("the row", (12, 0), xytext=(0, -13), textcoords="offset points", ha="center", color=INK)
        axes.set_xticks(range(7, 18))
        axes.set_ylim(-2, 8)
        axes.set_yticks(range(-2, 9, 2), ["2 south", "0", "2 north", "4 north", "6 north", "8 north"])

    noon = {name: reach[hours.index(12.0)] for name, (hours, reach) in curves.items()}
    hours, reach = curves["midsummer"]
    return figure(
        "shadow-hours",
        plot(draw, "hour of the sun, 12 when it is highest", "reach of the shadow, m"),
        f"Three curves. At noon the shadow reaches {noon['midwinter']:.1f} m to the north in midwinter, {noon['equinox']:.1f} m "
        f"at the equinox and {noon['midsummer']:.1f} m in midsummer. At the equinox it is the same all day. In midsummer it "
        f"lies {-reach[0]:.1f} m to the south at {hours[0]:.0f} in the morning.",
        f"A row {_ROW_HEIGHT:g} m high from east to west, at {_LATITUDE:g}° north. Nearly all shade falls on its north side, so that "
        "is where the path goes, and the low crops stand on the south side. Computed hour by hour from the equations of "
        "this lesson.",
    )


# Kale, mean yields of four cuts in g/ft² (Heyduck et al. 2020); the sum of the four is printed there for the season.
_KALE_CUTS: Final = (216.0, 88.0, 109.0, 104.0)


def cut_again() -> str:
    """The sum of the cuts of a stand, beside cutting it once, and beside the slip of four equal cuts."""
    cuts = [convert(grams, "g/ft^2", "kg/m^2") for grams in _KALE_CUTS]
    sums = [float(RELATIONS["total_of_cuts"].checked(cuts=cuts[: number + 1])) for number in range(len(cuts))]
    xs = [float(number) for number in range(1, len(cuts) + 1)]

    def draw(axes: Any) -> None:
        below = [total - cut for total, cut in zip(sums, cuts, strict=True)]
        axes.bar(xs, below, color=SERIES[0], alpha=0.25, width=0.7)
        axes.bar(xs, cuts, bottom=below, color=SERIES[0], width=0.7)
        for x, total in zip(xs, sums, strict=True):
            side = "right" if x == xs[0] else "center"  # the dashed line starts at the middle of the first
            axes.annotate(f"{total:.2f}", (x, total), xytext=(-2, 3), textcoords="offset points", ha=side, color=INK)
        axes.plot(xs, [cuts[0] * x for x in xs], color=SERIES[1], linestyle="--", marker="o", markersize=3)
        axes.annotate("dashed: if all cuts were\nlike the first", (0.65, 8.0), color=INK)
        axes.set_xticks(xs)
        axes.set_ylim(0, 10)
        axes.grid(axis="x", visible=False)

    return figure(
        "cut-again",
        plot(draw, "cuts so far", "yield of the stand, kg/m²"),
        f"Bars that grow ever more slowly: {', '.join(f'{total:.2f}' for total in sums)} kg/m² after one to four cuts. A dashed "
        f"line for four equal cuts goes up to {4 * cuts[0]:.2f}.",
        f"Cut once, the bed gives {sums[0]:.2f} kg/m² and is free. Cut four times, it gives {sums[-1]:.2f} kg/m² and is taken up "
        "longer. The part in full colour is the newest cut (kale in winter tunnels, Heyduck et al. 2020).",
    )


FIGURES: Final[dict[str, Callable[[], str]]] = {
    "water-loop": water_loop,
    "nitrogen-flow": nitrogen_flow,
    "trial-layout": trial_layout,
    "settling-tank": settling_tank,
    "pearson-square": pearson_square,
    "standing-order": standing_order,
    "like-shape": like_shape,
    "shadow-hours": shadow_hours,
    "cut-again": cut_again,
    "un-ionised-ammonia": un_ionised_ammonia,
    "oxygen-saturation": oxygen_saturation,
    "feed-band": feed_band,
    "margin-by-crop": margin_by_crop,
    "power-curve": power_curve,
    "triangle-critical": triangle_critical,
}
