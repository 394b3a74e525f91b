"""A filled log sheet read back: what was done against the plan, what the readings say, and what drifted."""

import csv
import io
import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from statistics import fmean
from typing import Final
from xml.sax.saxutils import escape

from waterleaf.bank.validation import checked_date
from waterleaf.faults import Fault, Faults, refuse
from waterleaf.growing.dutyfiles import LOG_COLUMNS

# How many of the latest logged days are held against the plan, or against as many of the first.
LATEST: Final = 7
# Limits set for this course: a share of the plan, and a change of a reading's mean, that is worth a look.
OFF_PLAN: Final = 0.10
CHANGED: Final = {"temperature": 2.0, "pH": 0.3, "oxygen": 1.0, "ammonia": 0.5}
_SUMMED: Final = {"feed": "g", "flush": "L"}
_LARGEST: Final = 2_000_000
_STEADY: Final = "Nothing drifted by the course's limits."


@dataclass(frozen=True, slots=True)
class Series:
    """What was logged of one thing, day by day, and what was planned where there is a plan."""

    name: str
    unit: str
    done: Mapping[date, float]
    planned: Mapping[date, float]


def read_log(path: Path) -> dict[str, Series]:
    """Feed, flush and readings of a filled log; rows that nobody filled in are left out.

    Raises Faults with every row that cannot be read.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise refuse(path.as_posix(), f"cannot be read ({error.strerror}). Check the name.") from None
    if len(raw) > _LARGEST:
        raise refuse(path.as_posix(), f"{len(raw)} bytes are too many for a log of one term.")
    try:
        table = csv.DictReader(io.StringIO(raw.decode("utf-8-sig")))
        rows = list(table)
    except (UnicodeDecodeError, csv.Error):
        raise refuse(path.as_posix(), "this is no CSV file in UTF-8. Save it as CSV UTF-8.") from None
    if tuple(table.fieldnames or ()) != LOG_COLUMNS:
        raise refuse(f"{path.as_posix()}:1", f"columns must be {', '.join(LOG_COLUMNS)}. Start from the printed log.")
    done: dict[str, dict[date, float]] = {}
    planned: dict[str, dict[date, float]] = {}
    faults: list[Fault] = []
    for line, row in enumerate(rows, start=2):
        name = "feed" if str(row["duty"]).startswith("feed") else str(row["duty"])
        if not (row["done"] or "").strip() or name not in {*_SUMMED, *CHANGED}:
            continue
        try:
            day = date.fromisoformat(str(checked_date(row["date"] or "", "2026-03-02")))
            plan = _number(row["planned"]) if row["planned"] else None
            value = _number(row["done"])
        except ValueError as error:
            faults.append(Fault(f"{path.as_posix()}:{line}", name, str(error)))
            continue
        into = done.setdefault(name, {})
        into[day] = into.get(day, 0.0) + value if name in _SUMMED else value
        if plan is not None:
            planned.setdefault(name, {})[day] = planned.get(name, {}).get(day, 0.0) + plan
    if faults:
        raise Faults(faults)
    units = {**_SUMMED, "temperature": "°C", "pH": "", "oxygen": "mg/L", "ammonia": "mg/L"}
    return {
        name: Series(name, unit, done[name], planned.get(name, {})) for name, unit in units.items() if name in done
    }


def _number(text: str | None) -> float:
    try:
        value = float((text or "").strip().replace(",", "."))
    except ValueError:
        raise ValueError(f"{text!r} is not a number. Give one such as 6.2.") from None
    if not math.isfinite(value) or value < 0:
        raise ValueError(f"{text} is out of range. Give a number of at least 0.")
    return value


def drifts(log: Mapping[str, Series]) -> list[str]:
    """What has moved away from the plan, or from where it was, in a sentence each."""
    found = []
    for series in log.values():
        days = sorted(series.done)
        latest = days[-LATEST:]
        mean = fmean(series.done[day] for day in latest)
        if series.planned:
            both = [day for day in latest if day in series.planned]
            plan = fmean(series.planned[day] for day in both) if both else 0.0
            share = fmean(series.done[day] for day in both) / plan - 1 if plan else 0.0
            if abs(share) > OFF_PLAN:
                side = "above" if share > 0 else "below"
                found.append(f"{series.name}: {abs(100 * share):.0f} % {side} the plan over the last {len(both)} days.")
        elif len(days) >= 2 * LATEST:
            before = fmean(series.done[day] for day in days[:LATEST])
            if abs(mean - before) > CHANGED[series.name]:
                side = "risen" if mean > before else "fallen"
                found.append(
                    f"{series.name}: {side} from {before:.3g} to {mean:.3g} {series.unit}".rstrip()
                    + f", first against last {LATEST} days."
                )
    return found


def summary(log: Mapping[str, Series]) -> str:
    """Means of everything that was logged, and what drifted."""
    if not log:
        return "Nothing is filled in yet."
    lines = []
    for series in log.values():
        plan = f", planned {fmean(series.planned.values()):.3g}" if series.planned else ""
        mean = f"mean {fmean(series.done.values()):.3g}{plan} {series.unit}".rstrip()
        lines.append(f"{series.name}: {len(series.done)} days, {mean}")
    return "\n".join([*lines, "", *(drifts(log) or [_STEADY])])


def picture(log: Mapping[str, Series]) -> bytes:
    """A plot for each series, against the plan where there is one, as SVG; its title says what drifted."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot as plt

    plt.rcParams.update({"svg.hashsalt": "waterleaf", "svg.fonttype": "none"})
    shown = list(log.values())
    figure, axes = plt.subplots(len(shown), 1, figsize=(8, 2.2 * len(shown)), squeeze=False, layout="constrained")
    for axis, series in zip(axes[:, 0], shown, strict=True):
        days = sorted(series.done)
        axis.plot([day.toordinal() - days[0].toordinal() for day in days], [series.done[day] for day in days], "o-",
                  color="#1f6f78", label="done")
        if series.planned:
            planned = sorted(series.planned)
            axis.plot([day.toordinal() - days[0].toordinal() for day in planned],
                      [series.planned[day] for day in planned], "--", color="#8a3b12", label="planned")
            axis.legend(frameon=False)
        axis.set_ylabel(f"{series.name} ({series.unit})" if series.unit else series.name)
        axis.set_ylim(bottom=0, top=1.08 * axis.get_ylim()[1])
    axes[-1, 0].set_xlabel("days since the first logged day")
    out = io.BytesIO()
    figure.savefig(out, format="svg", metadata={"Date": None})
    plt.close(figure)
    told = escape(" ".join(drifts(log) or [_STEADY]))
    return out.getvalue().replace(b"<metadata>", f"<title>{told}</title>\n <metadata>".encode(), 1)
