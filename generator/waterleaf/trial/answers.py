"""Takes in the answers of a panel and holds every row against the serving plan; nothing is dropped in silence."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf.faults import refuse
from waterleaf.marking.tableout import unguarded
from waterleaf.marking.tabular import OVERFULL, Row, read_table
from waterleaf.trial.datatable import REHEARSAL
from waterleaf.trial.frozen import fingerprint, short
from waterleaf.trial.intake import Finding, Held, Kind, together
from waterleaf.trial.layout import Unit
from waterleaf.trial.panel import CHOICES, NINE_POINTS, TITLES, Cups, serve
from waterleaf.trial.plan import Panel, PanelTest, Plan

NEEDED: Final = ("trial", "assessor", "test", "cups", "answer")
_MARKS: Final = {words: 9 - place for place, words in enumerate(NINE_POINTS)}
_LISTED: Final = 5


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer that can be used: who, in which test, about which cups, the code or number given, and where it is."""

    assessor: int
    test: PanelTest
    cups: str
    given: int
    where: str


@dataclass(frozen=True, slots=True)
class Answers:
    """What a table of answers gave.

    `chosen` holds the product chosen by each assessor in each test of choice, and whether it was the right one;
    `numbers` the place or mark of every product by assessor, for ranking and liking.
    """

    chosen: dict[PanelTest, dict[int, tuple[str, bool]]]
    numbers: dict[PanelTest, dict[int, dict[str, int]]]
    findings: tuple[Finding, ...]
    invented: bool = False

    def count(self, kind: Kind) -> int:
        """How many findings of a kind."""
        return sum(finding.kind == kind for finding in self.findings)


def panel_of(plan: Plan, where: str) -> Panel:
    """The panel of a plan. Raises Faults where the plan has none."""
    if plan.panel is None:
        raise refuse(where, "has no panel. Add one to the plan before it is frozen; `waterleaf trial start` shows how.")
    return plan.panel


def take_in_answers(plan: Plan, units: Sequence[Unit], path: Path) -> Answers:
    """The answers in a filled table.

    Raises Faults where the plan has no panel, the file cannot be read, or belongs to another trial.
    """
    panel = panel_of(plan, plan.name)
    table, mark = read_table(path, NEEDED), short(fingerprint(plan, units))
    if not table.rows:
        raise refuse(path.name, "has a heading and no rows. Fill in the table that was printed with this plan.")
    if not any(row.cells.get("trial") == mark for row in table.rows):
        other = table.rows[0].cells.get("trial") or "none"
        raise refuse(
            path.name,
            f"belongs to another trial or to another version of the plan (mark {other}, wanted {mark}). Use the table "
            "that was printed with this plan.",
        )
    served = serve(plan, panel)
    book = _Book({(one.assessor, one.test): one for one in served}, panel, mark, _owners(served))
    findings: list[Finding] = []
    found: dict[tuple[int, PanelTest, str], list[Answer]] = defaultdict(list)
    for row in table.rows:
        try:
            answer = _answer(row, book)
        except Held as reason:
            findings.append(Finding("held", row.where, str(reason)))
            continue
        if answer is not None:
            found[answer.assessor, answer.test, answer.cups].append(answer)
    kept = _each_once(found, findings)
    chosen, numbers = _chosen(kept, book.served), _numbers(kept, book, findings)
    findings += _missing(panel, chosen, numbers, path.name)
    invented = any(row.cells.get("reader", "") == REHEARSAL for row in table.rows)
    return Answers(chosen, numbers, tuple(findings), invented)


@dataclass(frozen=True, slots=True)
class _Book:
    """What rows are held against: cups by assessor and test, the panel, the trial's mark, whose each code is."""

    served: Mapping[tuple[int, PanelTest], Cups]
    panel: Panel
    mark: str
    owners: Mapping[int, Sequence[Cups]]


def _owners(served: Sequence[Cups]) -> dict[int, list[Cups]]:
    owners: dict[int, list[Cups]] = defaultdict(list)
    for one in served:
        for code in one.codes:
            owners[code].append(one)
    return owners


def _answer(row: Row, book: _Book) -> Answer | None:
    """The answer in a row, or nothing where it was left blank."""
    cells = {heading: unguarded(text).strip() for heading, text in row.cells.items()}
    if OVERFULL in cells:
        raise Held("there are cells beyond the last heading; a comma may have pushed them along.")
    if cells.get("trial") != book.mark:
        raise Held(f"the mark of the trial is {cells.get('trial') or 'missing'}, not {book.mark}.")
    if not cells.get("answer"):
        return None
    one = _cups(cells.get("assessor", ""), cells.get("test", ""), book)
    shown = " ".join(cells.get("cups", "").replace(",", " ").split())
    _hold_against_cups(shown, one, book)
    text = " ".join(cells["answer"].split())
    given = _choice(text, one, book) if one.test in CHOICES else _whole(text, one)
    return Answer(one.assessor, one.test, shown, given, row.where)


def _cups(assessor: str, test: str, book: _Book) -> Cups:
    people = book.panel.assessors
    if not assessor.isdecimal() or not 1 <= int(assessor) <= people:
        raise Held(
            f"no assessor {assessor or '(empty)'}: the serving plan has 1 to {people}. Give the number on the answer "
            "sheet, never a name."
        )
    wanted = test.casefold().replace(" ", "_").replace("-", "_")
    for one in book.panel.tests:
        if wanted == one:
            return book.served[int(assessor), one]
    raise Held(f"no test {test or '(empty)'} in this plan. It has {', '.join(book.panel.tests)}.")


def _hold_against_cups(shown: str, one: Cups, book: _Book) -> None:
    """The cups of the row must be those that this assessor was served in this test."""
    wanted = [" ".join(map(str, one.codes))] if one.test in CHOICES else [str(code) for code in one.codes]
    if shown not in wanted:
        whose = _whose(shown.split()[0] if shown else "", one, book)
        raise Held(
            f"cups {shown or '(empty)'} are not what assessor {one.assessor} was served in this test "
            f"({', '.join(wanted)}).{whose}"
        )


def _whose(code: str, one: Cups, book: _Book) -> str:
    """Who was served a code, if anybody else was."""
    others = book.owners.get(int(code), ()) if code.isdecimal() else ()
    told = [f"assessor {other.assessor}, {TITLES[other.test].lower()}" for other in others if other is not one]
    return f" Code {code} belongs to {told[0]}." if told else ""


def _choice(text: str, one: Cups, book: _Book) -> int:
    codes = ", ".join(map(str, one.codes))
    if not text.isdecimal():
        raise Held(f"answer {text!r} is not one code of {codes}. Who cannot tell has to guess: ask, or leave it out.")
    if int(text) not in one.codes:
        whose = _whose(text, one, book)
        raise Held(f"answer {text} is no cup of assessor {one.assessor} in this test ({codes}).{whose}")
    return int(text)


def _whole(text: str, one: Cups) -> int:
    """A place or a mark; marks may stand as the words of the sheet."""
    most = 9 if one.test == "liking" else len(one.codes)
    if one.test == "liking" and text.casefold() in _MARKS:
        return _MARKS[text.casefold()]
    if not text.isdecimal() or not 1 <= int(text) <= most:
        words = ", or the words of the answer sheet" if one.test == "liking" else ""
        raise Held(f"answer {text!r} is not a whole number from 1 to {most}{words}.")
    return int(text)


def _each_once(found: Mapping[tuple[int, PanelTest, str], Sequence[Answer]], findings: list[Finding]) -> list[Answer]:
    kept = []
    for (assessor, test, cups), rows in found.items():
        places = together([row.where for row in rows])
        what = f"assessor {assessor}, {TITLES[test].lower()}, cups {cups}"
        if len({row.given for row in rows}) > 1:
            findings.append(Finding("held", places, f"{what}: {len(rows)} different answers."))
            continue
        kept.append(rows[0])
        if len(rows) > 1:
            findings.append(Finding("flagged", places, f"{what}: {len(rows)} times the same answer. Used once."))
    return kept


def _chosen(
    kept: Sequence[Answer], served: Mapping[tuple[int, PanelTest], Cups]
) -> dict[PanelTest, dict[int, tuple[str, bool]]]:
    """The product chosen and whether it was right: the odd one of three, or the one like the reference."""
    found: dict[PanelTest, dict[int, tuple[str, bool]]] = defaultdict(dict)
    for answer in kept:
        if answer.test in CHOICES:
            one = served[answer.assessor, answer.test]
            product = one.products[one.codes.index(answer.given)]
            right = one.products.count(product) == 1 if answer.test == "triangle" else product == one.reference
            found[answer.test][answer.assessor] = (product, right)
    return dict(found)


def _numbers(
    kept: Sequence[Answer], book: _Book, findings: list[Finding]
) -> dict[PanelTest, dict[int, dict[str, int]]]:
    """Places and marks by product. A ranking counts only whole and without ties."""
    found: dict[PanelTest, dict[int, dict[str, int]]] = defaultdict(dict)
    wheres: dict[int, list[str]] = defaultdict(list)
    for answer in kept:
        if answer.test not in CHOICES:
            one = book.served[answer.assessor, answer.test]
            product = one.products[one.codes.index(int(answer.cups))]
            found[answer.test].setdefault(answer.assessor, {})[product] = answer.given
            if answer.test == "ranking":
                wheres[answer.assessor].append(answer.where)
    for assessor, places in list(found.get("ranking", {}).items()):
        given = sorted(places.values())
        if len(set(given)) < len(given) or len(given) < len(book.panel.products):
            why = "ties are not allowed" if len(set(given)) < len(given) else "a ranking counts only when it is whole"
            said = f"assessor {assessor} gave places {', '.join(map(str, given))}: {why}. The ranking is not used."
            findings.append(Finding("held", together(wheres[assessor]), said))
            del found["ranking"][assessor]
    return dict(found)


def _missing(
    panel: Panel,
    chosen: Mapping[PanelTest, Mapping[int, object]],
    numbers: Mapping[PanelTest, Mapping[int, Mapping[str, int]]],
    file: str,
) -> list[Finding]:
    """Who has no usable answer, a line a test; in liking also who marked some of the products only."""
    found = []
    for test in panel.tests:
        there = chosen.get(test, {}) if test in CHOICES else numbers.get(test, {})
        absent = [person for person in range(1, panel.assessors + 1) if person not in there]
        if absent:
            told = ", ".join(map(str, absent[:_LISTED])) + (" and others" if len(absent) > _LISTED else "")
            people = "1 assessor" if len(absent) == 1 else f"{len(absent)} assessors"
            found.append(Finding("missing", file, f"{TITLES[test]}: no usable answer of {people} ({told})."))
    for person, marks in numbers.get("liking", {}).items():
        if len(marks) < len(panel.products):
            said = f"{TITLES['liking']}: assessor {person} marked {len(marks)} of {len(panel.products)} products."
            found.append(Finding("missing", file, said))
    return found
