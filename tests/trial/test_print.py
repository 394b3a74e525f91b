"""Sheets on paper: codes for those who read and taste, methods only in the secret folder, cautions before the task."""

import io
import re
import subprocess
from collections import Counter
from itertools import pairwise
from pathlib import Path
from typing import Any

import openpyxl
import pikepdf
import pytest
import segno
from trial_plans import plan, write_plan

from waterleaf.commands.trial import plan_trial, print_trial
from waterleaf.faults import Faults
from waterleaf.sheets.paper import Style
from waterleaf.trial import fieldsheets
from waterleaf.trial.document import Block, to_pdf
from waterleaf.trial.frozen import fingerprint, short
from waterleaf.trial.layout import lay_out
from waterleaf.trial.panel import answer_sheets, consent_sheet, serve, server_key

TESTS = ["triangle", "duo_trio", "preference", "ranking", "liking"]
PANEL: dict[str, Any] = {"tests": TESTS, "assessors": 12, "products": ["soil", "raft"]}


def words(blocks: list[Block]) -> str:
    """Everything that a sheet says."""
    return " ".join(str(value) for block in blocks for value in block.values())


def test_printing_makes_every_sheet_of_a_frozen_plan(tmp_path: Path) -> None:
    """Three folders; a plan that is not frozen is not printed; a folder with something in it is left alone."""
    path = write_plan(tmp_path / "p.yaml", panel=PANEL)
    with pytest.raises(Faults, match="never frozen"):
        print_trial(path, tmp_path / "out")
    plan_trial(path, freeze_it=True, show_layout=False)
    print_trial(path, tmp_path / "out")
    made = {file.relative_to(tmp_path / "out").as_posix() for file in (tmp_path / "out").rglob("*") if file.is_file()}
    assert made == {
        "readers/map.pdf", "readers/tags.pdf", "readers/protocol.pdf", "readers/reading-sheets.pdf",
        "readers/readings.csv", "readers/readings.xlsx", "secret/layout-key.pdf", "secret/server-key.pdf",
        "panel/answer-sheets.pdf", "panel/consent.pdf", "panel/answers.csv", "panel/answers.xlsx",
    }  # fmt: skip
    assert all((tmp_path / "out" / name).read_bytes()[:4] == b"%PDF" for name in made if name.endswith(".pdf"))
    book = openpyxl.load_workbook(tmp_path / "out" / "panel" / "answers.xlsx").active
    assert book is not None and "f" not in {cell.data_type for row in book.iter_rows() for cell in row}
    with pytest.raises(Faults, match="is not empty"):
        print_trial(path, tmp_path / "out")


@pytest.mark.parametrize("design", ["random", "blocked", "latin"])
def test_readers_see_codes_and_never_methods(design: str) -> None:
    """Map, tags, protocol and reading sheets hold every code and no method; the key holds both."""
    made = plan(design=design, units_each=3)
    units = lay_out(made)
    for sheet in (fieldsheets.bed_map, fieldsheets.tags, fieldsheets.reading_sheets):
        said = words(sheet(made, units))
        assert all(unit.code in said for unit in units)
        assert not any(re.search(rf"\b{method}\b", said) for method in made.methods)
    assert not any(re.search(rf"\b{method}\b", words(fieldsheets.protocol(made))) for method in made.methods)
    key = words(fieldsheets.layout_key(made, units))
    assert all(f"'{unit.code}', '{unit.place}', '{unit.method}'" in key for unit in units)


def test_the_qr_code_holds_mark_and_code() -> None:
    """The tag's picture is what another way of drawing gives for its text: the same dark squares."""
    made = plan()
    units = lay_out(made)
    tags = fieldsheets.tags(made, units)[0]["tags"]
    code = segno.make(f"{short(fingerprint(made, units))} {units[0].code}", error="q", micro=False)
    dark = sum(sum(row) for row in code.matrix)
    runs = [int(run) for run in re.findall(r"h(\d+)", tags[0]["svg"])]
    assert sum(runs) == dark > 200
    assert len({tag["svg"] for tag in tags}) == len(units)


def test_the_protocol_follows_the_instrument() -> None:
    """Temperature is written down only where the instrument does not compensate; a balance is tared, not zeroed."""
    assert "temperature of the prism" in words(fieldsheets.protocol(plan()))
    response = {**plan().response.model_dump(mode="json"), "compensates": True}
    assert "Do not correct its readings again" in words(fieldsheets.protocol(plan(response=response)))
    mass = {"kind": "mass", "name": "yield", "unit": "g", "high": 2000, "step": 1}
    assert "tare" in words(fieldsheets.protocol(plan(response=mass, smallest_difference=20)))


def test_orders_are_balanced_and_codes_never_repeat_for_an_assessor() -> None:
    """Twelve assessors: each triangle order twice, each duo-trio order three times, each pair order six times."""
    made = plan(panel=PANEL)
    assert made.panel is not None
    cups = serve(made, made.panel)
    assert cups == serve(made, made.panel)
    for test, times in (("triangle", 2), ("duo_trio", 3), ("preference", 6), ("ranking", 6), ("liking", 6)):
        orders = Counter((one.reference, one.products) for one in cups if one.test == test)
        assert set(orders.values()) == {times}
    for person in range(1, 13):
        codes = [code for one in cups if one.assessor == person for code in one.codes]
        assert len(codes) == len(set(codes)) == 11
        assert all(100 <= code <= 999 for code in codes)


def test_liking_of_three_products_is_balanced_for_place_and_neighbour() -> None:
    """Six assessors, three products: each in each place twice, each ordered pair of neighbours twice."""
    made = plan(panel={"tests": ["liking"], "assessors": 6, "products": ["soil", "hydroponic", "raft"]})
    assert made.panel is not None
    cups = serve(made, made.panel)
    assert set(Counter((place, name) for one in cups for place, name in enumerate(one.products)).values()) == {2}
    assert set(Counter(pair for one in cups for pair in pairwise(one.products)).values()) == {2}


def test_assessors_see_codes_and_a_caution_first() -> None:
    """No product on an answer sheet; the caution stands before the first question; the key tells all."""
    made = plan(panel=PANEL)
    assert made.panel is not None
    cups = serve(made, made.panel)
    sheets = answer_sheets(made, made.panel, cups)
    assert not any(re.search(rf"\b{product}\b", words(sheets)) for product in made.panel.products)
    kinds = [block["kind"] for block in sheets]
    assert kinds.index("caution") < kinds.index("table")
    key = words(server_key(made, made.panel, cups))
    assert all(f"{one.codes[0]} {one.products[0]}" in key for one in cups)
    consent = consent_sheet(made, made.panel)
    assert consent[0]["kind"] == "caution"
    assert "5 °C or below" in words(consent) and "spit, stop or refuse" in words(consent)


def test_the_command_line_goes_the_whole_way(tmp_path: Path) -> None:
    """A wrong plan ends with one line a fault and status 2, no traceback."""
    import sys

    path = write_plan(tmp_path / "p.yaml", design="paired")
    ran = subprocess.run(
        [sys.executable, "-m", "waterleaf", "trial", "plan", str(path)], capture_output=True, text=True, check=False
    )
    assert (ran.returncode, ran.stdout) == (2, "")
    assert re.fullmatch(r"p\.yaml:\d+: design: paired takes two methods, not 3\..*\n", ran.stderr)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_assessor_has_one_page_on_either_paper(paper: Any) -> None:
    """Five tests of two products, or ranking and liking of four: as many pages as assessors, each with its number."""
    four = {"tests": ["ranking", "liking"], "assessors": 4, "products": ["soil", "hydroponic", "raft", "wicking"]}
    for panel, methods in ((PANEL, None), (four, four["products"])):
        made = plan(panel=panel, **({"methods": methods} if methods else {}))
        assert made.panel is not None
        sheets = answer_sheets(made, made.panel, serve(made, made.panel))
        style = Style("Ostrel Quay College", paper=paper, size="10pt")
        with pikepdf.open(io.BytesIO(to_pdf("Panel", "Panel", sheets, style))) as pdf:
            assert len(pdf.pages) == made.panel.assessors
        titles = [block["text"] for block in sheets if block["kind"] == "title"]
        assert titles == [f"Assessor {n}, lettuce" for n in range(1, made.panel.assessors + 1)]


def test_reading_sheets_name_the_unit_and_leave_room_to_write() -> None:
    """Degrees Brix or grams stand over the column; what was printed is narrow, what is written is wide."""
    made = plan()
    head, rows = fieldsheets.reading_sheets(made, lay_out(made))
    assert head["headings"] == ["date", "reader", "instrument", "zero at start", "standard 10.0", "zero at end"]
    assert "soluble solids (°Brix)" in rows["headings"]
    assert [rows["headings"][place] for place in rows["blank"]] == ["soluble solids (°Brix)", "prism °C", "remark"]
    mass = {"kind": "mass", "name": "yield", "unit": "g", "high": 2000, "step": 1}
    made = plan(response=mass, smallest_difference=20)
    head, rows = fieldsheets.reading_sheets(made, lay_out(made))
    assert "known mass" in head["headings"] and "yield (g)" in rows["headings"]
    score = {"kind": "score", "name": "greenness", "low": 1, "high": 9, "step": 1}
    made = plan(response=score, smallest_difference=1)
    assert fieldsheets.reading_sheets(made, lay_out(made))[0]["headings"] == ["date", "reader"]


def test_each_test_of_a_panel_has_a_page_of_the_key_that_says_whose_it_is() -> None:
    """Whoever pours puts one page away and takes the next; none is without its warning."""
    made = plan(panel=PANEL)
    assert made.panel is not None
    kinds = [block["kind"] for block in server_key(made, made.panel, serve(made, made.panel))]
    page = ["box", "heading", "table"]
    assert kinds == [*page, *(["break", *page] * (len(TESTS) - 1))]


def test_only_a_duo_trio_key_has_an_open_reference() -> None:
    """No column stands empty on the secret key."""
    made = plan(panel=PANEL)
    assert made.panel is not None
    tables = [block for block in server_key(made, made.panel, serve(made, made.panel)) if block["kind"] == "table"]
    assert ["open reference" in table["headings"] for table in tables] == [False, True, False, False, False]
    assert all(table["blank"] == [] for table in tables)
