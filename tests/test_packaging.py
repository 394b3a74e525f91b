"""The wheel holds all that the kit needs: installed anywhere, the commands find course, bank and templates in it."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the contents of the wheel, and nothing of the source beside it."""
    place = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(place)],
        cwd=ROOT, check=True, capture_output=True,
    )
    (wheel,) = place.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place / "site-packages")
    return place / "site-packages"


def run(installed: Path, *words: str, at: Path) -> subprocess.CompletedProcess[str]:
    """A command of the installed kit, run in a folder that has nothing to do with it."""
    return subprocess.run(
        [sys.executable, "-m", "waterleaf", *words], cwd=at, capture_output=True, text=True, check=False,
        env={**os.environ, "PYTHONPATH": str(installed), "PYTHONDONTWRITEBYTECODE": "1"},
    )


def test_every_file_of_the_kit_is_in_the_wheel(installed: Path) -> None:
    """Course, bank, site builder's settings, templates and scripts, one by one."""
    pairs = (("course", "kit/course"), ("question_bank", "kit/question_bank"), ("generator/waterleaf", ""))
    for folder, inside in pairs:
        for path in (ROOT / folder).rglob("*.*"):
            if path.is_file() and "__pycache__" not in path.parts and not path.name.startswith("."):
                assert (installed / "waterleaf" / inside / path.relative_to(ROOT / folder)).is_file(), path
    assert (installed / "waterleaf/kit/mkdocs.yml").is_file()


def test_installed_kit_prints_worksheets_where_one_works(installed: Path, tmp_path: Path) -> None:
    """Output goes to the folder at hand, never into the installed package."""
    before = sorted(installed.rglob("*"))
    ran = run(installed, "sheets", "--count", "1", "--families", "feed/daily_feed", at=tmp_path)
    assert ran.returncode == 0, ran.stderr
    assert [path.name for path in (tmp_path / "build/sheets/worksheets").iterdir()] == ["sheets.pdf"]
    assert sorted(installed.rglob("*")) == before
