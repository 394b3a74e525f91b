"""The findings on a growing system: right numbers, honest gaps, and what hurts first on top."""

import json
import re
from html import unescape
from pathlib import Path
from typing import Any, Literal

import pikepdf
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from on_paper import plain, text_of
from waterleaf.commands.growing import check_system, start
from waterleaf.faults import Faults
from waterleaf.growing import report
from waterleaf.growing.check import assumptions, check
from waterleaf.growing.finding import ORDER, Band, Finding
from waterleaf.growing.system import System, read_growing
from waterleaf.sheets.findings import findings_sheet
from waterleaf.sheets.paper import Style
from waterleaf.sheets.press import Press
from waterleaf.working.units import convert

SAMPLE = Path(__file__).parents[2] / "course" / "demo" / "growing.yaml"


def sample() -> dict[str, Any]:
    """The sample as plain data."""
    found: dict[str, Any] = yaml.safe_load(SAMPLE.read_text(encoding="utf-8"))
    return found


def changed(tmp_path: Path, **values: Any) -> System:
    """The sample with some fields changed: section__field=value, or section=value; None takes it away."""
    data = sample()
    for name, value in values.items():
        section, _, field = name.partition("__")
        if not field:
            data = {key: kept for key, kept in {**data, section: value}.items() if kept is not None}
        elif value is None:
            data[section].pop(field, None)
        else:
            data[section][field] = value
    path = tmp_path / "changed.yaml"
    path.write_text(yaml.safe_dump(data, sort_keys=False), encoding="utf-8")
    return read_growing(path)


def of(system: System, key: str) -> Finding:
    """One finding."""
    return next(one for one in check(system) if one.key == key)


def test_the_findings_of_the_sample_agree_with_sums_by_hand() -> None:
    """Figures worked out apart from the kit, from the numbers in the file."""
    system = read_growing(SAMPLE)
    tanks = 2 * 3.141592653589793 / 4 * 1.5**2 * 0.8  # cubic metres
    area = 10 + 64 * 0.3048**2 + 4
    by_hand = {
        "feed_ratio": 800 / area,
        "ration": 100 * 0.8 / (320 * 0.150),
        "meals": 800 / 3,
        "density": 320 * 0.150 / tanks,
        "turnover": tanks * 1000 / 60 / 60,
        "overflow": 38 * 1.44 / (3.141592653589793 / 4 * (3.6 * 0.3048) ** 2),
        "flush": 16 / (800 * 0.25 * 0.78 / 12),
        "drain_down": 1.2 * 340 - (10 + 64 * 0.3048**2) * 18 - 4 * 60 * 0.4
        - 3.141592653589793 / 4 * (0.04**2 * 14 + 0.05**2 * 22) * 1000,
        "heat": 15000 / (3.4 * 190 * 19 + 0.335 * 260 * 19),
        "margin_lettuce": (25 * 0.92 * 2.40 - 25 * 0.85) / 5,
        "margin_cucumber": (18 * 0.93 * 4.20 - 26) / 14,
    }
    found = {one.key: one.value for one in check(system)}
    for key, value in by_hand.items():
        assert found[key] == pytest.approx(value, rel=2e-4), key


def test_what_must_be_mended_stands_before_what_is_fine() -> None:
    """Within each standing, what can hurt people comes before fish, crops and money."""
    ranks = [(ORDER.index(one.standing), one.harms) for one in check(read_growing(SAMPLE))]
    assert ranks == sorted(ranks)


def test_a_sump_too_small_must_be_mended_and_says_what_can_happen(tmp_path: Path) -> None:
    """The caution comes with the finding; a larger sump takes it away."""
    small, large = of(changed(tmp_path), "drain_down"), of(changed(tmp_path, sump__freeboard="60 cm"), "drain_down")
    assert (small.standing, large.standing) == ("mend", "fine")
    assert "Unplug" in small.caution
    assert not large.caution


def test_fish_above_the_welfare_density_must_be_mended(tmp_path: Path) -> None:
    """Twice the fish in the same tanks is a finding with a caution, never a refusal."""
    crowded = of(changed(tmp_path, fish__number=640), "density")
    assert crowded.standing == "mend"
    assert "alarm" in crowded.caution


@pytest.mark.parametrize(
    ("key", "values", "standing"),
    [
        ("oxygen", {"water__oxygen": "3.5 mg/L"}, "mend"),
        ("ammonia", {"water__ph": 8.6, "water__ammonia": "3 mg/L"}, "mend"),
        ("ration", {"feed__daily": "2.4 kg/day"}, "mend"),
        ("flush", {"flush__times": 1}, "mend"),
        ("retention", {"clarifier__flow": "80 L/min", "pump__flow": "80 L/min"}, "mend"),
        ("batch_tank", {"sludge__tank_volume": "100 L"}, "mend"),
        ("heat", {"house__heater": "10 kW"}, "mend"),
        ("aeration", {"aeration__standard_rate": "0.02 kg/hour"}, "mend"),
        ("leaves", {"water__to_drain": "40 L/day"}, "look"),
        ("leaves", {"sludge__goes_to": ["sewer"]}, "look"),
        ("rotation", {"sludge__tanks": 2}, "fine"),
        ("warmth", {"water__temperature": "27 C"}, "fine"),
        ("margin_lettuce", {"crops__lettuce": {"density": "25 plants/m^2", "weeks_in_bed": "5 weeks", "loss": "8 %",
                            "price": "0.50 dollar/head", "cost": "0.85 dollar/head"}}, "look"),
    ],
)
def test_a_finding_stands_where_its_numbers_put_it(
    tmp_path: Path, key: str, values: dict[str, Any], standing: str
) -> None:
    """Each finding can come out other than it does for the sample."""
    assert of(changed(tmp_path, **values), key).standing == standing


def test_zero_discharge_is_called_true_only_where_nothing_leaves(tmp_path: Path) -> None:
    """Either water to a drain or sludge to a sewer makes the claim false."""
    assert "is true here" in of(changed(tmp_path), "leaves").say
    assert "not true" in of(changed(tmp_path, water__to_drain="1 L/day"), "leaves").say
    assert "not true" in of(changed(tmp_path, sludge__goes_to=["compost", "carted"]), "leaves").say


def test_a_missing_value_makes_a_gap_and_not_a_guess(tmp_path: Path) -> None:
    """Without the feed, every finding that needs it says so."""
    found = check(changed(tmp_path, feed__daily=None))
    gaps = {one.key for one in found if one.standing == "missing"}
    assert {"feed_ratio", "ration", "meals", "flush", "aeration", "filter", "alkalinity", "nitrogen"} <= gaps
    assert all("feed.daily" in one.missing for one in found if one.key in ("feed_ratio", "ration"))
    assert all(one.value is None for one in found if one.standing == "missing")


def test_the_flush_that_is_needed_is_told_even_where_none_is_given(tmp_path: Path) -> None:
    """The need follows from the feed alone."""
    assert "Needed are 13\u00a0L (3.43\u00a0gal) a day" in of(changed(tmp_path, flush=None), "flush").say


def test_each_assumed_value_is_listed_until_it_is_given(tmp_path: Path) -> None:
    """Nothing is assumed in silence."""
    before = assumptions(check(changed(tmp_path)))
    after = assumptions(check(changed(tmp_path, measured={"solids.share": "28 %"})))
    assert any("(solids.share)" in note for note in before)
    assert not any("(solids.share)" in note for note in after)
    assert len(after) == len(before)  # solids.sludge, given in the sample, is assumed in the changed one


def test_every_figure_comes_with_a_relation_or_is_a_reading() -> None:
    """A number without working could not be checked by a class."""
    for one in check(read_growing(SAMPLE)):
        assert one.workings or one.key == "warmth", one.key
        assert one.band_source, one.key


def _fields(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    if isinstance(data, dict):
        return [(*path, key) for key in data] + [p for key, value in data.items() for p in _fields(value, (*path, key))]
    if isinstance(data, list):
        return [(*path, i) for i in range(len(data))] + [
            p for i, value in enumerate(data) for p in _fields(value, (*path, i))
        ]
    return []


@given(st.sets(st.sampled_from([path for path in _fields(sample()) if path != ("name",)]), max_size=25))
def test_any_fields_may_be_missing(tmp_path_factory: pytest.TempPathFactory, gone: set[tuple[Any, ...]]) -> None:
    """Whatever is left out, the answer is findings or one-line faults."""
    data = sample()
    for path in sorted(gone, key=str, reverse=True):
        place: Any = data
        try:
            for step in path[:-1]:
                place = place[step]
            del place[path[-1]]
        except (KeyError, IndexError):
            continue
    file = tmp_path_factory.mktemp("gone") / "g.yaml"
    file.write_text(yaml.safe_dump(data, sort_keys=False), encoding="utf-8")
    try:
        system = read_growing(file)
    except Faults as faults:
        assert all("\n" not in str(fault) for fault in faults.faults)
        return
    assert report.text(system, check(system))


@given(st.data())
def test_any_amounts_in_their_ranges_end_in_findings(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    """Silly numbers are findings, never a crash."""
    raw = sample()
    amounts = {"flow": ("L/min", 0.1, 5e4), "daily": ("g/day", 0.5, 1e6), "freeboard": ("mm", 0, 5000),
               "new_water": ("L/day", 0, 1e6), "ammonia": ("mg/L", 0, 1000), "heater": ("W", 0.5, 1e6),
               "alkalinity": ("mg/L", 0, 1000), "wished_alkalinity": ("mg/L", 0, 1000), "outside": ("degC", -60, 60),
               "number": ("", 1, 1e6), "level_fall": ("mm", 0, 5000), "fill_days": ("day", 0.25, 400)}
    for section in [*raw.values(), *raw["beds"]]:
        for field in section if isinstance(section, dict) else ():
            if field in amounts:
                unit, low, high = amounts[field]
                number = data.draw(st.one_of(st.just(low), st.just(high), st.floats(low, high)))
                section[field] = round(number) or 1 if not unit else f"{number:.6g} {unit}"
    file = tmp_path_factory.mktemp("silly") / "g.yaml"
    file.write_text(yaml.safe_dump(raw, sort_keys=False), encoding="utf-8")
    try:
        system = read_growing(file)
    except Faults as faults:  # amounts that cannot be together, such as more through a tank than the pump moves
        assert all(str(fault).startswith(str(file)) for fault in faults.faults)
        return
    assert check(system)


def test_a_band_tells_fine_from_look_from_mend() -> None:
    """Its ends belong to it."""
    band = Band(10, 20, "x", 5, 40)
    assert [band.stands(v) for v in (4, 5, 9.9, 10, 20, 21, 40, 41)] == [
        "mend", "look", "look", "fine", "fine", "look", "look", "mend"
    ]


def test_the_sheet_comes_as_text_data_page_and_print(tmp_path: Path) -> None:
    """Four forms of the same findings; the page asks for nothing from outside."""
    html, pdf = tmp_path / "f.html", tmp_path / "f.pdf"
    text, sound = check_system(SAMPLE, html, pdf, as_json=False)
    data = json.loads(check_system(SAMPLE, None, None, as_json=True)[0])
    page = html.read_text(encoding="utf-8")
    assert not sound
    for one in data["findings"]:
        assert one["title"] in text
        assert one["title"] in page
    assert "default-src 'none'" in page
    assert "://" not in page.replace("http://www.w3.org", "")
    with pikepdf.open(pdf) as printed:
        assert len(printed.pages) >= 2
        assert printed.Root.MarkInfo.Marked


def test_a_school_that_writes_markup_sees_it_as_text(tmp_path: Path) -> None:
    """The name of a system is never read as HTML."""
    path = tmp_path / "m.yaml"
    path.write_text('name: "<script>x</script> & co"\n', encoding="utf-8")
    system = read_growing(path)
    assert "<script>" not in report.html(system, check(system))


def test_a_started_file_is_read_as_it_lies(tmp_path: Path) -> None:
    """The commented file is valid; with its comments taken away it is a whole system."""
    path = tmp_path / "mine.yaml"
    assert "growing check" in start(path)
    assert all(one.standing == "missing" for one in check(read_growing(path)))
    text = path.read_text(encoding="utf-8").split("name: Our growing system\n")[1]
    opened = "\n".join(line.removeprefix("# ") for line in text.splitlines())
    path.write_text("name: x\n" + opened + "\n", encoding="utf-8")
    assert not [one for one in check(read_growing(path)) if one.standing == "missing"]
    with pytest.raises(Faults, match="exists already"):
        start(path)


def test_a_result_is_carried_on_in_the_next_relations_unit() -> None:
    """Solids in grams and kilograms must not be mixed up on the way."""
    flush = of(read_growing(SAMPLE), "flush")
    solids = next(w for w in flush.workings if w.relation.name == "captured_solids")
    used = dict(next(w for w in flush.workings if w.relation.name == "flush_volume").given)["dry_solids"]
    assert convert(float(solids.value), solids.relation.result.unit, used.quantity.unit) == pytest.approx(used.value)


def test_a_figure_stands_in_both_systems_of_units() -> None:
    """Litres with gallons, degrees with degrees, and nothing added where both say the same."""
    shown = {one.key: one.shown.replace("\u00a0", " ") for one in check(read_growing(SAMPLE))}
    assert shown["drain_down"] == "444 L (117 gal) come down, room for 408 L (108 gal)"
    assert shown["density"] == "17 kg/m³ (0.142 lb/gal)"
    assert shown["warmth"] == "24 °C (75.2 °F)"
    assert "(" not in shown["oxygen"] and "(" not in shown["leaves"]


def test_an_accepted_band_stands_in_both_systems_of_units() -> None:
    """As the figure does that is held against it; bands that both systems write alike have no brackets."""
    bands = {one.key: one.band.replace("\u00a0", " ") for one in check(read_growing(SAMPLE))}
    assert bands["warmth"] == "25 to 31 °C (77 to 87.8 °F)"
    assert bands["density"] == "at most 20 kg/m³ (0.167 lb/gal)"
    assert bands["drain_down"] == "at least 40.8 L (10.8 gal)"
    assert "(" not in bands["oxygen"]


def test_a_dose_of_base_stands_in_both_systems_of_units_with_its_caution() -> None:
    """By hand: 152.4 g are 0.336 lb, and 100.7 g are 0.222 lb."""
    found = of(read_growing(SAMPLE), "alkalinity")
    said = found.say.replace("\u00a0", " ")
    assert "152 g/day (0.336 lb/day) of potassium hydroxide and 101 g/day (0.222 lb/day) of calcium" in said
    assert "Strong bases burn" in found.caution


def test_no_number_of_a_finding_is_parted_from_its_unit() -> None:
    """A line never ends between the two, on any page."""
    parted = re.compile(r"\d (?:L|g|kW|mg|%|days?|gal|lb|Btu)(?![a-z])")
    for one in check(read_growing(SAMPLE)):
        assert not parted.search(f"{one.shown} {one.band}"), one.key


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_what_to_do_stands_on_the_first_page_with_its_cautions(tmp_path: Path, paper: Literal["a4", "letter"]) -> None:
    """All that is urgent is read at one glance; what explains it begins on the next page."""
    system = read_growing(SAMPLE)
    findings = check(system)
    pdf = tmp_path / "f.pdf"
    pdf.write_bytes(Press("findings").pdf(findings_sheet(system, findings, Style(paper=paper))))
    first = " ".join(text_of(pdf).split("\f")[0].split())
    urgent = [one for one in findings if one.standing in ("mend", "look")]
    assert urgent
    for one in urgent:
        assert plain(one.say[-30:]) in first
        assert plain(one.caution[-30:]) in first
    assert "How each figure comes about" not in first


def test_a_caution_stands_beside_its_finding_in_every_form(tmp_path: Path) -> None:
    """Terminal, page, data and print alike."""
    pdf = tmp_path / "f.pdf"
    system = read_growing(SAMPLE)
    findings = check(system)
    pdf.write_bytes(Press("findings").pdf(findings_sheet(system, findings, Style())))
    forms = [
        report.text(system, findings),
        unescape(report.html(system, findings)),
        report.data(system, findings),
        text_of(pdf),
    ]
    cautions = [one.caution for one in findings if one.caution]
    assert cautions
    for caution in cautions:
        for form in forms:
            assert " ".join(caution.split()) in " ".join(form.split())


def test_what_scrolls_sideways_can_be_reached_by_keys_and_fractions_are_full_size() -> None:
    """Each such part of the page has a name of its own and takes the focus."""
    system = read_growing(SAMPLE)
    page = report.html(system, check(system))
    parts = re.findall(r'<div class="wide"([^>]*)>', page)
    names = [re.search(r'aria-label="([^"]+)"', part) for part in parts]
    assert len(parts) > 20
    assert all('tabindex="0"' in part for part in parts)
    assert len({name[1] for name in names if name}) == len(parts)
    assert page.count("<math ") == page.count("<math displaystyle='true'>")


def test_the_water_in_reserve_is_told_in_days() -> None:
    """By hand: four fifths of 420 L, at 140 L a day, are 2.4 days."""
    found = next(one for one in check(read_growing(SAMPLE)) if one.key == "reserve")
    assert found.standing == "fine"
    assert found.shown.replace("\u00a0", " ") == "336 L (88.8 gal) before the pump draws air, 2.4 days of new water"
