"""The same sheets for other engines: every text that the kit prints reaches them, and what is missing is said."""

import json
import subprocess
import sys
from html import escape
from pathlib import Path
from typing import Any

import pytest

from waterleaf.bank.builder import load_bank
from waterleaf.bench import engines
from waterleaf.bench.plainsheets import as_html, blocks
from waterleaf.bench.sheets import FOUR, bench_engines
from waterleaf.printing import make_sheets
from waterleaf.sheets import paper
from waterleaf.sheets.paper import Style

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def packets() -> dict[str, dict[str, Any]]:
    """Worksheets and keys of two students; the last question is a choice, whose options are texts too."""
    keys = (*FOUR, "solids/which_settler")
    sheets = list(make_sheets([load_bank(ROOT / "question_bank", keys)[key] for key in keys], 1, 2, Style()))
    return {"worksheet": paper.worksheets(sheets, Style()), "key": paper.keys(sheets, Style())}


def words_of(data: Any) -> set[str]:
    """The longer texts in the data that the kit's templates print, without the spoken form of formulas."""
    if isinstance(data, dict):
        return set().union(*(words_of(value) for name, value in data.items() if name not in ("spoken", "footer")))
    if isinstance(data, list):
        return set().union(*map(words_of, data))
    return {data} if isinstance(data, str) and len(data) > 12 else set()


@pytest.mark.parametrize("kind", ["worksheet", "key"])
def test_every_text_of_a_sheet_is_among_the_blocks(packets: dict[str, dict[str, Any]], kind: str) -> None:
    """Other engines are not let off a story, a question, an answer or a line of working."""
    given = list(blocks(kind, packets[kind]))
    found = "\n".join([block.text for block in given] + [" ".join(row) for block in given for row in block.rows])
    assert words_of(packets[kind]["sheets"])
    assert {text for text in words_of(packets[kind]["sheets"]) if text not in found} == set()


@pytest.mark.parametrize("kind", ["worksheet", "key"])
def test_every_block_stands_in_the_page(packets: dict[str, dict[str, Any]], kind: str) -> None:
    """Escaped, so that a comparison sign in a formula is no tag."""
    page = as_html(kind, packets[kind])
    assert all(escape(block.text) in page for block in blocks(kind, packets[kind]))
    assert (page.count('<h1 class="first">'), page.count("<h1>")) == (1, 1)


@pytest.mark.parametrize("engine", engines.ENGINES)
def test_an_engine_prints_both_packets(packets: dict[str, dict[str, Any]], engine: str, tmp_path: Path) -> None:
    """And says how many pages it made; where it is not installed, the reason is the reason to skip."""
    if reason := engines.missing(engine):
        pytest.skip(reason)
    data = tmp_path / "pages.jsonl"
    lines = (json.dumps([kind, json.dumps(packet)]) for kind, packet in packets.items())
    data.write_text("\n".join(lines) + "\n", encoding="utf-8")
    # In a process of its own: a browser that other tests hold open would stand in Chromium's way.
    words = [sys.executable, "-m", "waterleaf.bench.engines", engine, str(data)]
    made = json.loads(subprocess.run(words, capture_output=True, text=True, check=True).stdout)
    assert made["pages"] >= 8
    assert made["bytes"] > 10_000


def test_an_engine_that_is_not_there_is_skipped_with_the_reason(monkeypatch: pytest.MonkeyPatch) -> None:
    """A row says so; nothing is measured and nothing fails."""
    monkeypatch.setattr(engines, "find_spec", lambda _name: None)
    rows = list(bench_engines(ROOT, {}, 100, 5))
    assert [row.against for row in rows] == ["WeasyPrint", "ReportLab", "Chromium"]
    assert all(row.note.startswith("skipped: the package ") for row in rows)
    assert rows[0].cells()[2:9] == ("", "", "WeasyPrint", "", "", "", "")
