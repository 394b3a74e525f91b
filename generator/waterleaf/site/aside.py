"""Finished HTML kept out of the Markdown reader, which would read every tag of it only to hand it on unchanged.

Worked examples, formulas and figures make up most of a page. Such a block is a paragraph in which every line is made of
whole elements; a small element stands in for it while the page is read.
"""

import re
from typing import Final

_TAG: Final = "(?:div|figure|table|ul)"
_LINE: Final = rf"<{_TAG}[ >](?![^\n]*\smarkdown=)[^\n]*</{_TAG}>"
_BLOCK: Final = re.compile(rf"(?:(?<=\n\n)|(?<=\A)){_LINE}(?:\n{_LINE})*(?=\n\n|\n?\Z)")
_STAND_IN: Final = re.compile(r'<div data-wl-aside="(\d+)">.*?</div>')
_DRAWING: Final = re.compile(r"<svg.*?</svg>")
_ID: Final = re.compile(r'<[a-z][^>]*? id="([^"]+)"')


def set_aside(text: str) -> tuple[str, list[str]]:
    """A page with its blocks of HTML stood in for, and the blocks.

    A stand-in bears the ids of its block, so that a link to one is still known to lead somewhere.
    """
    blocks: list[str] = []

    def stand_in(found: re.Match[str]) -> str:
        blocks.append(found[0])
        anchors = "".join(f'<a id="{name}"></a>' for name in _ID.findall(_DRAWING.sub("", found[0])))
        return f'<div data-wl-aside="{len(blocks) - 1}">{anchors}</div>'

    return _BLOCK.sub(stand_in, text), blocks


def put_back(html: str, blocks: list[str]) -> str:
    """The page as HTML, with each block in place of what stood in for it."""
    return _STAND_IN.sub(lambda found: blocks[int(found[1])], html)
