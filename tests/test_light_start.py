"""The command line is there at once: what takes long to load is loaded by the command that needs it."""

import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
HEAVY = (
    "dask", "distributed", "filelock", "icalendar", "jinja2", "markdown", "matplotlib", "mkdocs", "multiprocessing",
    "numpy", "openpyxl", "pandas", "pint", "pydantic", "rich", "scipy", "segno", "spellchecker", "statsmodels", "typst",
    "yaml",
)


def loaded_by(statement: str) -> set[str]:
    """The top-level names of all modules that a fresh Python holds after a statement."""
    code = f"{statement}\nimport sys\nprint(*{{name.partition('.')[0] for name in sys.modules}})"
    command = [sys.executable, "-P", "-c", code]
    return set(subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout.split())


def test_the_command_line_loads_nothing_heavy() -> None:
    """Neither for `--help` nor for a word that was mistyped."""
    assert loaded_by("import waterleaf.cli") & set(HEAVY) == set()


def test_what_is_loaded_is_seen() -> None:
    """Else the tests here could not fail."""
    assert {"yaml", "typst"} <= loaded_by("import yaml, typst")


@pytest.mark.parametrize("name", HEAVY)
def test_what_is_called_heavy_has_its_name(name: str) -> None:
    """A slip in the list would look for nothing."""
    if name not in ("dask", "distributed"):  # these come with an extra
        assert find_spec(name) is not None


def test_formulas_load_without_tables_or_statistics() -> None:
    """Everything imports the relations, and most need no library."""
    assert loaded_by("import waterleaf.calc") & {"numpy", "pandas", "pint", "pydantic", "scipy", "statsmodels"} == set()


def test_pages_load_without_plots_or_statistics() -> None:
    """A build mostly finds its figures and the pages of the demo kept."""
    slow = {"matplotlib", "numpy", "pandas", "scipy", "statsmodels"}
    assert loaded_by("import waterleaf.site.builder") & slow == set()


def test_exercises_are_posed_without_the_library_of_units() -> None:
    """It takes longer to load than a worksheet takes to print; what it says of the bank's units is written down."""
    statement = (
        "from waterleaf.bank.builder import load_family; from waterleaf.draw import draw; "
        "from waterleaf.exercise import pose; from waterleaf.marking.units import tokens; from pathlib import Path; "
        "bank = Path('question_bank'); family = load_family(bank / 'feed' / 'daily_feed.yaml', bank); "
        "pose(draw(family, 1), 'us'); tokens()"
    )
    assert loaded_by(statement) & {"pint", "scipy"} == set()
