"""Other engines that can print the same sheets: `python -m waterleaf.bench.engines ENGINE DATA`.

A line of the data is a template's name and the text it would print. Whatever an engine needs is loaded here alone, so
that each pays for its own start. The last line printed says how many pages and bytes were made.
"""

import io
import json
import re
import shutil
import sys
from collections.abc import Callable, Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Final

from waterleaf.bench.plainsheets import Block, as_html, blocks

_PAGE: Final = re.compile(rb"/Type\s*/Page\b(?!s)")
_BROWSERS: Final = ("chromium", "chromium-browser", "google-chrome")
Packet = tuple[str, dict[str, Any]]
# Pages and bytes of each packet.
Made = Iterator[tuple[int, int]]


def _weasyprint(packets: Iterator[Packet]) -> Made:
    from weasyprint import HTML

    for kind, data in packets:
        document = HTML(string=as_html(kind, data)).render(pdf_variant="pdf/ua-1")
        yield len(document.pages), len(document.write_pdf())


def _reportlab(packets: Iterator[Packet]) -> Made:
    from reportlab import platypus
    from reportlab.lib.styles import ParagraphStyle

    _register_font()
    look = {
        kind: ParagraphStyle(kind, fontName="DejaVu", fontSize=size, leading=1.25 * size, spaceAfter=4)
        for kind, size in (("sheet", 15), ("heading", 12), ("text", 11), ("note", 9), ("room", 11))
    }
    for kind, data in packets:
        out = io.BytesIO()
        document = platypus.SimpleDocTemplate(out, title=data["title"])
        flowables = [one for block in blocks(kind, data) for one in _flowables(platypus, look, block)]
        document.build(flowables[1:])  # no break before the first sheet
        yield document.page, len(out.getvalue())


def _register_font() -> None:
    """The font of matplotlib, which has the letters that the sheets need."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    found = find_spec("matplotlib")
    assert found is not None and found.origin is not None
    folder = Path(found.origin).parent / "mpl-data" / "fonts" / "ttf"
    registerFont(TTFont("DejaVu", str(folder / "DejaVuSans.ttf")))


def _flowables(parts: Any, look: dict[str, Any], block: Block) -> Iterator[Any]:
    if block.kind == "sheet":
        yield parts.PageBreak()
    if block.kind == "table":
        grid = [("GRID", (0, 0), (-1, -1), 0.5, "black"), ("FONT", (0, 0), (-1, -1), "DejaVu", 10)]
        yield parts.Table(block.rows, style=grid)
    if block.kind == "room":
        yield parts.Spacer(1, 60)
    text = block.text.replace("&", "&amp;").replace("<", "&lt;")
    yield parts.Paragraph(text, look["note" if block.kind == "table" else block.kind])
    if block.kind == "room":
        yield parts.HRFlowable(width="100%")


def _chromium(packets: Iterator[Packet]) -> Made:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as tool:
        browser = tool.chromium.launch(executable_path=_browser(), args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page()
        for kind, data in packets:
            page.set_content(as_html(kind, data))
            pdf = page.pdf(prefer_css_page_size=True, tagged=True)
            yield len(_PAGE.findall(pdf)), len(pdf)
        browser.close()


def _browser() -> str:
    return next(filter(None, map(shutil.which, _BROWSERS)), "")


ENGINES: Final[dict[str, Callable[[Iterator[Packet]], Made]]] = {
    "weasyprint": _weasyprint, "reportlab": _reportlab, "chromium": _chromium,
}


def missing(engine: str) -> str:
    """Why an engine cannot run here; nothing where it can."""
    package = "playwright" if engine == "chromium" else engine
    if find_spec(package) is None:
        return f"the package {package} is not installed; it belongs to the extra `bench`"
    if engine == "chromium" and not _browser():
        return f"no Chromium on the PATH ({', '.join(_BROWSERS)})"
    return ""


def main() -> None:
    """Print every packet of the data and throw the PDFs away."""
    engine, path = sys.argv[1:]
    with Path(path).open(encoding="utf-8") as lines:
        packets = ((kind, json.loads(text)) for kind, text in map(json.loads, lines))
        made = list(ENGINES[engine](packets))
    print(json.dumps({"pages": sum(pages for pages, _ in made), "bytes": sum(size for _, size in made)}))


if __name__ == "__main__":
    main()
