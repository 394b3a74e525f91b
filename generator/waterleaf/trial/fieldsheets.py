"""Sheets for the beds: map, tags, protocol, reading sheets, and the key that only a few may see."""

import io
from collections.abc import Sequence
from typing import Final

from waterleaf.trial import document
from waterleaf.trial.document import Block
from waterleaf.trial.frozen import fingerprint, short
from waterleaf.trial.layout import Unit
from waterleaf.trial.plan import Plan
from waterleaf.working.units import label

_TAGS_ON_PAGE: Final = 18
_INSTRUMENT_CHECKS: Final = {
    "sugar": ("instrument", "zero at start", "standard 10.0", "zero at end"),
    "mass": ("balance", "empty at start", "known mass", "empty at end"),
}


def bed_map(plan: Plan, units: Sequence[Unit]) -> list[Block]:
    """Where each code stands, without a word on methods; rows and columns as they lie for a Latin square."""
    made: list[Block] = [
        document.text(f"Trial {plan.name}, mark {short(fingerprint(plan, units))}. Codes only: readers need no more.")
    ]
    if plan.design == "latin":
        size = len(plan.methods)
        rows = [[f"row {row}", *(unit.code for unit in units if unit.row == row)] for row in range(1, size + 1)]
        return [*made, document.table("", ["", *(f"column {n}" for n in range(1, size + 1))], rows, tall=True)]
    if units[0].block:
        blocks = list(dict.fromkeys(unit.block for unit in units))
        rows = [[block, *(unit.code for unit in units if unit.block == block)] for block in blocks]
        heads = ["block", *(f"{plan.unit} {n}" for n in range(1, len(plan.methods) + 1))]
        return [*made, document.table("", heads, rows, tall=True)]
    return [*made, document.table("", ["place", "code"], [[unit.place, unit.code] for unit in units], tall=True)]


def layout_key(plan: Plan, units: Sequence[Unit]) -> list[Block]:
    """Which unit gets which method: for those who plant, and for nobody who reads."""
    rows = [[unit.code, unit.place, unit.method] for unit in units]
    return [
        document.box("Secret", [f"For {', '.join(plan.codes_known_to)} only, until the last reading is in the table."]),
        document.text(
            f"Drawn from seed {plan.seed}. Do not move a unit because the draw looks uneven: that is chance."
        ),
        document.table("", ["code", "place", "method"], rows),
    ]


def tags(plan: Plan, units: Sequence[Unit]) -> list[Block]:
    """A tag for every unit, with its code in letters and as a QR code."""
    mark = short(fingerprint(plan, units))
    made = [
        {"code": unit.code, "place": unit.place, "trial": f"{plan.name} {mark}", "svg": qr(f"{mark} {unit.code}"),
         "alt": f"QR code of {mark} {unit.code}"}
        for unit in units
    ]  # fmt: skip
    pages: list[Block] = []
    for start in range(0, len(made), _TAGS_ON_PAGE):
        if start:
            pages.append(document.page_break())
        pages.append({"kind": "tags", "tags": made[start : start + _TAGS_ON_PAGE]})
    return pages


def qr(words: str) -> str:
    """A QR code as SVG; a tag that is one quarter dirt can still be read."""
    import segno

    out = io.BytesIO()
    segno.make(words, error="q", micro=False).save(out, kind="svg", xmldecl=False, svgns=True, scale=4)
    return out.getvalue().decode()


def protocol(plan: Plan) -> list[Block]:
    """How to sample and read, with the cautions before the steps."""
    made: list[Block] = [
        document.caution(
            "Wet floors and mains power: no lead or lamp within reach of water unless the school's electrician has "
            "passed it. Knives and presses: cut away from yourself. Wash hands after the tanks and before food. The "
            "school's rules and local codes come first."
        ),
        document.heading("Sampling"),
        document.items([
            f"{plan.readings} plants of each {plan.unit}, drawn by number before you look at them.",
            "The same organ, the same position on the plant, the same stage, within the same hour of the day.",
            f"Keep the plants of one {plan.unit} together and apart from all others. Never pool two {plan.unit}s.",
            f"Go round in the order of the sheet, not method by method, so that time of day favours nobody. Read every "
            f"{plan.unit}, even one that looks poor: write why under remark.",
        ]),
    ]  # fmt: skip
    made.append(document.heading("Instrument"))
    made.append(document.items(_instrument(plan)))
    made += [
        document.heading("Writing down"),
        document.items([
            "Code from the tag, number of the plant, reading as the instrument shows it. Dates as 2026-03-09.",
            "Strike out a slip so that it can still be read. Never leave out a reading because it looks wrong.",
            "Whoever reads the instrument should not know which method a code hides.",
        ]),
    ]  # fmt: skip
    return made


def _instrument(plan: Plan) -> list[str]:
    response = plan.response
    if response.kind == "sugar":
        warmth = (
            ["Write down the temperature of the prism with every reading: this instrument does not compensate. The "
             "kit corrects; you do not. Work between 15 and 22 °C."]
            if plan.needs_temperature
            else ["This instrument compensates for temperature by itself. Do not correct its readings again."]
        )  # fmt: skip
        return [
            "Zero on pure water at the temperature of the room, at the start and after every ten readings.",
            "Check with a standard: 10.00 g of sucrose and 90.00 g of water read 10.0.",
            "Press the sample, let the first drops go, put on the next. Wipe with water and dry between samples.",
            *warmth,
            f"Read to {response.step:g}. The scale ends at {response.high:g}: beyond it, say so as a remark.",
        ]
    if response.kind == "mass":
        return [
            "Level the balance, let it settle, tare it with the empty dish, and check it with a known mass.",
            "Drain and dry the outside of each plant in the same way and for the same time.",
            f"Read to {response.step:g} {response.unit}.",
        ]
    return [f"Read to {response.step:g}, from {response.low:g} to {response.high:g}, all by the same rule."]


def reading_sheets(plan: Plan, units: Sequence[Unit]) -> list[Block]:
    """Paper sheets for the readings, a row a plant."""
    warmth = ["prism °C"] if plan.needs_temperature else []
    unit = label(plan.response.unit)
    heads = ["code", "place", "plant", f"{plan.response.name}{f' ({unit})' if unit else ''}", *warmth, "remark"]
    head = ["date", "reader", *_INSTRUMENT_CHECKS.get(plan.response.kind, ())]
    made: list[Block] = [document.table("", head, [[""] * len(head)], tall=True)]
    rows = [
        [unit.code, unit.place, str(number), "", *[""] * len(warmth), ""]
        for unit in units
        for number in range(1, plan.readings + 1)
    ]
    return [*made, document.table("", heads, rows, tall=True)]
