"""Pages as plain Markdown, before any site builder sees them.

Lessons are written by hand and may hold directives, each on a line of its own:

    [[worked feed/daily_feed 3]]    a worked example of a family, from this seed
    [[formula daily_feed]]          the formula of a relation, with its symbols
    [[practice]]                    links to the practice pages of the lesson's topic
    [[sources]]                     the publications behind the topic's relations
    [[table brix-correction]]       a reference table, see `tables.TABLES`
    [[figure water-loop]]           a figure, see `figures.FIGURES`

Practice pages, the sources page and the list of relations are generated whole.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from html import escape
from pathlib import Path
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.calc import TOPICS
from waterleaf.calc.quantity import RELATIONS
from waterleaf.draw import draw
from waterleaf.evidence import held_by, read_rows
from waterleaf.exercise import Exercise, PosedPart, pose
from waterleaf.faults import nearest, refuse
from waterleaf.home import Settings, output_folder
from waterleaf.marking.choices import MESSAGES
from waterleaf.marking.judge import tables
from waterleaf.site import maths, practice, practice_pages, reference, selfcheck_page
from waterleaf.site.store import kept_pages
from waterleaf.site.tables import TABLES

_DIRECTIVE: Final = re.compile(r"^\[\[(?P<words>[^\[\]\n]+)\]\]$", re.MULTILINE)
LEVELS: Final = {1: "one step", 2: "several steps", 3: "a decision"}


@dataclass
class Course:
    """What pages are made from: bank, the school's settings, where the lessons lie, practice scripts and figures."""

    home: Path
    settings: Settings
    bank: Mapping[str, Family]
    scripts: Mapping[str, str] = field(default_factory=dict)
    figures: Mapping[str, str] = field(default_factory=dict)

    def of_topic(self, topic: str) -> list[Family]:
        """Families of a topic, easy ones first."""
        return sorted((f for f in self.bank.values() if f.topic == topic), key=lambda f: f.file.level)


def practice_page(family: Family) -> str:
    """Path of a family's practice page inside the course."""
    return f"{family.topic}/{family.key.split('/')[1]}.md"


def generated(course: Course) -> Iterator[tuple[str, str]]:
    """Path and text of every page and script that nobody wrote by hand."""
    for path in sorted((Path(__file__).parent / "assets").iterdir()):
        yield f"assets/{path.name}", path.read_text(encoding="utf-8")
    yield "assets/judge-tables.js", f"Waterleaf.tables = {practice.script_text({**tables(), 'letters': MESSAGES})};\n"
    yield "assets/catalogue.js", practice_pages.catalogue(course.bank.values())
    yield from course.scripts.items()
    yield "practice/round.md", practice_pages.round_page(course.settings.units)
    yield "practice/record.md", practice_pages.overview_page()
    yield "self-check.md", selfcheck_page.self_check_page()
    yield from _of_the_relations(course).items()
    yield "instructors/coverage.md", reference.coverage_page(course.bank)
    yield from _of_the_demo(course).items()
    for family in course.bank.values():
        yield practice_page(family), practice_pages.family_page(family, course.settings.units)


def _of_the_relations(course: Course) -> dict[str, str]:
    """The pages to look things up in, which come from the kit and its check values alone."""
    published = course.home / "tests" / "published"

    def make() -> Iterator[tuple[str, str]]:
        yield "lookup/sources.md", reference.sources_page()
        yield "lookup/symbols.md", reference.symbols_page()
        yield "lookup/relations.md", reference.relations_index()
        held = held_by(read_rows(published))
        for topic in TOPICS:
            yield f"lookup/relations-{topic}.md", reference.relations_page(topic, held)

    return kept_pages(output_folder(course.home) / ".kept" / "pages", "lookup", sorted(published.glob("*.csv")), make)


def _of_the_demo(course: Course) -> dict[str, str]:
    """The pages about the invented college, which take many seconds to work out."""
    folder = course.home / "course" / "demo"

    def make() -> Iterator[tuple[str, str]]:
        from waterleaf.site import demo, trial_page  # statistics and plots load slowly, and mostly the pages are kept

        yield from demo.generated(course.home)
        yield "sugar/worked-trial.md", trial_page.demo_page(folder)

    sources = [path for path in sorted(folder.iterdir()) if path.is_file()]
    return kept_pages(output_folder(course.home) / ".kept" / "pages", "demo", sources, make)


def scripts_of(text: str) -> list[str]:
    """Paths of the scripts that a hand-written page needs for its directives."""
    return practice_pages.scripts(practice_pages.LESSON) if "[[practice]]" in text else []


def has_directives(text: str) -> bool:
    """Whether anything on a page is to be carried out."""
    return _DIRECTIVE.search(text) is not None


def expand(course: Course, text: str, path: str) -> str:
    """A hand-written page with its directives carried out.

    Raises Faults naming the page and line of a directive that is not understood.
    """
    actions: dict[str, Callable[..., str]] = {
        "worked": lambda name, seed="1": _worked(course, name, seed),
        "formula": maths.relation_html,
        "practice": lambda: _practice_links(course, path.split("/")[0]),
        "sources": lambda: reference.topic_sources(path.split("/")[0]),
        "table": lambda name: TABLES[name](),
        "figure": lambda name: course.figures[name],
    }
    known = {"worked": course.bank, "formula": RELATIONS, "table": TABLES, "figure": course.figures}

    def carry_out(found: re.Match[str]) -> str:
        verb, *words = found["words"].split()
        line = text.count("\n", 0, found.start()) + 1
        if verb not in actions:
            raise refuse(f"course/{path}:{line}", f"[[{verb} ...]] is not known. Write {', '.join(actions)}.")
        try:
            return actions[verb](*words)
        except KeyError as error:
            hint = nearest(str(error.args[0]), known.get(verb, ()))
            raise refuse(f"course/{path}:{line}", f"[[{found['words']}]]: nothing is called {error}.{hint}") from None
        except TypeError:
            raise refuse(f"course/{path}:{line}", f"[[{found['words']}]] has too many or too few words.") from None

    foot = reference.paper_line(path.split("/")[0], course.settings.title) if "[[sources]]" in text else ""
    return _DIRECTIVE.sub(carry_out, text) + foot


def _worked(course: Course, name: str, seed: str) -> str:
    exercise = pose(draw(course.bank[name], seed), course.settings.units)
    parts = "".join(f"<p><strong>{escape(part.ask)}</strong></p>{_options_html(part)}{maths.working_html(part)}" for part in exercise.parts)
    care = f"<p><strong>Take care.</strong> {escape(exercise.caution)}</p>" if exercise.caution else ""
    return f'<div class="wl-worked"><p>{escape(exercise.story)}</p>{_table_html(exercise)}{care}{parts}</div>'


def _options_html(part: PosedPart) -> str:
    """The options of a choice, so that the letter of the answer means something."""
    items = "".join(f"<li>{option.letter}: {escape(option.text)}</li>" for option in part.options)
    return f'<ul class="wl-items">{items}</ul>' if items else ""


def _table_html(exercise: Exercise) -> str:
    if exercise.table is None:
        return ""
    heads = "".join(f'<th scope="col">{escape(heading)}</th>' for heading in exercise.table.headings)
    rows = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in row)}</tr>" for row in exercise.table.rows)
    return (
        f'<table class="wl-readings"><caption>{escape(exercise.table.caption)}</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
    )


def _practice_links(course: Course, topic: str) -> str:
    lines = [
        f"- [{family.file.title}]({family.key.split('/')[1]}.md): {family.file.goal} *{LEVELS[family.file.level].capitalize()}.*"
        for family in course.of_topic(topic)
    ]
    kept = f'<p class="wl-kept" data-topic="{escape(topic)}"><a href="../practice/round.html">Mix it with other topics</a></p>'
    return "\n".join([*lines, "", kept])
