"""An invented class, a few families and a plan, for the tests of parallel papers and of practical tasks."""

from pathlib import Path
from typing import Any

from waterleaf.bank.builder import load_family
from waterleaf.bank.family import Family
from waterleaf.classwork.paperplan import PaperPlan, Slot, read_paper_plan
from waterleaf.classwork.parallel import Paper, parallel_papers

HOME = Path(__file__).parents[1]
ROOT = HOME / "question_bank"
KEYS = (
    "feed/daily_feed", "solids/flush_times", "solids/which_settler", "money/heads_to_pay", "money/what_an_hour_earns",
    "sugar/cool_juice",
)
BANK: dict[str, Family] = {key: load_family(ROOT / f"{key}.yaml", ROOT) for key in KEYS}
SECRET = "fedcba9876543210" * 4

PLAN = """id: mid-term
title: Mid-term test
minutes: 45
questions:
  - family: feed/daily_feed
    marks:
      meal: {method: 1, result: 1, unit: 0}
  - {topic: solids, level: 3}
  - {topic: money, level: 1, vary: true}
"""

CLASS = """id,name,section,seat,accommodations
A1,Ines Okafor,,A1,
A2,"Tomas ""T"" Brandvold",,A2,large print
A3,=cmd|' /C calc'!A0,,B1,
A4,مرحبا Wren,,B2,
A5,Priya 🐟 Rao,,C1,
A6,../../Søren,,C2,
"""
# Nobody can print this section, and it is nobody's neighbour.
ODD_SECTION = "A8,Kofi,🐟 مرحبا,A1,\n"


def plan_of(text: str, folder: Path) -> tuple[PaperPlan, list[Slot]]:
    """The plan in a text, read from a file in the folder."""
    (folder / "test-plan.yaml").write_text(text, encoding="utf-8")
    return read_paper_plan(folder / "test-plan.yaml", BANK)


def papers_of(keys: list[str], seed: int = 1, count: int = 2, system: Any = "metric") -> list[Paper]:
    """Papers that ask these families."""
    plan = PaperPlan.model_validate({
        "id": "test", "title": "Test", "minutes": 30, "papers": count, "seed": seed,
        "questions": [{"family": key} for key in keys],
    })
    slots = [Slot((BANK[key],), {}, False, "plan:1") for key in keys]
    return parallel_papers(plan, slots, SECRET, system)


def fish_class(folder: Path) -> Path:
    """A class folder with a plan in it."""
    folder.mkdir(exist_ok=True)
    (folder / "class.csv").write_text(CLASS, encoding="utf-8")
    (folder / "test-plan.yaml").write_text(PLAN, encoding="utf-8")
    return folder
