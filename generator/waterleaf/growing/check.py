"""All findings on a growing system, ordered by what to mend first."""

from waterleaf.calc.quantity import OutOfRange
from waterleaf.growing import checks_feed, checks_house, checks_solids, checks_water
from waterleaf.growing.checks_house import margins
from waterleaf.growing.finding import ORDER, Finding, Missing, Reckoning, refused, unknown
from waterleaf.growing.system import System

CHECKS = (*checks_water.CHECKS, *checks_feed.CHECKS, *checks_solids.CHECKS, *checks_house.CHECKS)


def check(system: System) -> list[Finding]:
    """Every finding: what must be mended first, what can hurt somebody before what costs money."""
    found = []
    for key, title, harms, make in CHECKS:
        r = Reckoning(system)
        try:
            found.append(make(r, key, title, harms))
        except Missing as missing:
            found.append(unknown(key, title, harms, missing))
        except OutOfRange as error:
            found.append(refused(key, title, harms, error, r))
    found += margins(system)
    return sorted(found, key=lambda one: (ORDER.index(one.standing), one.harms))


def assumptions(findings: list[Finding]) -> tuple[str, ...]:
    """Every assumed value that the findings lean on, each once."""
    return tuple(dict.fromkeys(note for one in findings for note in one.assumed))
