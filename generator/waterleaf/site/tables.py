"""Reference tables, printed from the calc module, so that the handbook page and the key cannot disagree."""

from collections.abc import Callable, Sequence
from html import escape
from typing import Final

from waterleaf.calc.quantity import RELATIONS, OutOfRange
from waterleaf.working import figures


def _html(caption: str, corner: str, columns: Sequence[str], rows: Sequence[tuple[str, Sequence[str]]]) -> str:
    heads = "".join(f'<th scope="col">{escape(text)}</th>' for text in (corner, *columns))
    body = "".join(
        f'<tr><th scope="row">{escape(label)}</th>{"".join(f"<td>{escape(cell)}</td>" for cell in cells)}</tr>'
        for label, cells in rows
    )
    return (
        f'<div class="wl-wide" tabindex="0" role="region" aria-label="{escape(caption)}"><table class="wl-readings">'
        f"<caption>{escape(caption)}</caption><thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _cell(relation: str, places: int, **values: float) -> str:
    """A value of a relation to so many decimals; a dash where the relation does not hold or finds nothing."""
    try:
        return figures.decimals(float(RELATIONS[relation].checked(**values)), places).replace("-", "−")
    except (OutOfRange, ValueError):
        return "–"


def brix_correction() -> str:
    """Temperature correction of a refractometer without compensation."""
    readings = (0.0, 5.0, 10.0, 15.0, 20.0)
    rows = [
        (
            f"{t} °C",
            [
                figures.decimals(RELATIONS["corrected_brix"].checked(reading=r, temperature=float(t)) - r, 2).replace(
                    "-", "−"
                )
                for r in readings
            ],
        )
        for t in range(10, 23)
    ]
    return _html(
        "Add to the reading, in °Brix (a minus means: take away)", "Juice at", [f"reads {r:g}" for r in readings], rows
    )


def oxygen_saturation() -> str:
    """Oxygen in fresh water at sea level, in equilibrium with air."""
    rows = [
        (f"{tens} °C", [_cell("oxygen_saturation", 2, temperature=float(tens + unit)) for unit in range(10)])
        for tens in (0, 10, 20, 30)
    ]
    return _html("Oxygen at saturation, fresh water at one atmosphere, in mg/L", "Tens", [f"+{u}" for u in range(10)], rows)


def un_ionised_fraction() -> str:
    """Share of ammonia that is un-ionised, in per cent."""
    temperatures = (15, 18, 20, 22, 24, 26, 28)
    rows = []
    for tenth in range(65, 91, 5):
        cells = []
        for temperature in temperatures:
            share = RELATIONS["un_ionised_fraction"].checked(temperature=float(temperature), ph=tenth / 10)
            factor = 1 if RELATIONS["un_ionised_fraction"].result.unit == "percent" else 100
            cells.append(figures.significant(share * factor, 3))
        rows.append((f"pH {tenth / 10:.1f}", cells))
    return _html("Un-ionised share of total ammonia, in %", "pH", [f"{t} °C" for t in temperatures], rows)


def smallest_correct() -> str:
    """Smallest number of right answers in a triangle test."""
    levels = (10.0, 5.0, 1.0, 0.1)
    rows = [
        (
            str(n),
            [
                _cell("smallest_correct", 0, assessors=float(n), alternatives=3.0, significance=level)
                for level in levels
            ],
        )
        for n in (*range(6, 31, 2), 36, 42, 48, 54, 60)
    ]
    return _html(
        "Triangle test: smallest number of right answers", "Assessors", [f"{level:g} %" for level in levels], rows
    )


TABLES: Final[dict[str, Callable[[], str]]] = {
    "brix-correction": brix_correction,
    "oxygen-saturation": oxygen_saturation,
    "un-ionised-fraction": un_ionised_fraction,
    "minimum-correct": smallest_correct,
}
