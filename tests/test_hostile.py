"""Whatever comes in, it is read, judged or refused in a line: no traceback, no waiting, no full memory."""

import io
import random
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl  # type: ignore[import-untyped]
import pytest

from classroom import exercises, issued_to
from sound_family import changed, family_of
from waterleaf.bank.expressions import BadExpression, compile_expression
from waterleaf.bank.story import StoryFault, names_in
from waterleaf.bench.hostile import alarmed, slice_of, try_one
from waterleaf.bench.mutations import spoilt_answer, spoilt_data, spoilt_sheet, spoilt_text
from waterleaf.bench.readers import judge_of, readers_of, table_readers
from waterleaf.bench.tallies import Tally, read_figures, table, write_figures
from waterleaf.draw import NoDraw, draw
from waterleaf.faults import Fault, Faults, refuse
from waterleaf.growing.measures import Measure
from waterleaf.growing.system import read_growing
from waterleaf.home import find_home
from waterleaf.marking import tabular
from waterleaf.marking.tabular import read_table
from waterleaf.working.units import dimensions, factor

HOME = find_home(Path(__file__).parents[1])
FIGURES = read_figures(Path(__file__).parent / "figures" / "hostile.csv")
READERS = {reader.name: reader for reader in (*readers_of(HOME), *table_readers(HOME))}


def as_before(tally: Tally) -> None:
    """A slice of the bench had no findings, and the file of figures says what became of it."""
    # A busy machine may be slow; time is for the bench to judge.
    assert [what for what in tally.findings if "took more than" not in what] == []
    assert tally.taken + tally.refused == tally.cases
    row = FIGURES[tally.name]
    told = tuple(int(row[f"slice {column}"]) for column in ("cases", "read", "refused"))
    assert (tally.cases, tally.taken, tally.refused) == told, (
        "readers or the files that are spoilt have changed. Run python -m waterleaf.bench.hostile --figures "
        "tests/figures/hostile.csv"
    )


def test_the_judge_judges_whatever_is_typed(tmp_path: Path) -> None:
    """A slice of what the bench throws."""
    tally = slice_of(judge_of(HOME), 1, tmp_path)
    as_before(tally)
    assert tally.taken == tally.cases


@pytest.mark.parametrize("name", READERS)
def test_a_reader_reads_or_refuses_whatever_is_in_the_file(tmp_path: Path, name: str) -> None:
    """A slice of what the bench throws: some files are taken, most are refused, and nothing else happens."""
    as_before(slice_of(READERS[name], 1, tmp_path))


def test_the_file_of_figures_is_of_a_whole_run_without_findings() -> None:
    """Every reader has a row, no row has a finding, and the three kinds have the cases that they should have."""
    assert list(FIGURES) == ["judge", *READERS]
    cases = {name: int(row["cases"]) for name, row in FIGURES.items()}
    assert [name for name, row in FIGURES.items() if int(row["read"]) + int(row["refused"]) != cases[name]] == []
    assert [name for name, row in FIGURES.items() if row["findings"] != "0"] == []
    files = len(readers_of(HOME))
    shares = cases["judge"], list(cases.values())[1 : files + 1], list(cases.values())[files + 1 :]
    assert shares[0] >= 100_000
    assert min(shares[1]) == 10_000 // files and min(shares[2]) == 10_000 // (len(READERS) - files)


def test_figures_are_written_as_they_are_read(tmp_path: Path) -> None:
    """Each reader with its slice and its whole run."""
    part, whole = Tally("crew", 12, 5, 7), Tally("crew", 1000, 400, 599, 0.25, 3.2)
    whole.found("KeyError", 17)
    write_figures(tmp_path / "f.csv", 1, [part], [whole])
    assert list(read_figures(tmp_path / "f.csv")["crew"].values()) == [
        "crew", "12", "5", "7", "1000", "400", "599", "1", "0.25", "3",
    ]


def test_the_bench_sees_what_it_looks_for(tmp_path: Path) -> None:
    """An error, a fault that steers a terminal, and a case that would not end are findings."""
    tally = Tally("x")

    class Raw(Faults):
        def __init__(self) -> None:
            super().__init__([Fault("f", "", "m")])
            self.faults = ("two\nlines",)  # type: ignore[assignment]

    def crash() -> None:
        raise KeyError("x")

    def steer() -> None:
        raise Raw

    with alarmed():
        for number, case in enumerate((crash, steer, lambda: None, lambda: (_ for _ in ()).throw(refuse("f", "m")))):
            try_one(case, tally, number)
    assert (tally.cases, tally.taken, tally.refused, sum(tally.findings.values())) == (4, 1, 2, 2)
    assert "KeyError" in table([tally])


def test_the_same_number_spoils_in_the_same_way() -> None:
    """A finding can be met again."""
    raw = (HOME / "course" / "demo" / "crew.yaml").read_bytes()
    for spoil in (spoilt_text, spoilt_data):
        assert spoil(raw, random.Random("7")) == spoil(raw, random.Random("7"))
    assert spoilt_answer(random.Random("7")) == spoilt_answer(random.Random("7"))


@pytest.mark.parametrize("text", ["[0] * 9999999999", "-[1]", "[1] + [2]", "count([0] * 999999999)"])
def test_a_list_in_a_sum_is_no_number(text: str) -> None:
    """Repeating it would fill the memory."""
    with pytest.raises(BadExpression, match="put it into a function"):
        compile_expression(text)


@pytest.mark.parametrize("text", ["max([1], [2]) * 9999999999", "9999999999 * readings", "readings * 9999999999"])
def test_several_numbers_are_never_repeated(text: str) -> None:
    """Nor by a detour through a function or a given."""
    with pytest.raises(ValueError, match="cannot be multiplied"):
        compile_expression(text).value({"readings": (1.0, 2.0)})


@pytest.mark.parametrize("text", ["mean(5)", "count(a)", "max(a)", "readings < a", "round(readings)", "-readings"])
def test_one_number_does_not_stand_for_several(text: str) -> None:
    """Nor several for one; whoever wrote the sum is told so."""
    with pytest.raises(ValueError, match="one number stands for several, or several for one"):
        compile_expression(text).value({"readings": (1.0, 2.0), "a": 4.0})


def test_several_numbers_are_counted_and_added_up_as_ever() -> None:
    """Lists that are written out, and readings."""
    names = {"readings": (1.0, 2.0, 6.0), "a": 4.0}
    assert compile_expression("mean(readings) + total([a, 1]) + count(readings)").value(names) == 11.0


def test_a_story_of_brackets_in_brackets_is_refused() -> None:
    """The reader of templates calls itself for each."""
    with pytest.raises(StoryFault, match="not one bracket in another"):
        names_in("{{ " + "(" * 3000 + "x" + ")" * 3000 + " }}")


@pytest.mark.parametrize("field", ["given.bed_area.to", "parts.feed.between"])
def test_numbers_without_an_end_are_refused(field: str) -> None:
    """They can be written in YAML, and nothing can be drawn from them."""
    value = [300, "inf"] if field.endswith("between") else "inf"
    with pytest.raises(Faults, match="has no end"):
        family_of(changed(field, value))


@pytest.mark.parametrize("value", ["answer * 1e300", "[answer, bed_area]", "max([answer], [bed_area])"])
def test_a_wrong_turn_to_an_endless_number_or_to_several_leads_nowhere(value: str) -> None:
    """It is no answer that a student can give, so nobody is told of it."""
    data = changed("slips.1.value", value)
    try:
        drawn = draw(family_of(data), 1)
    except NoDraw:
        pytest.fail("the wrong turn stood in the way of a draw")
    family = drawn.family
    assert family.slip_value(family.slips[1], {**drawn.values, **drawn.keys}, "metric") is None


def test_a_crop_that_is_no_name_is_a_fault_like_others(tmp_path: Path) -> None:
    """A list where a name belongs."""
    path = tmp_path / "g.yaml"
    path.write_text("name: x\ncrops:\n  basil:\n    kind: leafy\nbeds:\n  - name: b\n    kind: raft\n    crop: [a]\n")
    with pytest.raises(Faults, match=r"g\.yaml:8"):
        read_growing(path)


def test_what_a_stranger_wrote_cannot_steer_a_terminal() -> None:
    """A fault is one line, and escapes in it are spelt out."""
    text = str(Fault("a.csv", "mark", "'\x1b[2J\nall is well\u2028' is not known."))
    assert text == r"a.csv: mark: '\x1b[2J\nall is well\u2028' is not known."


def spreadsheet(folder: Path, old: str = "", new: str = "") -> Path:
    """A spreadsheet of a class with one thing changed in the XML of its sheet."""
    book = openpyxl.Workbook()
    for row in (["id", "name"], ["A1", "Wren"]):
        book.active.append(row)
    held = io.BytesIO()
    book.save(held)
    path = folder / "class.xlsx"
    with zipfile.ZipFile(held) as source, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            data = source.read(name)
            if name == "xl/worksheets/sheet1.xml":
                assert old.encode() in data
                data = data.replace(old.encode(), new.encode(), 1)
            target.writestr(name, data)
    return path


_MERGED = '</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'
_BOMB = '<!DOCTYPE x [<!ENTITY a "aaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><worksheet '


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("</sheetData>", _MERGED, "17179869184 cells are merged"), ("<worksheet ", _BOMB, "not a spreadsheet"),
        ("<worksheet ", "<worksheet <", "not a spreadsheet that can be read"),
    ],
)
def test_a_spreadsheet_that_would_hold_the_machine_up_is_refused(tmp_path: Path, old: str, new: str, said: str) -> None:
    """Millions of merged cells, entities that unfold, XML that is none."""
    with pytest.raises(Faults, match=said):
        read_table(spreadsheet(tmp_path, old, new), ("id", "name"))


def test_a_sound_spreadsheet_is_still_read(tmp_path: Path) -> None:
    """The same file without a change."""
    (row,) = read_table(spreadsheet(tmp_path), ("id", "name")).rows
    assert row.cells == {"id": "A1", "name": "Wren"}


def test_a_table_without_end_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Too many lines, or too many cells in one."""
    monkeypatch.setattr(tabular, "MOST_ROWS", 50)
    for name, text in (("long.csv", "id,name\n" + "\n" * 100), ("wide.csv", "id,name\n" + "," * 2000)):
        (tmp_path / name).write_text(text, encoding="utf-8")
        with pytest.raises(Faults, match="are too many"):
            read_table(tmp_path / name, ("id", "name"))


def test_spoilt_spreadsheets_are_spreadsheets_still_at_times(tmp_path: Path) -> None:
    """Else the readers of cells would never be reached."""
    path = spreadsheet(tmp_path)
    raw, taken = path.read_bytes(), 0
    for number in range(20):
        path.write_bytes(spoilt_sheet(raw, random.Random(number)))
        try:
            read_table(path, ("id", "name"))
            taken += 1
        except Faults:
            continue
    assert 0 < taken < 20


def test_every_reader_of_the_bench_begins_with_a_sound_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Unspoilt, each is taken; otherwise the bench would only ever meet the first check."""
    monkeypatch.setattr("waterleaf.bench.readers.spoilt_text", lambda raw, _chance: raw)
    monkeypatch.setattr("waterleaf.bench.readers.spoilt_data", lambda raw, _chance: raw)
    monkeypatch.setattr("waterleaf.bench.readers.spoilt_sheet", lambda raw, _chance: raw)
    for name, reader in READERS.items():
        if name == "practical":  # its numbers of the day ask for families that the small bank has not
            continue
        reader.case(random.Random(1), tmp_path)()


@pytest.mark.parametrize(
    "text", ["10**10**10", "m**99999999", "m^2^99", "(m^99)^99", "9^99 m", "m^" + "9" * 400, "g/" * 90]
)
def test_a_unit_that_would_never_be_worked_out_is_refused_at_once(text: str) -> None:
    """In a table of readings, a growing file or a family, it is no unit; the usual ones are."""
    with pytest.raises(ValueError, match="is not a unit"):
        dimensions(text)
    with pytest.raises(ValueError, match="is not a unit"):
        factor(text, "m")
    assert dimensions("m ** 2 / m^-1") == dimensions("m^3")


@pytest.mark.parametrize(
    ("field", "value"), [("given.bed_area.us", {"unit": "ft^2", "step": 1e-99}), ("given.bed_area.to", 1e30)]
)
def test_steps_too_fine_and_values_too_large_to_be_written_are_refused(field: str, value: object) -> None:
    """Their digits would not end."""
    with pytest.raises(Faults, match=rf"{field}.*is out of range"):
        family_of(changed(field, value))


@pytest.mark.parametrize("text", ["9" * 400, "1e400", "-1e400"])
def test_a_count_without_end_is_refused(text: str) -> None:
    """As any other count that is out of range."""
    with pytest.raises(ValueError, match=r"is out of range\. Give 1 to 24"):
        Measure("", 1, 24, whole=True).read(text)


def test_a_book_whose_own_numbers_make_no_draw_is_refused() -> None:
    """Somebody has typed in it, or it came damaged from a stick."""
    issued = issued_to(1)
    own = replace(issued.questions[0], own={"bed_area": 1e9})
    with pytest.raises(Faults, match=r"issue-book\.json: .*The numbers in the book are not those that were given out"):
        exercises(replace(issued, questions=(own, *issued.questions[1:])))
