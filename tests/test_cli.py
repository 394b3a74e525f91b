"""The command line as a person meets it: good words, wrong words, one line a fault, no traceback."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from typer.main import get_command

from waterleaf.cli import app, main

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="session")
def kit(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the bank, the course and the site's settings, to be spoilt at will."""
    place = tmp_path_factory.mktemp("kit with space and é")
    for name in ("question_bank", "course", "mkdocs.yml"):
        source = ROOT / name
        (shutil.copytree if source.is_dir() else shutil.copy)(source, place / name)
    settings = place / "course" / "settings.yaml"
    settings.write_text(settings.read_text(encoding="utf-8").replace("copies: 6", "copies: 1"), encoding="utf-8")
    return place


def run(*words: str, at: Path) -> subprocess.CompletedProcess[str]:
    """The command in a fresh process."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "generator"), "PYTHONUTF8": "1"}
    return subprocess.run(
        [sys.executable, "-m", "waterleaf", *words],
        cwd=at,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


def test_calc_takes_units_in_words_and_answers_in_the_unit_asked_for(kit: Path) -> None:
    """Square feet in, pounds out."""
    ran = run("calc", "daily_feed", "bed_area=64ft^2", "feed_ratio=60 g/m^2/day", "--in", "lb/day", at=kit)
    assert (ran.returncode, ran.stdout.strip(), ran.stderr) == (0, "0.786494\u00a0lb/day", "")


def test_calc_shows_steps_and_source(kit: Path) -> None:
    """The working that a lesson shows, and the publication behind it."""
    ran = run("calc", "daily_feed", "bed_area=24", "feed_ratio=60", "--steps", "--source", at=kit)
    assert "F = A × R = 24 × 60 = 1440 g/day" in ran.stdout
    assert "Rakocy" in ran.stdout


def test_calc_works_on_with_the_numbers_that_it_says_are_given(kit: Path) -> None:
    """Square feet become a long number of square metres, the same in the list and in the working."""
    ran = run("calc", "daily_feed", "bed_area=64ft^2", "feed_ratio=60", "--steps", at=kit)
    assert "growing area of the beds 5.94579456\u00a0m²" in ran.stdout
    assert "F = A × R = 5.94579456 × 60 = 356.748" in ran.stdout


def test_calc_gives_data_for_programs(kit: Path) -> None:
    """Value, unit, steps and sources as JSON."""
    data = json.loads(run("calc", "daily_feed", "bed_area=24", "feed_ratio=60", "--json", at=kit).stdout)
    assert data["value"] == 1440.0
    assert data["unit"] == "g/day"
    assert data["sources"][0]["key"] == "rakocy2007"


def test_calc_list_names_every_topic(kit: Path) -> None:
    """One line a relation, by topic."""
    text = run("calc", "--list", at=kit).stdout
    for topic in ("feed", "solids", "sugar"):
        assert f"\n{topic}\n" in f"\n{text}"
    assert "daily_feed" in text


def test_work_shows_one_exercise_with_own_values(kit: Path) -> None:
    """A given typed by hand takes the place of the drawn one."""
    ran = run("work", "feed/daily_feed", "bed_area=20m^2", "feed_ratio=60", "--seed", "3", at=kit)
    assert ran.returncode == 0
    assert "F = A × R = 20 × 60 = 1200 g/day" in ran.stdout


def test_bank_check_passes_a_sound_family(kit: Path) -> None:
    """Exit status 0 and a table."""
    ran = run("bank", "check", "--families", "feed/daily_feed", "--draws", "20", at=kit)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "1 family, all sound" in ran.stdout


def test_bank_check_finds_a_heading_that_the_lesson_has_not(kit: Path) -> None:
    """A slip of the fingers in a link is told where the family is written, with the heading that was meant."""
    path = kit / "question_bank" / "feed" / "daily_feed.yaml"
    kept = path.read_text(encoding="utf-8")
    path.write_text(kept.replace("see: feed#meals", "see: feed#meal", 1), encoding="utf-8")
    ran = run("bank", "check", "--families", "feed/daily_feed", "--draws", "20", at=kit)
    path.write_text(kept, encoding="utf-8")
    assert ran.returncode == 1
    assert "fault: feed#meal: the lesson has no such heading. Did you mean meals" in ran.stdout
    assert ran.stdout.endswith("1 family, 1 with faults\n")


def test_bank_check_ends_with_1_when_a_family_is_unsound(kit: Path) -> None:
    """A story that is too hard to read is a finding, not a wrong use."""
    path = kit / "question_bank" / "feed" / "daily_feed.yaml"
    kept = path.read_text(encoding="utf-8")
    hard = "Notwithstanding considerable administrative complications, instructional responsibilities necessitate " * 3
    path.write_text(kept.replace("story: >\n", f"story: >\n  {hard}\n"), encoding="utf-8")
    try:
        ran = run("bank", "check", "--families", "feed/daily_feed", "--draws", "5", at=kit)
    finally:
        path.write_text(kept, encoding="utf-8")
    assert ran.returncode == 1
    assert "the story reads at grade" in ran.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["work", "feed/dayly_feed"], "Did you mean feed/daily_feed"),
        (["work", "feed/daily_feed", "--seed", "seven"], "'seven' is not a whole number"),
        (["work", "feed/daily_feed", "--seed", "-1"], "is not a whole number"),
        (["work", "feed/daily_feed", "bed_area=24kg"], "kg does not measure the same as m^2"),
        (["work", "feed/daily_feed", "bed_area=0.001"], "outside the valid range"),
        (["work", "feed/daily_feed", "area=24"], "there is no such value here. Did you mean bed_area"),
        (["work", "feed/daily_feed", "--units", "imperial"], "Give metric or us"),
        (["sheets", "--families", "food"], "no family or topic has this name. Did you mean"),
        (["sheets", "--paper", "a5"], "Give a4 or letter"),
        (["sheets", "--count", "0"], "--count: '0' is out of range; give at least 1. Try `waterleaf sheets --help`."),
        (["sheets", "--count", "3x"], "--count: '3x' is not a whole number."),
        (["trial", "print", "plan.yaml"], "Missing option '--out'. Try `waterleaf trial print --help`."),
        (["sheets", "--colour", "red"], "--colour"),
        (["calc", "daily_fed"], "Did you mean daily_feed"),
        (["calc", "daily_feed", "bed_area=64ft^2"], "values are missing: feed_ratio"),
        (["calc", "daily_feed", "bed_area=64furlong^^2", "feed_ratio=60"], "is not a unit"),
        (["calc", "daily_feed", "bed_area=64ft^2", "feed_ratio=60", "--in", "kg"], "does not measure the same"),
        (["calc", "daily_feed", "bed_area=nan", "feed_ratio=60"], "does not start with a number"),
        (["calc", "daily_feed", "bed_area=24", "feed_ratio=9999"], "outside the valid range"),
        (["calc", "daily_feed", "24"], "write it as name=number unit"),
        (["bank", "check", "--families", "gardening"], "no family or topic has this name"),
        (["nonsense"], "nonsense"),
    ],
)
def test_wrong_words_end_in_one_line_and_status_2(
    kit: Path, words: list[str], said: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What was found and what is accepted, on standard error, without a traceback."""
    monkeypatch.chdir(kit)
    monkeypatch.setattr(sys, "argv", ["waterleaf", *words])
    with pytest.raises(SystemExit) as stopped:  # in this process: twenty fresh ones take a minute
        main()
    out, err = capsys.readouterr()
    assert stopped.value.code == 2
    assert said in err
    assert len(err.strip().splitlines()) == 1
    assert out == ""


def test_broken_yaml_and_faulty_families_are_told_together(kit: Path) -> None:
    """Every fault of every file, one line each, and nothing is built."""
    broken = kit / "question_bank" / "feed" / "zz_broken.yaml"
    broken.write_text("version: 1\nstory: [unfinished\n", encoding="utf-8")
    try:
        ran = run("bank", "check", at=kit)
    finally:
        broken.unlink()
    assert ran.returncode == 2
    assert "question_bank/feed/zz_broken.yaml:" in ran.stderr
    assert "not valid YAML" in ran.stderr


def test_build_makes_everything_and_a_failed_build_leaves_it_alone(kit: Path) -> None:
    """The last good build stays whole when the next one finds a fault."""
    first = run("build", "--seed", "3", at=kit)
    assert first.returncode == 0, first.stderr
    assert first.stderr == ""
    for place in ("site/index.html", "worksheets/air-metric.pdf", "keys/air-metric-key.pdf"):
        assert (kit / "build" / place).exists(), first.stdout
        assert place.split("/")[0] in first.stdout
    before = built_files(kit)
    lesson = kit / "course" / "feed" / "index.md"
    kept = lesson.read_text(encoding="utf-8")
    lesson.write_text(kept + "\n[[worked feed/nothing 1]]\n", encoding="utf-8")
    try:
        second = run("build", "--seed", "3", at=kit)
    finally:
        lesson.write_text(kept, encoding="utf-8")
    assert second.returncode == 2
    assert "course/feed/index.md:" in second.stderr
    assert built_files(kit) == before


def built_files(kit: Path) -> dict[Path, bytes]:
    """Everything that a build hands out; what it keeps for itself does not count."""
    folders = [kit / "build" / name for name in ("site", "worksheets", "keys")]
    return {path: path.read_bytes() for folder in folders for path in folder.rglob("*") if path.is_file()}


def test_keys_lie_in_the_keys_folder_alone(kit: Path) -> None:
    """No key file, nor the word that only keys print, is under the site or the worksheets."""
    if not (kit / "build" / "site").exists():
        run("build", at=kit)
    for folder in ("site", "worksheets"):
        assert not list((kit / "build" / folder).rglob("*key*.pdf"))


def test_a_folder_that_cannot_be_written_is_refused(kit: Path, tmp_path: Path) -> None:
    """A file in the way is said, with the mend."""
    (tmp_path / "taken").write_text("in the way")
    ran = run(
        "sheets", "--count", "1", "--families", "feed/daily_feed", "--out", str(tmp_path / "taken" / "out"), at=kit
    )
    assert ran.returncode == 2
    assert "cannot be written" in ran.stderr


def test_outside_any_kit_the_source_folder_serves(tmp_path: Path) -> None:
    """Run from anywhere, the kit finds its own bank."""
    assert run("bank", "check", "--families", "feed/daily_feed", "--draws", "2", at=tmp_path).returncode == 0


def commands(at: Any, words: tuple[str, ...] = ()) -> Iterator[tuple[str, Any]]:
    """Every command below a group, by the words that call it."""
    for name, command in at.commands.items():
        if hasattr(command, "commands"):
            yield from commands(command, (*words, name))
        else:
            yield " ".join((*words, name)), command


@pytest.mark.parametrize(("words", "command"), list(commands(get_command(app))))
def test_help_shows_an_example_for_every_command(words: str, command: Any) -> None:
    """A person who reads the help can copy a line that begins with this very command."""
    assert f"Example: waterleaf {words}" in " ".join(command.help.split())
