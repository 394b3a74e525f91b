"""Numbers at the edge of what can be meant, or that contradict each other: findings or one line, never worse."""

import copy
from pathlib import Path
from typing import Any

import pytest
import yaml

from waterleaf.commands.growing import ahead_of
from waterleaf.faults import Faults
from waterleaf.growing.check import check
from waterleaf.growing.facts import ASSUMED
from waterleaf.growing.model import GrowingFile, Tank
from waterleaf.growing.report import text
from waterleaf.growing.system import measured_fields, read_growing, sections

DEMO = Path(__file__).parents[2] / "course" / "demo" / "growing.yaml"
RAW: dict[str, Any] = yaml.safe_load(DEMO.read_text(encoding="utf-8"))


def edited(tmp_path: Path, *changes: tuple[tuple[str | int, ...], Any]) -> Path:
    """The demo file with values changed, or taken out where the new one is nothing."""
    raw = copy.deepcopy(RAW)
    for (*way, last), value in changes:
        place: Any = raw
        for step in way:
            place = place[step]
        if value is None:
            del place[last]
        else:
            place[last] = value
    path = tmp_path / "g.yaml"
    path.write_text(yaml.safe_dump(raw), encoding="utf-8")
    return path


def both(path: Path) -> None:
    """Check, and look three days ahead; a refusal must be whole lines that name the file."""
    for run in (lambda: text(read_growing(path), check(read_growing(path))), lambda: ahead_of(path, 3, [])):
        try:
            run()
        except Faults as faults:
            assert all("g.yaml" in line for line in str(faults).splitlines())


def fields() -> list[tuple[tuple[str | int, ...], float, str]]:
    """Every measured field of the file, at its lowest and its highest."""
    places: list[tuple[tuple[str | int, ...], Any]] = [((key,), model) for key, model in sections().items()]
    places += [(("tanks", 0), Tank), *(((name, 0), GrowingFile.model_fields[name].annotation.__args__[0])  # type: ignore[union-attr]
                                       for name in ("beds", "pipes"))]
    crop: Any = GrowingFile.model_fields["crops"].annotation
    places += [(("beds", 2), places[-2][1]), (("crops", "lettuce"), crop.__args__[1])]
    return [
        ((*place, key), bound, measure.unit) for place, model in places for key, measure, _ in measured_fields(model)
        for bound in (measure.low, measure.high)
    ]  # fmt: skip


@pytest.mark.parametrize(("place", "bound", "unit"), fields(), ids=lambda value: str(value))
def test_a_value_at_the_edge_never_ends_in_a_traceback(
    tmp_path: Path, place: tuple[str | int, ...], bound: float, unit: str
) -> None:
    """Each field alone at its lowest and highest that is read: findings, or lines that name the file."""
    both(edited(tmp_path, (place, f"{bound:g} {unit}" if unit else bound)))


@pytest.mark.parametrize(("name", "high"), [(name, high) for name in ASSUMED for high in (False, True)])
def test_an_own_value_at_the_edge_never_ends_in_a_traceback(tmp_path: Path, name: str, high: bool) -> None:
    """Each assumed value at its lowest and highest that is read."""
    measure = ASSUMED[name].measure
    bound = measure.high if high else measure.low
    both(edited(tmp_path, (("measured",), {name: f"{bound:g} {measure.unit}" if measure.unit else bound})))


@pytest.mark.parametrize("section", [key for key in RAW if key not in ("name", "note", "measured")])
def test_a_file_without_a_section_says_what_is_not_known(tmp_path: Path, section: str) -> None:
    """No part of the file is needed for the check; what leans on it is named as missing."""
    both(edited(tmp_path, ((section,), None)))


@pytest.mark.parametrize(("changes", "says"), [
    ([(("beds", 0, "level_fall"), "500 mm")], r"beds\.0: level_fall: the water cannot fall 500 mm where it is 300 mm"),
    ([(("water", "to_drain"), "900 L/day")], r"water: to_drain: 900 L/day cannot leave where 140 L/day come in"),
    ([(("clarifier", "flow"), "600 L/min")], r"clarifier\.flow: 600 L/min cannot pass .* moves 60 L/min"),
    ([(("tanks", 0, "volume"), "9000 L")], r"volume: 9000 L cannot be; the measures hold 1414 L"),
    ([(("tanks", 0, "length"), "2 m")], r"a tank is round or has corners"),
    ([(("fish", "species"), "tilapa")], r"'tilapa' is not known here\. Did you mean .*nile tilapia"),
    ([(("beds", 0, "crop"), "letuce")], r"'letuce' is no crop that is known here\. Did you mean lettuce\?"),
    ([(("pump", "flow"), "-5 L/min")], r"-5 L/min is out of range"),
    ([(("pump", "flow"), "5 kg")], r"kg does not measure the same as L/min"),
    ([(("pump", "flow"), 5)], r"5 has no unit"),
])  # fmt: skip
def test_numbers_that_cannot_be_together_are_refused(tmp_path: Path, changes: list[Any], says: str) -> None:
    """One line each, with the field and what to do."""
    with pytest.raises(Faults, match=says):
        read_growing(edited(tmp_path, *changes))


def test_fish_that_eat_less_than_they_hold_end_in_one_line(tmp_path: Path) -> None:
    """Half a kilogram of feed with 30 % protein does not make a kilogram of fish with 16 %."""
    with pytest.raises(Faults, match=r"g\.yaml: .*conversion_ratio: the fish would hold all that the feed brings"):
        ahead_of(edited(tmp_path, (("fish", "conversion_ratio"), 0.5), (("feed", "protein"), "30 %")), 3, [])


@pytest.mark.parametrize(("changes", "key"), [
    ([(("sump", "area"), "0.2 m^2")], "drain_down"), ([(("sump", "volume"), "100 L")], "reserve"),
    ([(("fish", "number"), 900)], "density"), ([(("water", "oxygen"), "3 mg/L")], "oxygen"),
    ([(("water", "nitrite"), "2 mg/L")], "nitrite"), ([(("water", "ammonia"), "12 mg/L")], "ammonia"),
])  # fmt: skip
def test_what_harms_is_a_finding_with_a_caution(tmp_path: Path, changes: list[Any], key: str) -> None:
    """A sump too small, fish too close, water too poor: to be mended, with a caution."""
    found = next(one for one in check(read_growing(edited(tmp_path, *changes))) if one.key == key)
    assert found.standing == "mend"
    assert found.caution


@pytest.mark.parametrize(("changes", "told"), [
    ([(("sludge",), None)], "no sludge tank"), ([(("fine",), None)], "no tank for fine solids"),
    ([(("water", "wished_alkalinity"), None)], "no wished alkalinity"), ([(("water", "new_water"), None)], "no meter"),
    ([(("sludge", "settled"), None)], "no share that settles"),
    ([(("sludge", "goes_to"), None)], "no way for the sludge"),
    ([(("beds", 0, "crop"), None)], "raft A: no crop"),
    ([(("crops", "lettuce", "weeks_in_bed"), None)], "raft A: no time"),
    ([(("tanks", 0), {"name": "a", "volume": "1400 L"})], "a: no measures"),
])  # fmt: skip
def test_a_gap_that_the_look_ahead_bridges_is_listed(tmp_path: Path, changes: list[Any], told: str) -> None:
    """Nothing is filled in silently: the list of what was assumed says how each gap was bridged."""
    notes = ahead_of(edited(tmp_path, *changes), 3, []).reckoning.notes
    assert any(note.startswith(told) for note in notes), notes
    assert not any(note.startswith(told) for note in ahead_of(DEMO, 3, []).reckoning.notes)
