"""The only code that mkdocs runs: hands it the generated pages, carries out directives, keeps HTML out of its reader."""

from typing import Any

from mkdocs.structure.files import File, Files

from waterleaf.site import aside, builder, pages
from waterleaf.typeset import held_together

# Blocks of HTML of the pages that are just read, by page, until the page has become HTML itself.
_aside: dict[str, list[str]] = {}


def on_config(config: Any) -> Any:
    """Hang each topic's practice pages below its lesson in the hand-written navigation."""
    course = builder.current_course()
    config.site_name = course.settings.title
    config.nav = builder.with_practice(config.nav, course)
    return config


def on_files(files: Files, config: Any) -> Files:
    """Add the pages and scripts that are generated."""
    for path, text in pages.generated(builder.current_course()):
        files.append(File.generated(config, path, content=text))
    return files


def on_page_markdown(markdown: str, page: Any, **_: Any) -> str:
    """Carry out the directives of a hand-written page, and have the scripts loaded that they need."""
    if page.file.generated_by is None:
        markdown = held_together(markdown)
    needed = pages.scripts_of(markdown)
    if needed:
        page.meta["scripts"] = [*page.meta.get("scripts", []), *needed]
    text, _aside[page.file.src_uri] = aside.set_aside(builder.expanded(markdown, page.file.src_uri))
    return text


def on_page_content(html: str, page: Any, **_: Any) -> str:
    """Put the finished blocks back."""
    return aside.put_back(html, _aside.pop(page.file.src_uri))


def on_post_build(**_: Any) -> None:
    """Leave for the next build what it need not do again."""
    builder.close()
