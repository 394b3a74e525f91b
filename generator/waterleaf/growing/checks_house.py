"""Findings on the house and the market: heat on the coldest night, and what each crop earns."""

from typing import Final

from waterleaf.calc.quantity import OutOfRange
from waterleaf.growing.checks_feed import Check
from waterleaf.growing.finding import (
    MONEY,
    PEOPLE,
    Band,
    Finding,
    Missing,
    Reckoning,
    also,
    figure,
    finding,
    refused,
    unknown,
)
from waterleaf.growing.system import System
from waterleaf.working.steps import Working

_COURSE: Final = "band set for this course"


def heat(r: Reckoning, key: str, title: str, harms: int) -> Finding:
    """The heat that the house loses on the coldest night, against the heater."""
    names = ("u_value", "cover_area", "air_volume", "air_changes", "inside", "outside", "heater")
    r.need(*(f"house.{name}" for name in names))
    loss = r.of(
        "house_heat_loss", u_value="house.u_value", cover_area="house.cover_area", house_volume="house.air_volume",
        air_changes="house.air_changes", inside_temperature="house.inside", outside_temperature="house.outside",
    )
    heater = r.value("house.heater")
    if float(loss.value) <= 0:
        raise OutOfRange("house.outside: it is not colder outside than in. Give the coldest night that you plan for.")
    margin = r.times(heater, float(loss.value))
    return finding(
        r, key, title, harms, margin, Band(1.1, None, f"{_COURSE}: a tenth to spare", worst_low=1),
        band_text="at least 1.1 times the loss",
        shown=f"{figure(heater / 1000, 'kW')} there{also(heater, 'W')}, "
        f"{figure(float(loss.value) / 1000, 'kW')} lost{also(float(loss.value), 'W')}", says={
            "fine": "The heater keeps the house warm on the coldest night.",
            "below": "The heater is too small for the coldest night. Close leaks and add a curtain before you buy a "
            "larger one.",
        },
        caution="Do not help out with a fuel heater indoors: without a flue it makes carbon monoxide, which kills "
        "without a smell. Wiring, gas and work on the roof are for licensed people.",
    )


def crop_margin(r: Reckoning, crop: str) -> Working:
    """Gross margin a square metre and week of one crop."""
    place = f"crops.{crop}"
    r.need(f"{place}.weeks_in_bed", f"{place}.loss")
    by_weight = r.known(f"{place}.yield") or r.known(f"{place}.price_by_weight")
    loss = r.value(f"{place}.loss")
    if by_weight:
        r.need(f"{place}.yield", f"{place}.price_by_weight", f"{place}.cost_by_area")
        revenue = r.of(
            "sales_revenue", harvest=r.value(f"{place}.yield"), price=f"{place}.price_by_weight", loss=loss
        )
        cost = r.value(f"{place}.cost_by_area")
    else:
        r.need(f"{place}.density", f"{place}.price", f"{place}.cost")
        plants = r.value(f"{place}.density")
        # Heads that spoil were paid for, and bring nothing.
        revenue = r.of("revenue_per_area", price=f"{place}.price", density=plants * (1 - loss / 100))
        cost = plants * r.value(f"{place}.cost")
    margin = r.of("gross_margin", revenue=float(revenue.value), variable_cost=cost)
    return r.of("margin_rate", gross_margin=margin, bed_area=1.0, weeks_in_bed=f"{place}.weeks_in_bed")


def margins(system: System) -> list[Finding]:
    """The margin of every crop in the file that stands in a bed, best first."""
    found = []
    for crop in dict.fromkeys(bed.crop for bed in system.file.beds if bed.crop):
        key, title, r = f"margin_{crop}", f"Margin of {crop}", Reckoning(system)
        try:
            worked = crop_margin(r, crop)
            found.append(finding(
                r, key, title, MONEY, worked, Band(0, None, "a crop must earn more than it causes in costs"), says={
                    "fine": "It earns its place. Compare the crops by this figure where space is short.",
                    "below": "It costs more than it brings. Ask another price, cut a cost, or grow something else.",
                }, band_text="above 0",
            ))
        except Missing as missing:
            found.append(unknown(key, title, MONEY, missing))
        except OutOfRange as error:
            found.append(refused(key, title, MONEY, error, r))
    return sorted(found, key=lambda one: -(one.value if one.value is not None else -1e9))


CHECKS: Final[tuple[Check, ...]] = (("heat", "Heat loss against the heater", PEOPLE, heat),)
