"""Sheets on paper: tagged, the same bytes every time, nothing typed by a person read as markup."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pikepdf
import pytest

from on_paper import text_of
from waterleaf.bank.builder import load_bank
from waterleaf.draw import draw
from waterleaf.exercise import pose
from waterleaf.printing import make_sheets
from waterleaf.sheets import paper
from waterleaf.sheets.paper import Sheet, Style
from waterleaf.sheets.press import Press, PressFault, packets

BANK = load_bank(Path(__file__).parents[2] / "question_bank")
STYLES = [Style(paper=p, system=s) for p in ("a4", "letter") for s in ("metric", "us")]  # type: ignore[arg-type]


def some_sheets(style: Style, name: str = "") -> list[Sheet]:
    """Two sheets with every kind of question."""
    families = [BANK["feed/daily_feed"], BANK["solids/flush_times"], BANK["sugar/mean_and_spread"]]
    return [Sheet(tuple(pose(draw(f, n), style.system) for f in families), name) for n in range(2)]


def printed_text(pdf: bytes, tmp_path: Path) -> str:
    """Text of a PDF that lies in no file yet."""
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf)
    return text_of(path)


@pytest.mark.parametrize("style", STYLES, ids=lambda s: f"{s.paper}-{s.system}")
@pytest.mark.parametrize("kind", ["worksheet", "key"])
def test_sheets_are_tagged_and_say_that_they_are_pdf_ua(style: Style, kind: str) -> None:
    """Language, title, structure and the PDF/UA-1 mark are there; every formula has a spoken text."""
    sheets = some_sheets(style)
    data = paper.worksheets(sheets, style) if kind == "worksheet" else paper.keys(sheets, style)
    with pikepdf.open(io.BytesIO(Press(kind).pdf(data))) as pdf:
        assert str(pdf.Root.Lang).startswith("en")
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        with pdf.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
        kinds, silent = structure(pdf.Root.StructTreeRoot)
        assert {"H1", "H2", "P", "Table", "TH"} <= kinds
        assert ("Formula" in kinds) == (kind == "key")
        assert silent == 0
        width, height = pdf.pages[0].mediabox[2:]
        assert (round(float(width)), round(float(height))) == ((595, 842) if style.paper == "a4" else (612, 792))


def structure(node: pikepdf.Object) -> tuple[set[str], int]:
    """Kinds of elements in the tree, and how many formulas have no spoken text."""
    kinds: set[str] = set()
    silent = 0
    waiting = [node]
    while waiting:
        item = waiting.pop()
        if isinstance(item, pikepdf.Array):
            waiting += list(item)
        elif isinstance(item, pikepdf.Dictionary):
            kind = str(item.get("/S", ""))[1:]
            kinds.add(kind)
            silent += kind == "Formula" and not str(item.get("/Alt", ""))
            if "/K" in item:
                waiting.append(item["/K"])
    return kinds, silent


def test_the_same_sheets_give_the_same_bytes() -> None:
    """In this process, and in another one with another hash seed, folder and time zone."""
    style = Style()
    here = Press("key").pdf(paper.keys(some_sheets(style), style))
    assert here == Press("key").pdf(paper.keys(some_sheets(style), style))
    program = (
        "import sys, json; from waterleaf.sheets.press import Press; "
        "sys.stdout.buffer.write(Press('key').pdf(json.load(sys.stdin)))"
    )
    root = Path(__file__).parents[2]
    ran = subprocess.run(
        [sys.executable, "-c", program],
        input=json.dumps(paper.keys(some_sheets(style), style)).encode(),
        capture_output=True,
        check=True,
        cwd="/",
        env={"PYTHONPATH": str(root / "generator"), "PYTHONHASHSEED": "99", "TZ": "Asia/Tokyo", "PATH": "/usr/bin"},
    )
    assert ran.stdout == here


def test_names_are_never_read_as_markup(tmp_path: Path) -> None:
    """A name full of Typst is printed letter for letter."""
    name = '#panic("x") *bold* $x^2$ #include "/etc/passwd" <lab> @ref ـ مريم Øyvind'
    style = Style()
    text = printed_text(Press("worksheet").pdf(paper.worksheets(some_sheets(style, name), style)), tmp_path)
    assert '#panic("x") *bold* $x^2$' in text


def test_a_letter_that_no_font_has_is_refused_by_name() -> None:
    """Typst's own reason comes through as a fault, not as a broken file."""
    style = Style()
    with pytest.raises(PressFault, match=r"名.* could not be displayed"):
        Press("worksheet").pdf(paper.worksheets(some_sheets(style, "名前"), style))


def test_worksheets_hold_no_key(tmp_path: Path) -> None:
    """Answers, bands and slips stand on the key alone."""
    style = Style()
    sheets = some_sheets(style)
    text = printed_text(Press("worksheet").pdf(paper.worksheets(sheets, style)), tmp_path)
    key = printed_text(Press("key").pdf(paper.keys(sheets, style)), tmp_path)
    for part in sheets[0].exercises[2].parts:
        assert part.key_text not in text
        assert part.key_text in key
    assert "accepted from" not in text
    assert sheets[0].code in text
    assert sheets[0].code in key


def test_pages_are_counted_for_each_sheet(tmp_path: Path) -> None:
    """Every sheet of a packet starts at page 1 of its own pages."""
    style = Style()
    text = printed_text(Press("worksheet").pdf(paper.worksheets(some_sheets(style), style)), tmp_path)
    assert text.count("page 1 of ") == 2


def test_codes_tell_sheets_apart() -> None:
    """Other numbers or other units, another code; the same draw again, the same code."""
    style = Style()
    codes = [sheet.code for sheet in make_sheets([BANK["feed/daily_feed"]], 3, 200, style)]
    assert len(set(codes)) == 200
    assert codes == [sheet.code for sheet in make_sheets([BANK["feed/daily_feed"]], 3, 200, style)]
    assert codes[0] != next(make_sheets([BANK["feed/daily_feed"]], 3, 1, Style(system="us"))).code


def test_packets_come_in_order_whatever_the_threads_do() -> None:
    """Printing on several threads changes neither order nor bytes."""
    style = Style()
    documents = [paper.worksheets([sheet], style) for sheet in make_sheets([BANK["feed/daily_feed"]], 3, 12, style)]
    assert list(packets("worksheet", documents, workers=3)) == [Press("worksheet").pdf(d) for d in documents]
