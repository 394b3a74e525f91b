"""Gives every student of a class a page of a practical task, and keeps the pages that were given out."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Final

from waterleaf.bank.family import Family, System
from waterleaf.draw import distinct_draws, draw
from waterleaf.faults import refuse
from waterleaf.growing.posing import with_own_numbers
from waterleaf.growing.system import System as GrowingSystem
from waterleaf.marking.issuebook import IssuedPage, IssuedQuestion, IssuedTask, family_of
from waterleaf.marking.practical import DayNumbers, Practical
from waterleaf.sheets.paper import short_code

# What blank pages are beside: they are nobody's, and stand in no book.
BLANK: Final = "blank"


@dataclass(frozen=True, slots=True)
class Task:
    """A task by its name, with the text of its file and what that says."""

    name: str
    text: bytes
    practical: Practical

    @property
    def digest(self) -> str:
        """What tells this text from every other."""
        return hashlib.sha256(self.text).hexdigest()


def give_out(
    task: Task, beside: str, students: Sequence[str], old: IssuedTask | None, bank: Mapping[str, Family], secret: str,
    units: System, growing: GrowingSystem | None,
) -> IssuedTask:
    """The task with a page for every student; who has one keeps it, new ones are added at the end.

    Numbers of a growing file are the same for all, since they work at one system. Drawn ones differ.

    Raises NoDraw where the family of the numbers has too few draws, Faults where the task or its family has changed.
    """
    seed = hashlib.blake2b(f"{secret} task {task.name}".encode(), digest_size=10).hexdigest()
    if old is None:
        question, origin = _question(task.practical.day, bank, seed, growing)
        old = IssuedTask(beside, task.name, task.digest, units, (), question, origin)
    refuse_changed(task, old)
    known = {page.student for page in old.pages}
    new = [student for student in students if student not in known]
    draws = _new_draws(old, seed, len(new), bank)
    added = tuple(
        IssuedPage(short_code(f"{seed} {student}"), student, number)
        for student, number in zip(new, draws, strict=True)
    )
    return replace(old, pages=(*old.pages, *added))


def refuse_changed(task: Task, given: IssuedTask) -> None:
    """Stop where pages were given out by another text of the task."""
    if task.digest != given.digest:
        raise refuse(
            f"{task.name}.yaml", f"has changed since its pages were given out beside {given.beside}, and marks may "
            "have been given by them. Put it back as it was, or give the new one another file name."
        )


def _question(
    day: DayNumbers | None, bank: Mapping[str, Family], seed: str, growing: GrowingSystem | None
) -> tuple[IssuedQuestion | None, str]:
    """The family of the numbers of the day with own numbers that stand still, and where the numbers come from."""
    if day is None:
        return None, ""
    family = bank[day.family]
    question = IssuedQuestion(family.key, family.file.version, {})
    if growing is not None:
        posed = with_own_numbers(family, growing, [(seed, 1)])
        if posed.used:
            return replace(question, own=dict(posed.used)), posed.line
    return question, "Drawn numbers, for practice"


def _new_draws(given: IssuedTask, seed: str, count: int, bank: Mapping[str, Family]) -> Iterable[str]:
    """The number of a draw for each new page, none with numbers that somebody has."""
    if given.question is None:
        return [""] * count
    if given.question.own:
        return [given.pages[0].draw if given.pages else seed] * count
    family = family_of(given.question, bank)
    taken = {draw(family, page.draw).fingerprint for page in given.pages}
    draws = distinct_draws(family, seed, len(taken) + count)
    return islice((found.number for found in draws if found.fingerprint not in taken), count)
