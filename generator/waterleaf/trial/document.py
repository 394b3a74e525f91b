"""A document as a list of blocks, which becomes a web page or a PDF with the same words in the same order."""

import re
from collections.abc import Sequence
from html import escape
from typing import Any, Final

from waterleaf import __version__
from waterleaf.sheets.paper import Style, packet_head
from waterleaf.sheets.press import Press
from waterleaf.webpage import web_page

Block = dict[str, Any]

# A number, a share, or an interval; or nothing.
_NUMBERS: Final = re.compile(r"(< ?)?[−-]?[\d.]*( %)?( to [−-]?[\d.]+)?")
_CSS: Final = """
body{font:16px/1.5 Georgia,serif;color:#16323a;background:#fff;max-width:46rem;margin:2rem auto;padding:0 1rem}
h1,h2{color:#1f6f78;line-height:1.2}table{border-collapse:collapse;margin:1rem 0;font-size:.92rem}
th,td{border:1px solid #6f9ca1;padding:.25rem .55rem;text-align:right}
td.words,th:first-child,td:first-child{text-align:left}
caption{text-align:left;font-style:italic;padding-bottom:.3rem}th{background:#eaf3f3}
.box{border:2px solid #8a3b12;padding:.4rem 1rem;margin:1rem 0}.wide{overflow-x:auto}
.side{display:flex;flex-wrap:wrap;gap:0 1rem}.side figure{flex:1 1 16rem}
figure{margin:1rem 0}svg{max-width:100%;height:auto}figcaption{font-size:.9rem}footer{font-size:.8rem;margin-top:2rem}
@media print{section{break-before:page}table,figure,.box{break-inside:avoid}}
"""


def heading(text: str) -> Block:
    """A heading of the second rank."""
    return {"kind": "heading", "text": text}


def title(text: str) -> Block:
    """A heading of the first rank. Where a document begins with one, it stands in place of the document's title."""
    return {"kind": "title", "text": text}


def text(words: str, *, keep: bool = False) -> Block:
    """A paragraph; `keep` holds it on one page with what follows."""
    return {"kind": "text", "text": words, "keep": keep}


def items(lines: Sequence[str]) -> Block:
    """A list."""
    return {"kind": "list", "items": list(lines)}


def box(title: str, lines: Sequence[str]) -> Block:
    """A box that nobody overlooks."""
    return {"kind": "box", "title": title, "items": list(lines)}


def caution(words: str) -> Block:
    """A caution, which stands before the step that it is about."""
    return {"kind": "caution", "text": words}


def table(caption: str, headings: Sequence[str], rows: Sequence[Sequence[str]], *, tall: bool = False) -> Block:
    """A table; `tall` leaves room to write."""
    return {"kind": "table", "caption": caption, "headings": list(headings), "rows": [list(row) for row in rows],
            "tall": tall, "words": _wordy(rows), "blank": _blank(rows)}  # fmt: skip


def _blank(rows: Sequence[Sequence[str]]) -> list[int]:
    """The columns that somebody will write in: they get the room."""
    return [place for place in range(len(rows[0]) if rows else 0) if not any(row[place] for row in rows)]


def _wordy(rows: Sequence[Sequence[str]]) -> list[int]:
    """The columns that do not hold numbers alone: they are set flush left."""
    return [
        place for place in range(len(rows[0]) if rows else 0) if not all(_NUMBERS.fullmatch(row[place]) for row in rows)
    ]


def figure(svg: str, alternative: str, caption: str) -> Block:
    """A figure with its words."""
    return {"kind": "figure", "svg": svg, "alt": alternative, "caption": caption}


def side_by_side(parts: Sequence[Block], widths: Sequence[int]) -> Block:
    """Figures beside each other, as wide as those numbers say."""
    return {"kind": "side", "parts": list(parts), "widths": list(widths)}


def page_break() -> Block:
    """A new page."""
    return {"kind": "break"}


def to_pdf(title: str, kind: str, blocks: Sequence[Block], style: Style) -> bytes:
    """The document as a tagged PDF."""
    packet = {**packet_head(style, kind), "title": title, "blocks": list(blocks)}
    return Press("trial").pdf(packet)


def to_html(title: str, blocks: Sequence[Block], style: Style) -> str:
    """The document as one web page that needs nothing from outside."""
    body = "\n".join(_html(block) for block in blocks)
    foot = f"<footer>{escape(style.school)}. Waterleaf {escape(__version__)}</footer>\n"
    return web_page(title, _CSS, f"<h1>{escape(title)}</h1>\n<section>{body}</section>", foot)


def _html(block: Block) -> str:
    kind = block["kind"]
    if kind == "title":
        return f"<h1>{escape(block['text'])}</h1>"
    if kind == "heading":
        return f"<h2>{escape(block['text'])}</h2>"
    if kind == "break":
        return "</section><section>"
    if kind == "figure":
        svg = block["svg"].replace("<svg ", f'<svg role="img" aria-label="{escape(block["alt"])}" ', 1)
        return f"<figure>{svg}<figcaption>{escape(block['caption'])}</figcaption></figure>"
    if kind == "side":
        return f'<div class="side">{"".join(_html(part) for part in block["parts"])}</div>'
    if kind == "table":
        return _html_table(block)
    if kind in ("list", "box"):
        listed = "".join(f"<li>{escape(line)}</li>" for line in block["items"])
        if kind == "list":
            return f"<ul>{listed}</ul>"
        return f'<div class="box"><strong>{escape(block["title"])}</strong><ul>{listed}</ul></div>'
    if kind == "caution":
        return f'<p class="box"><strong>Take care.</strong> {escape(block["text"])}</p>'
    return f"<p>{escape(block['text'])}</p>"


def _html_cells(row: Sequence[str], words: Sequence[int]) -> str:
    opening = ('<td class="words">' if place in words else "<td>" for place in range(len(row)))
    return "".join(f"{start}{escape(cell)}</td>" for start, cell in zip(opening, row, strict=True))


def _html_table(block: Block) -> str:
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in block["headings"])
    rows = "".join(f"<tr>{_html_cells(row, block['words'])}</tr>" for row in block["rows"])
    caption = f"<caption>{escape(block['caption'])}</caption>"
    return f'<div class="wide"><table>{caption}<thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>'
