"""The crew file: who shares the duties, from which day on, and who is there on which weekday."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Annotated, Final

from pydantic import Field, field_validator

from waterleaf.bank.marked_yaml import read
from waterleaf.bank.models import Strict
from waterleaf.bank.validation import validated

WEEKDAYS: Final = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
# A plan of weeks has to end before the calendar does.
FIRST_YEAR, LAST_YEAR = 2000, 2999


class _Member(Strict):
    name: Annotated[str, Field(min_length=1, max_length=60, pattern=r"^[^\x00-\x1f\x7f]+$")]
    days: list[str] = Field(default_factory=lambda: list(WEEKDAYS), min_length=1, max_length=7)

    @field_validator("days")
    @classmethod
    def _weekdays(cls, days: list[str]) -> list[str]:
        unknown = [day for day in days if day.lower() not in WEEKDAYS]
        if unknown:
            raise ValueError(f"{', '.join(unknown)} is no weekday. Give {', '.join(WEEKDAYS)}.")
        return [day.lower() for day in days]


class _CrewFile(Strict):
    start: str
    crew: Annotated[list[_Member], Field(min_length=1, max_length=200)]

    @field_validator("start")
    @classmethod
    def _date(cls, start: str) -> str:
        try:
            day = date.fromisoformat(start)
        except ValueError:
            raise ValueError(f"{start!r} is no day. Write year-month-day, as in 2026-03-02.") from None
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            raise ValueError(f"{start!r} cannot be meant. Give a day from {FIRST_YEAR} to {LAST_YEAR}.")
        return start

    @field_validator("crew")
    @classmethod
    def _told_apart(cls, crew: list[_Member]) -> list[_Member]:
        names = [member.name for member in crew]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise ValueError(f"{', '.join(twice)} stands twice. Add an initial, so that cards can be told apart.")
        return crew


@dataclass(frozen=True, slots=True)
class Member:
    """One of the crew, and the weekdays on which they are there, 0 for Monday."""

    name: str
    days: frozenset[int]


@dataclass(frozen=True, slots=True)
class Crew:
    """The crew and the first day of the plan."""

    start: date
    members: tuple[Member, ...]


def read_crew(path: Path) -> Crew:
    """The crew in a file.

    Raises Faults with everything that is wrong in it.
    """
    file = validated(read(path), _CrewFile, "A crew file has start, and crew with name and days.")
    return Crew(
        date.fromisoformat(file.start),
        tuple(
            Member(member.name, frozenset(WEEKDAYS.index(day) for day in member.days)) for member in file.crew
        ),
    )
