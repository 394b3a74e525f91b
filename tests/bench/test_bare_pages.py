"""What mkdocs alone is measured on: the same pages and scripts with every directive carried out, and no hook."""

from pathlib import Path

import pytest
import yaml

from waterleaf.bank.builder import load_bank
from waterleaf.bench.bare import lay_down_bare
from waterleaf.bench.builds import add_a_word
from waterleaf.home import Settings
from waterleaf.site import pages
from waterleaf.site.figures import FIGURES
from waterleaf.site.pages import Course

ROOT = Path(__file__).parents[2]


@pytest.fixture
def bare(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The pages of the course as they are laid down; generated ones are stood in for by two."""
    made = [("feed/daily_feed.md", "# Generated\n"), ("assets/sets/feed.js", "take();\n")]
    monkeypatch.setattr(pages, "generated", lambda _course: iter(made))
    bank = load_bank(ROOT / "question_bank")
    lay_down_bare(Course(ROOT, Settings(title="Our course"), bank, figures=dict.fromkeys(FIGURES, "FIGURE")), tmp_path)
    return tmp_path


def test_no_directive_is_left_for_a_hook(bare: Path) -> None:
    """Nor is a hook named: nothing of the kit runs in that build."""
    texts = {path.relative_to(bare): path.read_text(encoding="utf-8") for path in (bare / "course").rglob("*.md")}
    assert [path for path, text in texts.items() if pages.has_directives(text)] == []
    assert any("FIGURE" in text for text in texts.values())
    assert yaml.safe_load((bare / "mkdocs.yml").read_text(encoding="utf-8"))["hooks"] == []


def test_everything_else_is_as_in_the_kits_own_build(bare: Path) -> None:
    """Theme, extensions, plugins and checks are those of the course; practice pages stand in the navigation."""
    plain, own = (yaml.safe_load((place / "mkdocs.yml").read_text(encoding="utf-8")) for place in (bare, ROOT))
    different = {"site_name", "docs_dir", "site_dir", "theme", "hooks", "nav"}
    assert {key: plain[key] for key in plain if key not in different} == {
        key: own[key] for key in own if key not in different
    }
    assert plain["theme"] | {"custom_dir": ""} == own["theme"] | {"custom_dir": ""}
    assert Path(plain["theme"]["custom_dir"], "main.html").is_file()
    assert "feed/daily_feed.md" in (bare / "mkdocs.yml").read_text(encoding="utf-8")


def test_a_lesson_asks_for_the_scripts_of_its_practice_links(bare: Path) -> None:
    """In its front matter, where the hook would have put them."""
    _, front, _ = (bare / "course" / "feed" / "index.md").read_text(encoding="utf-8").split("---\n", 2)
    assert yaml.safe_load(front)["scripts"] == pages.scripts_of("[[practice]]")


def test_generated_files_lie_beside_the_lessons(bare: Path) -> None:
    """Pages and scripts alike, and what a lesson shows as a picture."""
    assert (bare / "course" / "feed" / "daily_feed.md").read_text(encoding="utf-8") == "# Generated\n"
    assert (bare / "course" / "assets" / "sets" / "feed.js").is_file()
    assert (bare / "course" / "assets" / "pictures").is_dir()


def test_a_word_is_added_to_a_copy_of_a_lesson(tmp_path: Path) -> None:
    """One word at the end of its first paragraph, each time."""
    text = (ROOT / "course" / "feed" / "index.md").read_text(encoding="utf-8")
    lesson = tmp_path / "index.md"
    lesson.write_text(text, encoding="utf-8")
    add_a_word(lesson)
    add_a_word(lesson)
    changed = lesson.read_text(encoding="utf-8")
    assert changed.split() != text.split()
    assert len(changed.split()) == len(text.split()) + 2
    assert changed.replace(" Again.", "") == text
