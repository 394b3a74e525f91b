"""The only code that mkdocs runs: hands it the generated pages and carries out directives."""

from typing import Any

from mkdocs.structure.files import File, Files

from waterleaf.site import builder, pages


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
    needed = pages.scripts_of(markdown)
    if needed:
        page.meta["scripts"] = [*page.meta.get("scripts", []), *needed]
    return pages.expand(builder.current_course(), markdown, page.file.src_uri)

