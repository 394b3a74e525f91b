"""One student's sheet: verdicts, marks, and answers that follow from the student's own earlier ones."""

import pytest

from classroom import KEYS, exercises, issued_to, key_answers
from waterleaf.bank.models import Marks
from waterleaf.exercise import PosedPart
from waterleaf.marking.partmarks import Reader
from waterleaf.marking.scheme import earned
from waterleaf.marking.sheetmarks import Outcome, mark_sheet
from waterleaf.working.units import written

ISSUED = issued_to(1)
EXERCISES = exercises(ISSUED)
KEY = key_answers(ISSUED)
FEED, MEAL = EXERCISES[0].parts


def marked(reader: Reader | None = None, **answers: str) -> dict[str, Outcome]:
    """Outcomes by label, where every answer but these is right; labels are written p1a, p1b."""
    own = KEY | {label.removeprefix("p"): text for label, text in answers.items()}
    return {outcome.label: outcome for outcome in mark_sheet(EXERCISES, own, reader or Reader())}


def test_the_printed_keys_earn_full_marks() -> None:
    """Numbers, a timetable and a choice, all as the key prints them."""
    outcomes = marked().values()
    assert [outcome.kind for outcome in outcomes] == ["right"] * 9
    assert sum(outcome.marks or 0 for outcome in outcomes) == sum(exercise.marks for exercise in EXERCISES)


def test_a_blank_is_told_apart_from_a_wrong_answer() -> None:
    """Both earn nothing."""
    found = marked(p1a="", p1b="7")
    assert (found["1a"].kind, found["1a"].marks) == ("blank", 0)
    assert (found["1b"].kind, found["1b"].marks) == ("wrong", 0)


def test_a_slip_is_named() -> None:
    """The wrong turn of the family comes with the verdict."""
    week = next(slip for slip in FEED.slips if "week" in slip.turn)
    found = marked(p1a=week.text)["1a"]
    assert (found.kind, found.turn) == ("slip", week.turn)


def test_what_follows_from_an_own_answer_earns_full_marks() -> None:
    """A wrong feed divided rightly by the meals is a right ration."""
    meals = EXERCISES[0].keys["meals"]
    found = marked(p1a="5000 g/day", p1b=f"{5000 / meals:.4g}")
    assert found["1a"].marks == 0
    assert (found["1b"].kind, found["1b"].follows, found["1b"].marks) == ("right", ("1a",), MEAL.marks.total)
    assert found["1b"].words == "right, from your own 1a"


def test_an_own_answer_in_another_unit_is_followed() -> None:
    """The student's kilograms are carried on as grams."""
    meals = EXERCISES[0].keys["meals"]
    assert marked(p1a="5 kg/day", p1b=f"{5 / meals:.4g} kg/meal")["1b"].follows == ("1a",)


def test_a_slip_made_from_an_own_answer_is_named() -> None:
    """Multiplying one's own wrong feed by the meals is still the known wrong turn."""
    meals = EXERCISES[0].keys["meals"]
    found = marked(p1a="5000", p1b=f"{5000 * meals:.5g}")["1b"]
    assert found.kind == "slip"
    assert "multiplied" in found.turn


def test_the_key_itself_stays_right_after_a_wrong_answer() -> None:
    """Who finds the right ration by another way is not punished for the feed."""
    found = marked(p1a="5000")["1b"]
    assert (found.kind, found.follows) == ("right", ())


def test_a_timetable_follows_from_an_own_interval() -> None:
    """Times counted on from the student's own interval, over midnight too."""
    interval, times = EXERCISES[1].parts
    first = times.key[0]
    own = 3.0 if abs(interval.key - 3) > 0.5 else 4.0
    hours = [first + own * place for place in range(len(times.key))]
    clock = [f"{int(h) % 24:02d}:{round(h % 1 * 60):02d}" for h in hours]
    found = marked(p2a=f"{own:g} h", p2b=", ".join(clock))["2b"]
    assert (found.kind, found.follows) == ("right", ("2a",))


def test_times_may_be_separated_by_spaces_or_semicolons() -> None:
    """How the list is written does not matter."""
    times = KEY["2b"].split(", ")
    for joined in (" ".join(times), "; ".join(times), ",".join(times)):
        assert marked(p2b=joined)["2b"].kind == "right", joined


def test_an_impossible_earlier_answer_leads_nowhere() -> None:
    """No relation can go on from less than nothing; the later answer is simply wrong."""
    found = marked(p1a="-5 g/day", p1b="-2 g/meal")
    assert found["1b"].kind == "wrong"


@pytest.mark.parametrize("text", ["12 or 13", "about right", "?", "1440 flurbs", "=cmd", "see back"])
def test_what_cannot_be_read_waits_for_a_person(text: str) -> None:
    """Marks stay open and the reason is given; an answer that rests on it waits as well."""
    found = marked(p1a=text, p1b="7")
    assert (found["1a"].kind, found["1a"].marks) == ("doubtful", None)
    assert found["1a"].doubt
    assert (found["1b"].marks, found["1b"].doubt) == (None, "rests on 1a, which is in doubt")


def test_a_comma_that_could_be_read_two_ways_waits_for_a_person() -> None:
    """Where one way is right and the other is not, nobody loses marks to a guess."""
    issued = issued_to(12)
    place = next(place for place in range(12) if len(key_answers(issued, place)["1a"]) == 4)
    own, key = exercises(issued, place), key_answers(issued, place)
    thousands = f"{key['1a'][0]}.{key['1a'][1:]}"  # 1.437 for 1437
    point, comma = (mark_sheet(own, key | {"1a": thousands}, Reader(decimal))[0] for decimal in ("point", "comma"))
    assert (point.kind, point.doubt) == ("doubtful", "right if its comma or point is read otherwise")
    assert comma.kind == "right"


def shown(part: PosedPart) -> str:
    """The key with its unit, typed plainly."""
    return f"{part.key_text} {written(part.unit)}"


def test_a_unit_counts_where_the_student_was_asked_for_it() -> None:
    """Beside a box that prints the unit a bare number is complete; else it loses the marks for the unit."""
    assert marked(p1a=FEED.key_text)["1a"].marks == FEED.marks.total
    asked = Reader(ask_unit=True)
    bare, full, wrong = (
        marked(asked, p1a=text)["1a"] for text in (FEED.key_text, shown(FEED), f"{FEED.key_text} kg/day")
    )
    assert (bare.kind, full.kind, wrong.kind) == ("right_no_unit", "right", "wrong_unit")
    assert (bare.marks, wrong.marks) == (FEED.marks.total - FEED.marks.unit,) * 2
    assert full.marks == FEED.marks.total


@pytest.mark.parametrize(
    ("kind", "missing", "expected"),
    [("right", False, 6), ("right_no_unit", True, 5), ("wrong_unit", False, 5), ("coarse", False, 5),
     ("coarse", True, 4), ("slip", False, 1), ("wrong", False, 0), ("other_dimension", False, 0), ("blank", False, 0)],
)
def test_the_scheme_gives_what_the_guide_says(kind: str, missing: bool, expected: int) -> None:
    """Three marks for the method, two for the result, one for the unit."""
    assert earned(kind, Marks(method=3, result=2, unit=1), unit_missing=missing) == expected


def test_customary_sheets_are_followed_through_in_their_own_units() -> None:
    """Pounds are carried on as pounds."""
    issued = issued_to(1, units="us", questions=[{"family": KEYS[0]}])
    own = exercises(issued)
    meals = own[0].keys["meals"]
    outcomes = mark_sheet(own, {"1a": "9 lb/day", "1b": f"{9 / meals:.4g}"}, Reader())
    assert [(o.kind, o.follows) for o in outcomes][1] == ("right", ("1a",))
