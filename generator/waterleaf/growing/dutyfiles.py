"""The duties as a calendar that ordinary programs open, and as a log sheet to fill in."""

import csv
import io
import uuid
from datetime import UTC, datetime, timedelta

from icalendar import Calendar, Event

from waterleaf import __version__
from waterleaf.growing.duties import Plan

LOG_COLUMNS = ("date", "duty", "planned", "unit", "done", "by", "note")
READINGS = (("temperature", "degC"), ("pH", ""), ("oxygen", "mg/L"), ("ammonia", "mg/L"))


def calendar(plan: Plan, name: str) -> bytes:
    """The duties as an iCalendar file (RFC 5545); the same plan makes the same bytes and the same identifiers."""
    found = Calendar()
    found.add("prodid", f"-//Waterleaf//{__version__}//EN")
    found.add("version", "2.0")
    found.add("x-wr-calname", f"Duties: {name}")
    # RFC 5545 wants a stamp; the first day of the plan keeps the file the same whenever it is made.
    stamp = datetime.combine(plan.shifts[0].day, datetime.min.time(), UTC)
    for shift in plan.shifts:
        event = Event()
        event.add("uid", str(uuid.uuid5(uuid.NAMESPACE_URL, f"waterleaf:{name}:{shift.day}:{shift.duty.key}")))
        event.add("dtstamp", stamp)
        event.add("dtstart", shift.day)
        event.add("dtend", shift.day + timedelta(days=1))
        event.add("summary", f"{' and '.join(shift.who) or 'Nobody yet'}: {shift.duty.title}")
        if shift.duty.caution:
            event.add("description", f"Take care. {shift.duty.caution}")
        event.add("transp", "TRANSPARENT")
        found.add_component(event)
    return bytes(found.to_ical())


def log_sheet(plan: Plan) -> str:
    """A table to fill in: a row for each duty with an amount, and for each reading of the day."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(LOG_COLUMNS)
    for shift in plan.shifts:
        duty, day = shift.duty, shift.day.isoformat()
        by = " and ".join(_cell(name) for name in shift.who)
        if duty.what == "test":
            table.writerows([day, reading, "", unit, "", by, ""] for reading, unit in READINGS)
        else:
            amount = "" if duty.amount is None else f"{duty.amount:.4g}"
            table.writerow([day, _cell(duty.key), amount, duty.unit, "", by, ""])
    return out.getvalue()


def _cell(text: str) -> str:
    """A name that a spreadsheet would take for a formula is told to be text."""
    return f"'{text}" if text[:1] in "=+-@" else text
