"""The crew file: who shares the duties, from which day on, and who is there on which weekday."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Annotated, Any, Final, Literal, get_args

from pydantic import BeforeValidator, Field, field_validator

from waterleaf.bank.marked_yaml import read
from waterleaf.bank.models import Strict
from waterleaf.bank.validation import checked_date, validated

_Day = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
WEEKDAYS: Final[tuple[str, ...]] = get_args(_Day)
# A plan of weeks has to end before the calendar does.
FIRST_YEAR, LAST_YEAR = 2000, 2999


def _lower(day: Any) -> Any:
    return day.lower() if isinstance(day, str) else day


class _Member(Strict):
    name: Annotated[str, Field(min_length=1, max_length=60, pattern=r"^[^\x00-\x1f\x7f]+$")]
    days: list[Annotated[_Day, BeforeValidator(_lower)]] = Field(
        default_factory=lambda: list(get_args(_Day)), min_length=1, max_length=7
    )


class _CrewFile(Strict):
    start: str
    crew: Annotated[list[_Member], Field(min_length=1, max_length=200)]

    @field_validator("start")
    @classmethod
    def _date(cls, start: str) -> str:
        checked_date(start, "2026-03-02")
        if not FIRST_YEAR <= date.fromisoformat(start).year <= LAST_YEAR:
            raise ValueError(f"{start} is out of range. Give a day from {FIRST_YEAR} to {LAST_YEAR}.")
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
