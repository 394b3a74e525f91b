"""Pages to look things up in, generated from the code: relations, symbols, sources, coverage of the bank."""

from collections import Counter
from collections.abc import Mapping
from html import escape
from typing import Final

from waterleaf.bank.family import Family
from waterleaf.calc import TOPICS
from waterleaf.calc.quantity import HUGE, RELATIONS, Quantity, Relation
from waterleaf.calc.sources import SOURCES
from waterleaf.evidence import EVIDENCE
from waterleaf.proof import coverage
from waterleaf.site import maths
from waterleaf.working import figures
from waterleaf.working.units import with_unit, written


def sources_page() -> str:
    """Every publication that a relation cites, and for what."""
    used: dict[str, dict[str, None]] = {}
    for relation in RELATIONS.values():
        for citation in relation.sources:
            used.setdefault(citation.key, {})[f"{_link(relation)} ({citation.locus}; {citation.status})"] = None
    lines = [
        "# Sources",
        "",
        "Every formula of the course says where it comes from, and how we know. *Read* means that the printed value was "
        "seen in the publication or a copy of it; *computed* that it follows from a cited equation; *definition* that the "
        "words themselves mean it; *memory* that it still waits for somebody with the paper.",
        "",
    ]
    for key in sorted(used, key=lambda k: (SOURCES[k].author, SOURCES[k].year)):
        lines += [f"**{SOURCES[key].full}**", "", f"Used for {'; '.join(used[key])}.", ""]
    return "\n".join(lines)


# Entries that stand for no publication: what is said of them instead.
_UNPUBLISHED: Final = {
    "arithmetic": "Some formulas are plain arithmetic, or say what a word means. They need no source.",
    "trade": "Some rules are common practice and have no published source.",
}


def topic_sources(topic: str) -> str:
    """The publications behind a topic's relations as one small list."""
    keys = {citation.key for relation in RELATIONS.values() if relation.topic == topic for citation in relation.sources}
    published = sorted(keys - _UNPUBLISHED.keys(), key=lambda key: (SOURCES[key].author, SOURCES[key].year, key))
    items = "".join(f"<li>{escape(SOURCES[key].full)}</li>" for key in published)
    rest = " ".join(text for key, text in _UNPUBLISHED.items() if key in keys)
    return (
        f'<ul class="wl-sources">{items}</ul>\n\n{rest} The page of [sources](../lookup/sources.md) says what each was used '
        "for, and whether it was read."
    )


def paper_line(topic: str, course: str) -> str:
    """The last line of a printed lesson: where the sheet is from."""
    return f'\n\n<p class="wl-paper">Lesson {escape(topic.capitalize())} of the course {escape(course)}.</p>\n'


def _link(relation: Relation) -> str:
    return f"[{_title(relation)}](relations-{relation.topic}.md#{relation.name})"


def _title(relation: Relation) -> str:
    return relation.name.replace("_", " ")


def relations_index() -> str:
    """All relations by topic, with a link to each."""
    lines = [
        "# Relations",
        "",
        f"The kit can compute {len(RELATIONS)} quantities. Each formula on these pages is the one "
        "that ran: page, key and answer come from one source.",
        "",
    ]
    for topic in TOPICS:
        names = [_link(relation) for relation in RELATIONS.values() if relation.topic == topic]
        lines += [f"**[{topic.capitalize()}](relations-{topic}.md)**: {', '.join(names)}.", ""]
    return "\n".join(lines)


def relations_page(topic: str, held: Mapping[str, Counter[str]]) -> str:
    """The relations of a topic: formula, symbols, units, ranges, sources, and the check values that hold them."""
    lines = [f"# Relations: {topic}", ""]
    for relation in (r for r in RELATIONS.values() if r.topic == topic):
        lines += [
            f"## {_title(relation).capitalize()} {{ #{relation.name} }}",
            "",
            relation.summary,
            "",
            maths.relation_formulas(relation.name),
            _values(relation),
            "",
        ]
        if relation.empirical:
            lines += [f"Not checked for units: {relation.empirical}.", ""]
        cited = "; ".join(f"{SOURCES[c.key].short}, {c.locus} ({c.status})" for c in relation.sources)
        lines += [f"Source: {cited}. {_evidence(held.get(relation.name, Counter()))}", ""]
    return "\n".join(lines)


def _evidence(counts: Counter[str]) -> str:
    total = sum(counts.values())
    if not total:
        return "Held by tests of its own."
    parts = ", ".join(f"{counts[kind]} {kind}" for kind in EVIDENCE if counts[kind])
    return f"Held by {total} check {'value' if total == 1 else 'values'} ({parts})."


def _values(relation: Relation) -> str:
    rows = "".join(_value_row(name, q) for name, q in relation.parameters.items())
    result = _value_row("", relation.result) if relation.result.symbol else ""
    return (
        f'<div class="wl-wide" data-search-exclude tabindex="0" role="region" aria-label="Values: {_title(relation)}">'
        '<table class="wl-symbols"><thead><tr>'
        '<th scope="col">Symbol</th><th scope="col">Meaning</th><th scope="col">Unit</th><th scope="col">Valid range</th>'
        f'<th scope="col">Name on the command line</th></tr></thead><tbody>{result}{rows}</tbody></table></div>'
    )


def _value_row(name: str, quantity: Quantity) -> str:
    return (
        f"<tr><td>{maths.symbol_html(quantity)}</td><td>{escape(quantity.name)}</td>"
        f"<td>{escape(written(quantity.unit)) or 'a number'}</td><td>{escape(_range(quantity)) if name else ''}</td>"
        f"<td>{f'<code>{name}</code>' if name else 'the result'}</td></tr>"
    )


def _range(quantity: Quantity) -> str:
    low = "" if quantity.low <= -HUGE else figures.grouped(figures.plain(quantity.low, 6))
    high = "" if quantity.high >= HUGE else with_unit(figures.grouped(figures.plain(quantity.high, 6)), quantity.unit)
    if low and high:
        return f"{low} to {high}"
    return f"from {with_unit(low, quantity.unit)}" if low else f"up to {high}" if high else "any"


def symbols_page() -> str:
    """Symbols and units by topic, each meaning once."""
    lines = [
        "# Symbols and units",
        "",
        "A letter means one thing within a relation; across topics the same letter may mean another. Metric units come "
        "first in this course, and every page and sheet can be had in US customary units.",
        "",
    ]
    for topic in TOPICS:
        seen: dict[tuple[str, str], Quantity] = {}
        for relation in (r for r in RELATIONS.values() if r.topic == topic):
            for quantity in (relation.result, *relation.parameters.values()):
                if quantity.symbol:
                    seen.setdefault((quantity.symbol, quantity.name), quantity)
        rows = "".join(
            f"<tr><td>{maths.symbol_html(q)}</td><td>{escape(q.name)}</td><td>{escape(written(q.unit)) or 'a number'}</td></tr>"
            for q in seen.values()
        )
        lines += [
            f"## {topic.capitalize()}",
            "",
            '<table class="wl-symbols"><thead><tr><th scope="col">Symbol</th><th scope="col">Meaning</th>'
            f'<th scope="col">Unit</th></tr></thead><tbody>{rows}</tbody></table>',
            "",
        ]
    return "\n".join(lines)


def coverage_page(bank: Mapping[str, Family]) -> str:
    """Learning goals by topic and level, and the holes."""
    found = coverage(bank)
    lines = [
        "# What the exercises cover",
        "",
        f"The bank holds {len(bank)} families of exercises.",
        "",
        "| Topic | One step | Several steps | A decision |",
        "|---|---|---|---|",
    ]
    for topic in TOPICS:
        levels = found.get(topic, {1: 0, 2: 0, 3: 0})
        lines.append(
            f"| {topic.capitalize()} | " + " | ".join(str(levels[level] or "none yet") for level in (1, 2, 3)) + " |"
        )
    for topic in TOPICS:
        families = sorted((f for f in bank.values() if f.topic == topic), key=lambda f: f.file.level)
        if families:
            lines += ["", f"## {topic.capitalize()}", ""]
        for family in families:
            name = family.key.split("/")[1]
            lines.append(
                f"- Level {family.file.level}: [{family.file.title}](../{topic}/{name}.md). {family.file.goal}"
            )
    return "\n".join(lines) + "\n"
