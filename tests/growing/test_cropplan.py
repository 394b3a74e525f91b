"""Which crops earn the space: the best plan, what binds, what one more is worth, and what cannot be."""

import json
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from waterleaf.commands.growing import choose_crops
from waterleaf.faults import Faults
from waterleaf.growing.cropplan import CropPlan, choose
from waterleaf.growing.cropplan_words import text, worth_line
from waterleaf.growing.system import System, read_growing

DEMO = Path(__file__).parents[2] / "course" / "demo" / "growing.yaml"


def crop(margin: float, labour: float, light: float = 10, **more: Any) -> dict[str, Any]:
    """A crop of four weeks that leaves a margin a square metre and week."""
    return {
        "kind": "leafy", "weeks_in_bed": "4 weeks", "density": "10 plants/m^2", "loss": "0 %",
        "price": f"{0.4 * margin + 1} dollar/head", "cost": "1 dollar/head", "labour": f"{labour} hour/m^2/week",
        "light": f"{light} mol/m^2/day", **more,
    }  # fmt: skip


def system(tmp_path: Path, crops: dict[str, Any], beds: list[float], labour: float, lamps: float = 0) -> System:
    """A small system with some beds, some hours, and sun for 10 mol."""
    path = tmp_path / "plan.yaml"
    path.write_text(yaml.safe_dump({
        "name": "Plan", "crops": crops,
        "beds": [{"name": f"bed {i}", "kind": "raft", "area": f"{area} m^2"} for i, area in enumerate(beds)],
        "season": {"labour": f"{labour} hour/week", "sun": "10 mol/m^2/day", "lamp_light": f"{lamps} mol/day"},
    }), encoding="utf-8")  # fmt: skip
    return read_growing(path)


def plan(tmp_path: Path, *args: Any, **more: Any) -> CropPlan:
    """The plan of such a system."""
    return choose(system(tmp_path, *args, **more))


TWO = {"herb": crop(6, 0.5), "leaf": crop(4, 0.25)}


def test_the_best_plan_of_two_crops_agrees_with_sums_by_hand(tmp_path: Path) -> None:
    """100 m2 and 30 h: 20 m2 of the herb and 80 of the leaf earn 440; a square metre is worth 2, an hour 8."""
    found = plan(tmp_path, TWO, [60, 40], 30)
    assert found.areas == pytest.approx((20, 80))
    assert found.margin == pytest.approx(440)
    assert [worth.more for worth in found.worths][:2] == pytest.approx([2, 8], abs=1e-5)
    assert [worth.binds for worth in found.worths][:2] == [True, True]


def test_a_shadow_price_holds_as_far_as_it_says(tmp_path: Path) -> None:
    """20 m2 more and all hours go to the leaf; beyond that a square metre brings nothing."""
    found = plan(tmp_path, TWO, [60, 40], 30)
    assert found.worths[0].holds == pytest.approx(20, abs=1e-3)
    assert found.worths[1].holds == pytest.approx(20, abs=1e-3)


def test_what_is_left_over_is_worth_nothing_more(tmp_path: Path) -> None:
    """With hours to spare, an hour more brings nothing, and the sentence says so."""
    found = plan(tmp_path, TWO, [100], 90)
    assert found.worths[1].more == 0
    assert "does not bind" in worth_line(found.worths[1])


def test_lamp_light_holds_back_a_crop_that_the_sun_does_not_feed(tmp_path: Path) -> None:
    """It needs 5 mol more than the sun gives, and lamps give 50 in all: ten square metres."""
    found = plan(tmp_path, {"vine": crop(9, 0.1, 15), "leaf": crop(1, 0.1)}, [40], 90, 50)
    assert {one.name: area for one, area in zip(found.candidates, found.areas, strict=True)} == pytest.approx(
        {"vine": 10, "leaf": 30}
    )


def test_whole_beds_cost_what_the_sentence_says(tmp_path: Path) -> None:
    """Beds of 60 and 40 m2: the leaf on both earns 400, 40 less than the plan in parts."""
    found = plan(tmp_path, TWO, [60, 40], 30)
    assert found.beds == (("bed 0", 60.0, "leaf"), ("bed 1", 40.0, "leaf"))
    assert found.margin - found.whole_margin == pytest.approx(40)


def test_crops_that_earn_alike_are_told_as_a_tie(tmp_path: Path) -> None:
    """Two crops with equal margins and needs may change places."""
    found = plan(tmp_path, {"one": crop(4, 0.2), "two": crop(4, 0.2)}, [10], 90)
    assert {name for name, _, _ in found.ties} == {"one", "two"}


def test_where_limits_meet_more_and_less_are_told_apart(tmp_path: Path) -> None:
    """Hours that just fit the bed: one more hour brings nothing, one less costs the margin of its leaf."""
    found = plan(tmp_path, {"leaf": crop(4, 0.25)}, [100], 25)
    hours = found.worths[1]
    assert (hours.more, hours.less) == pytest.approx((0, 16), abs=1e-3)
    assert "One less would cost $16.00" in worth_line(hours)


def test_a_crop_that_costs_more_than_it_brings_gets_no_space(tmp_path: Path) -> None:
    """The bed stays empty rather than lose money."""
    made = system(tmp_path, {"dud": crop(-1, 0.1)}, [10], 9)
    found = choose(made)
    assert found.areas == (0.0,)
    assert "costs more than it brings" in text(made, found)


def test_what_is_promised_is_kept(tmp_path: Path) -> None:
    """A poor crop that was promised gets its space, and no more."""
    found = plan(tmp_path, {**TWO, "herb": crop(1, 0.5, promised_area="8 m^2")}, [100], 90)
    assert found.areas == pytest.approx((8, 92))


@pytest.mark.parametrize(("promised", "labour", "says"), [
    ("120 m^2", 90, "bed: what is promised needs 120 m²"),
    ("80 m^2", 30, "labour: what is promised needs 40 hours a week"),
])  # fmt: skip
def test_promises_that_do_not_fit_are_told_plainly(tmp_path: Path, promised: str, labour: float, says: str) -> None:
    """There is no plan, and the limit that breaks is named."""
    system(tmp_path, {**TWO, "herb": crop(6, 0.5, promised_area=promised)}, [100], labour)
    told, planned = choose_crops(tmp_path / "plan.yaml", "", False)
    assert not planned
    assert says in told


def test_a_promise_that_whole_beds_cannot_keep_is_told(tmp_path: Path) -> None:
    """Half a bed is promised of two crops, and there is one bed."""
    crops = {"one": crop(4, 0.1, promised_area="5 m^2"), "two": crop(5, 0.1, promised_area="5 m^2")}
    made = system(tmp_path, crops, [10], 90)
    found = choose(made)
    assert found.beds is None
    assert "In whole beds, what is promised cannot be met" in text(made, found)


def test_a_crop_without_its_needs_is_left_out_with_the_reason(tmp_path: Path) -> None:
    """Nothing is guessed."""
    bare = {key: value for key, value in crop(4, 0.2).items() if key != "labour"}
    found = plan(tmp_path, {**TWO, "odd": bare}, [10], 9)
    assert found.left_out == ("odd: missing crops.odd.labour",)


def test_a_file_without_a_season_says_what_it_lacks(tmp_path: Path) -> None:
    """One line names the three values."""
    path = tmp_path / "plan.yaml"
    path.write_text("name: P\nbeds:\n  - {name: a, kind: raft, area: 4 m^2}\n", encoding="utf-8")
    with pytest.raises(Faults, match=r"season\.labour; season\.sun; season\.lamp_light"):
        choose(read_growing(path))


@pytest.mark.parametrize("bad", ["-3 hour/week", "3 kg", "0 hour/week"])
def test_impossible_hours_are_refused_with_their_line(tmp_path: Path, bad: str) -> None:
    """File, line, field, what is accepted."""
    path = tmp_path / "plan.yaml"
    path.write_text(f"name: P\nseason:\n  labour: {bad}\n", encoding="utf-8")
    with pytest.raises(Faults, match=r"plan\.yaml:3: season\.labour: "):
        read_growing(path)


def test_an_unknown_kind_of_bed_is_refused() -> None:
    """The kinds that there are stand in the line."""
    with pytest.raises(Faults, match=r"--beds: roof is no kind of bed\. Give raft, media, film, soil"):
        choose_crops(DEMO, "roof", False)


def test_a_program_gets_the_same_plan() -> None:
    """Areas add up to no more than the beds, and the sentences come along."""
    found = json.loads(choose_crops(DEMO, "", True)[0])
    assert sum(one["area"] for one in found["crops"]) <= found["limits"][0]["available"] + 1e-6
    assert "shadow price" in found["limits"][0]["told"] + found["limits"][1]["told"] + found["limits"][2]["told"]


@given(
    st.lists(st.tuples(st.floats(0.5, 20), st.floats(0.05, 1)), min_size=1, max_size=3),
    st.floats(5, 100), st.floats(1, 60),
)
@settings(max_examples=5, deadline=None)
def test_the_plan_is_never_worse_than_a_single_crop(
    tmp_path_factory: pytest.TempPathFactory, crops: list[tuple[float, float]], area: float, labour: float
) -> None:
    """Filling the beds with one crop, as far as the hours go, earns at most as much; whole beds earn no more."""
    folder = tmp_path_factory.mktemp("plans")
    entries = {f"crop {i}": crop(round(m, 3), round(h, 3)) for i, (m, h) in enumerate(crops)}
    found = plan(folder, entries, [round(area, 2)], round(labour, 2))
    for one in found.candidates:
        alone = one.margin * min(round(area, 2), round(labour, 2) / one.labour)
        assert found.margin >= alone - 1e-6
    assert found.whole_margin <= found.margin + 1e-6
