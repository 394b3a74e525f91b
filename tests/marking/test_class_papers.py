"""The papers of a class: accessible, on either paper, and of a size that can be read."""

import io

import pikepdf
import pytest

from classroom import exercises, issued_to, key_answers
from waterleaf.classwork.packets import LARGE_PRINT, Look
from waterleaf.marking.labels import labelled
from waterleaf.marking.partmarks import Reader
from waterleaf.marking.sheetmarks import mark_sheet
from waterleaf.sheets.feedback import Feedback, feedback
from waterleaf.sheets.grid import SheetKeys, answer_grid
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press

ISSUED = issued_to(3)


def grid_of(places: range) -> list[SheetKeys]:
    """Keys of the sheets at these places of the issue book, as often as asked."""
    found = []
    for place in places:
        parts = labelled(exercises(ISSUED, place % 3))
        found.append(SheetKeys(f"AB{place:02d}-CDEF", tuple(p.label for p in parts), tuple(p.part for p in parts)))
    return found


def marked_sheet() -> Feedback:
    """One sheet with a wrong answer among right ones."""
    answers = key_answers(ISSUED) | {"1a": "5000 g/day"}
    return Feedback("ABCD-EFGH", "Ines", exercises(ISSUED), mark_sheet(exercises(ISSUED), answers, Reader()))


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("kind", ["grid", "feedback"])
def test_papers_are_tagged_on_either_paper(kind: str, paper: str) -> None:
    """They say that they are PDF/UA-1, and the press refuses what is not."""
    style = Style(paper=paper)  # type: ignore[arg-type]
    data = answer_grid(grid_of(range(3)), style) if kind == "grid" else feedback([marked_sheet()], style)
    with pikepdf.open(io.BytesIO(Press(kind).pdf(data))) as pdf, pdf.open_metadata() as metadata:
        assert metadata["pdfuaid:part"] == "1"
        sides = sorted(round(float(side)) for side in pdf.pages[0].mediabox[2:])
        assert sides == ([595, 842] if paper == "a4" else [612, 792])


@pytest.mark.parametrize("count", [1, 30, 45])
def test_a_class_fits_on_one_page_of_the_grid(count: int) -> None:
    """The size of type gives way before a second page is taken, and the page is really one."""
    data = answer_grid(grid_of(range(count)), Style())
    assert len(data["pages"]) == 1
    with pikepdf.open(io.BytesIO(Press("grid").pdf(data))) as pdf:
        assert len(pdf.pages) == 1


def test_a_large_class_takes_several_pages_in_readable_type() -> None:
    """Every sheet stands on one of them."""
    data = answer_grid(grid_of(range(200)), Style())
    assert sum(len(page["rows"]) for page in data["pages"]) == 200
    assert data["grid_size"] == "7.5pt"
    with pikepdf.open(io.BytesIO(Press("grid").pdf(data))) as pdf:
        assert len(pdf.pages) == len(data["pages"])


def test_a_look_changes_size_room_and_paper() -> None:
    """Accommodations can be had together."""
    sheets = [Sheet(exercises(ISSUED))]
    plain = Look(()).document(sheets, Style(), ask_unit=False)
    changed = Look(("large print", "extra space", "a3")).document(sheets, Style(), ask_unit=False)
    assert [plain[field] for field in ("size", "room", "paper")] == ["11pt", "26mm", "a4"]
    assert [changed[field] for field in ("size", "room", "paper")] == [LARGE_PRINT, "60mm", "a3"]


def test_a_unit_that_is_asked_for_is_not_printed_beside_the_box() -> None:
    """The question says that it is wanted."""
    sheets = [Sheet(exercises(ISSUED))]
    shown, asked = (Look(()).document(sheets, Style(), ask_unit=ask)["sheets"][0]["items"][0]["parts"][0]
                    for ask in (False, True))
    assert shown["unit"] == "g/day"
    assert asked["unit"] == ""
    assert asked["ask"] == f"{shown['ask']} Write the unit too."


def test_feedback_says_what_follows_from_an_own_answer() -> None:
    """The student sees what the part comes to from there, beside the key."""
    meals = exercises(ISSUED)[0].keys["meals"]
    follow = mark_sheet(
        exercises(ISSUED), key_answers(ISSUED) | {"1a": "5000", "1b": f"{5000 / meals:.4g}"}, Reader()
    )
    own = feedback([Feedback("ABCD-EFGH", "Ines", exercises(ISSUED), follow)], Style())
    text = own["sheets"][0]["items"][0]["parts"][1]["own_key"]
    assert text.startswith("From your own 1a, this part comes to ")
    assert "g/meal" in text
