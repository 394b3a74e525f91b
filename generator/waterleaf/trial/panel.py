"""Sheets for tests by tasting: who is served what in which order, under which codes, and what each is asked."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from waterleaf.calc.taste.orders import (
    Serving,
    blind_codes,
    duo_trio_orders,
    paired_orders,
    ranking_orders,
    triangle_orders,
)
from waterleaf.marking.tableout import Cell, write_csv, write_xlsx
from waterleaf.trial import document
from waterleaf.trial.cellrules import CellRule, guard, list_rule, number_rule
from waterleaf.trial.document import Block
from waterleaf.trial.plan import Panel, PanelTest, Plan

_SEEDS: Final = 1_000_000
# Assessor, test, and the cups as they stand in the row.
AnswerKey = tuple[int, str, str]
TITLES: Final[dict[PanelTest, str]] = {
    "triangle": "Triangle test",
    "duo_trio": "Duo-trio test",
    "preference": "Paired preference",
    "ranking": "Ranking",
    "liking": "Liking, nine points",
}
ANSWER_HEADINGS: Final = ("trial", "assessor", "test", "cups", "asked", "answer", "reader", "remark")
CHOICES: Final = ("triangle", "duo_trio", "preference")
_ASKED: Final[dict[PanelTest, str]] = {
    "triangle": "code of the odd one", "duo_trio": "code of the one like R", "preference": "code of the one preferred",
    "ranking": "place, 1 for the one liked best", "liking": "mark, 9 like extremely to 1 dislike extremely",
}  # fmt: skip
NINE_POINTS: Final = (
    "like extremely", "like very much", "like moderately", "like slightly", "neither like nor dislike",
    "dislike slightly", "dislike moderately", "dislike very much", "dislike extremely",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cups:
    """What one assessor is served in one test: open reference, products from left to right, their codes."""

    assessor: int
    test: PanelTest
    reference: str
    products: tuple[str, ...]
    codes: tuple[int, ...]


def serve(plan: Plan, panel: Panel) -> tuple[Cups, ...]:
    """All cups of a session, test by test. No assessor meets a code twice, whatever the number of tests."""
    servings = [(test, _servings(plan, panel, test, place)) for place, test in enumerate(panel.tests)]
    cups_each = sum(len(served[0].order) for _, served in servings)
    codes = blind_codes(panel.assessors, cups_each, f"{plan.name} {plan.seed}")
    used = [0] * panel.assessors
    made = []
    for test, served in servings:
        for serving in served:
            person = serving.assessor - 1
            own = codes[person][used[person] : used[person] + len(serving.order)]
            used[person] += len(serving.order)
            made.append(
                Cups(serving.assessor, test, _product(panel, serving.reference),
                     tuple(_product(panel, letter) for letter in serving.order), own)
            )  # fmt: skip
    return tuple(made)


def _product(panel: Panel, letter: str) -> str:
    return panel.products[ord(letter) - ord("A")] if letter else ""


def _servings(plan: Plan, panel: Panel, test: PanelTest, place: int) -> Sequence[Serving]:
    people, seed = float(panel.assessors), float((plan.seed + place) % _SEEDS)
    pairs: dict[str, Callable[..., Sequence[Serving]]] = {
        "triangle": triangle_orders, "duo_trio": duo_trio_orders, "preference": paired_orders
    }  # fmt: skip
    if test in pairs:
        return pairs[test](assessors=people, seed=seed)
    return ranking_orders(assessors=people, products=float(len(panel.products)), seed=seed)


def answer_sheets(plan: Plan, panel: Panel, cups: Sequence[Cups]) -> list[Block]:
    """A page for every assessor, with codes and no names of products."""
    made: list[Block] = []
    for person in range(1, panel.assessors + 1):
        if person > 1:
            made.append(document.page_break())
        made += [
            document.title(f"Assessor {person}, {plan.crop}"),
            document.caution(
                "Taste only if you want to, and if nothing on the allergen sheet concerns you. You may spit, stop or "
                "refuse at any time; nobody asks why, and it does not touch your marks."
            ),
        ]
        for own in cups:
            if own.assessor == person:
                made += _asked(own)
    return made


def _asked(cups: Cups) -> list[Block]:
    codes = ", ".join(map(str, cups.codes))
    rinse = "Rinse with water before each sample. Taste from left to right"
    made: list[Block] = [document.heading(f"{TITLES[cups.test]}, assessor {cups.assessor}")]
    if cups.test == "triangle":
        made.append(_told(f"{rinse}: {codes}. Two are alike. Which is the odd one? Guess if you cannot tell."))
        return [*made, _answer_line("code of the odd one")]
    if cups.test == "duo_trio":
        made.append(
            _told(f"Taste the reference R first. {rinse}: {codes}. Which is the same as R? Guess if unsure.")
        )
        return [*made, _answer_line("code of the one like R")]
    if cups.test == "preference":
        made.append(_told(f"{rinse}: {codes}. Which do you prefer? Choose one."))
        return [*made, _answer_line("code of the one preferred")]
    if cups.test == "ranking":
        made.append(_told(f"{rinse}: {codes}. Put them in order, the one you like best first. No ties."))
        rows = [[str(place), ""] for place in range(1, len(cups.codes) + 1)]
        return [*made, document.table("", ["place", "code"], rows, tall=True)]
    made.append(_told(f"{rinse}. For each sample tick how much you like or dislike it."))
    rows = [[words, *[""] * len(cups.codes)] for words in NINE_POINTS]
    return [*made, document.table("", ["", *map(str, cups.codes)], rows, tall=True)]


def _told(words: str) -> Block:
    return document.text(words, keep=True)


def _answer_line(asked: str) -> Block:
    return document.table("", [asked, "remarks"], [["", ""]], tall=True)


def answer_rows(
    mark: str, cups: Sequence[Cups], filled: Mapping[AnswerKey, str | int] | None = None, reader: str = ""
) -> list[list[Cell]]:
    """Rows of the table of answers, blank or filled; the codes stand there, the products do not.

    A choice has one row with all its cups, since one of them is chosen; ranking and liking have a row for each cup.
    """
    rows: list[list[Cell]] = []
    for one in cups:
        asked = [" ".join(map(str, one.codes))] if one.test in CHOICES else [str(code) for code in one.codes]
        rows += [
            [mark, one.assessor, one.test, shown, _ASKED[one.test],
             (filled or {}).get((one.assessor, one.test, shown), ""), reader, ""]
            for shown in asked
        ]  # fmt: skip
    return rows


def write_answers(
    place: Path,
    stem: str,
    mark: str,
    cups: Sequence[Cups],
    filled: Mapping[AnswerKey, str | int] | None = None,
    reader: str = "",
) -> list[Path]:
    """The table of answers as CSV and as a spreadsheet."""
    made = [place / f"{stem}.csv", place / f"{stem}.xlsx"]
    rows = answer_rows(mark, cups, filled, reader)
    write_csv(made[0], ANSWER_HEADINGS, rows)
    write_xlsx(made[1], "Answers", ANSWER_HEADINGS, rows)
    guard(made[1], ANSWER_HEADINGS, answer_rules(cups))
    return made


def answer_rules(cups: Sequence[Cups]) -> list[CellRule]:
    """What each answer may be: one of the codes served to that person, a place, or a mark."""
    made: list[CellRule] = []
    shared: dict[tuple[PanelTest, int], list[tuple[int, int]]] = {}
    row = 2
    for one in cups:
        if one.test in CHOICES:
            codes = [str(code) for code in one.codes]
            said = f"Give one of {', '.join(codes)}, the cups of assessor {one.assessor}. Whoever cannot tell guesses."
            made.append(list_rule("answer", [(row, row)], codes, "Not a code of this row", said))
            row += 1
        else:
            shared.setdefault((one.test, len(one.codes)), []).append((row, row + len(one.codes) - 1))
            row += len(one.codes)
    for (test, count), rows in shared.items():
        if test == "ranking":
            said = f"Give the place of this cup, 1 for the one liked best to {count}. No ties."
            made.append(number_rule("answer", rows, 1, count, "Not a place", said, whole=True))
        else:
            marks = [*map(str, range(9, 0, -1)), *NINE_POINTS]
            said = "Give a mark from 9, like extremely, to 1, dislike extremely, or the words of the answer sheet."
            made.append(list_rule("answer", rows, marks, "Not a mark", said))
    return made


def server_key(plan: Plan, panel: Panel, cups: Sequence[Cups]) -> list[Block]:
    """Which code hides which product: for the person who pours, and for nobody who tastes or writes down."""
    made: list[Block] = []
    secret = f"For {', '.join(plan.codes_known_to)} only. Put it away before the assessors come in."
    # Tests are poured one after another: each has its own page, which can be put away when it is done.
    for test in panel.tests:
        rows = [
            [str(one.assessor), *([one.reference] if one.reference else []), *(
                f"{code} {product}" for code, product in zip(one.codes, one.products, strict=True)
            )]
            for one in cups if one.test == test
        ]  # fmt: skip
        reference = ["open reference"] if test == "duo_trio" else []
        width = len(rows[0]) - 1 - len(reference)
        heads = ["assessor", *reference, *(f"cup {n + 1}" for n in range(width))]
        made += [document.page_break()] if made else []
        made += [document.box("Secret", [secret]), document.heading(TITLES[test])]
        made.append(document.table("Cups from left to right", heads, rows))
    return made


def consent_sheet(plan: Plan, panel: Panel) -> list[Block]:
    """Consent, allergens and food safety, to be read and signed before anybody tastes."""
    return [
        document.caution(
            "Ask your school first: tasting by students may need approval and, for minors, a parent's written consent. "
            "The school's rules and local food rules decide, not this sheet."
        ),
        document.text(f"You are asked to taste {plan.crop} ({plan.variety}) grown in different ways."),
        document.heading("What the samples may carry"),
        document.items([
            f"Declared by the grower: {', '.join(panel.allergens)}.",
            "Plants from beds with fish may carry traces of fish and of fish feed (fish, crustaceans, soy, wheat).",
            "Tell the server of any allergy, intolerance, pregnancy or illness that makes raw produce unwise for you. "
            "You need not say which: say only that you do not taste.",
        ]),
        document.heading("Before serving"),
        document.items([
            "Serve nothing from a bed or tank that had a treatment not permitted for food.",
            "Wash hands; wear clean gloves; sanitise boards, knives and cups. Fresh cups for each person.",
            "Rinse produce under running drinking water before it is cut. Keep tank water off the leaves.",
            "Keep cut leafy greens and cut tomatoes at 5 °C or below (US Food Code 2009); discard what stood out.",
            "Serve all samples at one temperature and size. Drinking water and a cup to spit into for each.",
        ]),
        document.heading("Your part"),
        document.items([
            "I taste of my own free will. I may spit, stop or refuse at any time; no reason, no loss of marks.",
            "Nothing on this sheet concerns me, or I have told the server and do not taste.",
        ]),
        document.table("", ["name", "date", "signature", "parent, for minors"], [["", "", "", ""]] * 8, tall=True),
    ]  # fmt: skip
