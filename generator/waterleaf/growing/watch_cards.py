"""Situations for a crew that keeps watch over a term: what happens, and three ways to act, each with its consequences.

A consequence is an event with its first and last day counted from the day of the situation, which is day 0.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from waterleaf.growing.checks_solids import SLUDGE_GAS
from waterleaf.growing.checks_water import BASES
from waterleaf.growing.term_limits import MAINS

# Event, first day, last day, amount where it has one; `{a}` stands for the size that was drawn.
Consequence = tuple[str, int, int, str]


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to act: what is done, the minutes that it takes the crew, and what comes of it."""

    text: str
    minutes: int
    consequences: tuple[Consequence, ...] = ()


@dataclass(frozen=True, slots=True)
class Situation:
    """Something that comes up, with three ways to act; `sizes` are drawn for `{a}` and `{n}` in the texts."""

    key: str
    title: str
    story: str
    choices: tuple[Choice, Choice, Choice]
    caution: str
    sizes: Mapping[str, tuple[int, ...]]


_FISH: Final = "Fish show late that they are unwell. Test before you feed, and stop feeding when a reading is bad."
_HEAT: Final = "Work in the heat with water and breaks. A trained person goes up the ladder for the shade cloth."
_LIFT: Final = "Two carry a full can, with straight backs. Wet floors are slippery. " + MAINS
_KNIFE: Final = "Clean hands, clean blade, cut away from yourself. Keep loop water off the leaves that are eaten."

SITUATIONS: Final[tuple[Situation, ...]] = (
    Situation(
        "holiday", "The long weekend",
        "School is shut for {n} days. The duty board has no names for the flush on these days. The feeder runs on its "
        "timer.",
        (
            Choice("Nobody comes. The cone can wait for {n} days.", 0, (("missed-flush", 0, -1, ""),)),
            Choice("One person comes each day and flushes.", 80),
            Choice("One person comes on the second day only.", 20,
                   (("missed-flush", 0, 0, ""), ("missed-flush", 2, -1, ""))),
        ), SLUDGE_GAS, {"n": (4, 5)},
    ),
    Situation(
        "pump", "The pump falls silent",
        "In the morning the pump hums and does not turn. The air stones still bubble. The technician is in the "
        "building until noon.",
        (
            Choice("Wait for the technician's next round, in two days.", 0, (("pump-stop", 0, 1, "24 hours"),)),
            Choice("Fetch the technician now. The pump runs again after {a} hours.", 30,
                   (("pump-stop", 0, 0, "{a} hours"),)),
            Choice("Finish the day's lessons first. The pump runs again at night, after 14 hours.", 30,
                   (("pump-stop", 0, 0, "14 hours"),)),
        ), MAINS, {"a": (2, 3, 4)},
    ),
    Situation(
        "heat", "A hot week is forecast",
        "The weather service tells of {a} °C ({f} °F) more than usual, for {n} days. The shade cloth lies "
        "folded on a shelf.",
        (
            Choice("Carry on as always.", 0, (("heat-wave", 0, -1, "{a} C"),)),
            Choice("Put the shade cloth up today. It takes half of the warming away.", 90,
                   (("heat-wave", 0, -1, "{h} C"),)),
            Choice("Leave the cloth. Give half of the feed while it is hot.", 10,
                   (("heat-wave", 0, -1, "{a} C"), ("short-feeding", 0, -1, "0.5"))),
        ), _HEAT, {"a": (6, 8), "n": (6, 7)},
    ),
    Situation(
        "visitors", "Visitors with full hands",
        "A school class comes to see the fish, two days running. Every child wants to throw feed.",
        (
            Choice("Let them throw as they like: {a} times the day's feed.", 0, (("over-feeding", 0, 1, "{a}"),)),
            Choice("Weigh the day's feed into small cups, one for each child.", 40),
            Choice("Let them throw, and feed nothing on the two days after.", 0,
                   (("over-feeding", 0, 1, "{a}"), ("short-feeding", 2, 3, "0"))),
        ), _FISH, {"a": (2, 3)},
    ),
    Situation(
        "hose", "The hose has split",
        "The hose that tops the loop up has split along its length. A new one comes with the post in {n} days.",
        (
            Choice("Wait for the post.", 0, (("no-top-up", 0, -1, ""),)),
            Choice("Carry the water in cans, every day, and let it stand first.", 150),
            Choice("Wait one day, then borrow the hose of the bakery.", 45, (("no-top-up", 0, 0, ""),)),
        ), _LIFT, {"n": (4, 5)},
    ),
    Situation(
        "market", "No market this week",
        "The stall that buys the crop is shut for {n} days. The oldest heads are ready now.",
        (
            Choice("Leave everything in the beds until the stall opens.", 0, (("late-harvest", 0, -1, ""),)),
            Choice("Cut on the day as planned, and sell to the canteen at the same price.", 60),
            Choice("Wait a week, then cut for the canteen.", 60, (("late-harvest", 0, 6, ""),)),
        ), _KNIFE, {"n": (10, 12)},
    ),
    Situation(
        "base", "The base has run out",
        "The trained person has used the last of the base. The next delivery comes in {n} days.",
        (
            Choice("Wait for the delivery, and feed as always.", 0, (("no-base", 0, -1, ""),)),
            Choice("Ask the chemistry store for a sealed tub. It is here in two days.", 30, (("no-base", 0, 1, ""),)),
            Choice("Wait, and give half of the feed until it comes.", 5,
                   (("no-base", 0, -1, ""), ("short-feeding", 0, -1, "0.5"))),
        ), BASES, {"n": (7, 9)},
    ),
    Situation(
        "show", "Larger fish for the show",
        "The harbour show is in {n} days, and somebody wants larger fish by then.",
        (
            Choice("Feed {b} times as much until the show.", 0, (("over-feeding", 0, -1, "{b}"),)),
            Choice("Feed as planned, and say that fish are not made in a week.", 5),
            Choice("Feed one and a quarter times as much.", 0, (("over-feeding", 0, -1, "1.25"),)),
        ), _FISH, {"n": (8, 10)},
    ),
    Situation(
        "exams", "Exam week",
        "For {n} days most of the crew has exams. Feeding is done by one person. Nobody has time to flush.",
        (
            Choice("Leave the flush until the exams are over.", 0, (("missed-flush", 0, -1, ""),)),
            Choice("Ask the year below to flush, and show them how.", 120),
            Choice("Leave the flush, and give half of the feed.", 5,
                   (("missed-flush", 0, -1, ""), ("short-feeding", 0, -1, "0.5"))),
        ), SLUDGE_GAS, {"n": (7, 9)},
    ),
    Situation(
        "works", "Works on the quay",
        "The harbour works switch the pump's circuit off for {a} hours on each of three days. The air stones hang on "
        "another one.",
        (
            Choice("Do nothing. The fish have air.", 0, (("pump-stop", 0, 2, "{a} hours"),)),
            Choice("Let the electrician set up the emergency supply for the pump, half an hour off each day.", 90,
                   (("pump-stop", 0, 2, "0.5 hours"),)),
            Choice("Do nothing to the pump, and give a third of the feed on these days.", 10,
                   (("pump-stop", 0, 2, "{a} hours"), ("short-feeding", 0, 2, "0.33"))),
        ), MAINS, {"a": (14, 18)},
    ),
)  # fmt: skip
