"""Worksheets and keys as plain blocks of text, from the data that the kit's own templates print.

Other engines are given these blocks. Formulas are lines of text there; the words are the same.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from html import escape
from typing import Any, Final


@dataclass(frozen=True, slots=True)
class Block:
    """A piece of a sheet: `sheet`, `heading`, `text`, `note`, `table`, or `room` to work and to answer."""

    kind: str
    text: str = ""
    rows: list[list[str]] = field(default_factory=list)


def blocks(kind: str, data: dict[str, Any]) -> Iterator[Block]:
    """The blocks of a packet; `kind` is the template that prints the same data."""
    for sheet in data["sheets"]:
        yield Block("sheet", f"{data['title']} {sheet['code']}")
        yield Block("note", f"{data['school']}, {data['system']}. " + (sheet["seed"] if kind == "key" else "Name:"))
        for number, item in enumerate(sheet["items"], start=1):
            yield Block("heading", f"{number}. {item['title']}")
            yield Block("text", item["story"])
            if item.get("caution"):
                yield Block("note", f"Take care. {item['caution']}")
            yield from _table(item["table"])
            for place, part in enumerate(item["parts"]):
                yield Block("text", f"({chr(97 + place)}) {part['ask']}")
                yield from (Block("text", f"{letter}: {text}") for letter, text in part["options"])
                yield from _solved(part) if kind == "key" else (Block("room", part["unit"]),)
            yield from _table(item.get("answer_table"))


def _table(table: dict[str, Any] | None) -> Iterator[Block]:
    if table is not None:
        yield Block("table", table["caption"], [table["headings"], *table["rows"]])


def _solved(part: dict[str, Any]) -> Iterator[Block]:
    for known in part["given"]:
        yield Block("text", f"{known['symbol']['typst']} = {known['value']} ({known['meaning']})")
    for line in part["working"]:
        yield Block("text", f"{line['piece']['typst']} {line['unit']}")
    yield Block("text", f"Answer: {part['answer']}; {part['accepted']} {part['reason']}")
    for slip in part["slips"]:
        yield Block("note", f"{slip['text']}: {slip['turn']}")
    yield Block("note", part["marks"])


_STYLE: Final = (
    "@page{size:A4;margin:18mm}body{font:11pt 'DejaVu Sans',sans-serif}h1{break-before:page;font-size:15pt}"
    "h1.first{break-before:auto}h2{font-size:12pt}p{margin:0 0 4pt}.note{font-size:9pt}"
    ".room{height:26mm;border-bottom:.5pt solid;text-align:right}table{border-collapse:collapse}"
    "td,th{border:.5pt solid;padding:2pt 6pt}"
)
_ELEMENTS: Final = {"sheet": "h1", "heading": "h2", "text": "p", "note": 'p class="note"', "room": 'p class="room"'}


def as_html(kind: str, data: dict[str, Any]) -> str:
    """The blocks as a page for engines that print HTML."""
    body = "".join(map(_element, blocks(kind, data))).replace("<h1>", '<h1 class="first">', 1)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(data["title"])}</title>'
        f"<style>{_STYLE}</style></head><body>{body}</body></html>"
    )


def _element(block: Block) -> str:
    if block.kind != "table":
        opened = _ELEMENTS[block.kind]
        return f"<{opened}>{escape(block.text)}</{opened.split()[0]}>"
    heads, *rows = block.rows
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in heads)
    body = "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in row)}</tr>" for row in rows)
    return f"<table><caption>{escape(block.text)}</caption><tr>{head}</tr>{body}</table>"
