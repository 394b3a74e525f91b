"""The press: data in, PDF out. The only module that talks to Typst."""

import json
import threading
from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any, Final

import typst

TEMPLATES: Final = Path(__file__).parent / "templates"
# Everything that lies in a packet at once is held in memory; fifty sheets are quick and small.
SHEETS_AT_ONCE: Final = 50


class PressFault(ValueError):
    """Typst could not print a document: a letter that no font has, or a template at fault."""


class Press:
    """Prints documents from one template. One press serves one thread."""

    def __init__(self, template: str) -> None:
        """Load the template once; each `pdf` call then costs a few milliseconds."""
        self._compiler = typst.Compiler(TEMPLATES / f"{template}.typ", root=TEMPLATES, ignore_system_fonts=True)

    def pdf(self, data: Mapping[str, Any]) -> bytes:
        """The document as a tagged PDF/UA-1, the same bytes for the same data.

        Raises PressFault with Typst's own reason; its warnings count as faults.
        """
        try:
            document, warnings = self._compiler.compile_with_warnings(
                format="pdf", sys_inputs={"data": json.dumps(data, ensure_ascii=False)}, pdf_standards=["ua-1"]
            )
        except typst.TypstError as error:
            raise PressFault(f"{error.message} {' '.join(error.hints)}".strip()) from None
        if warnings:
            raise PressFault("; ".join(warning.message for warning in warnings))
        assert isinstance(document, bytes)
        return document


def packets(template: str, documents: Iterable[Mapping[str, Any]], workers: int = 2) -> Iterator[bytes]:
    """PDFs of many documents, in order, printed on a few threads (Typst works outside Python's lock).

    Documents are taken as they are needed, so a long run never lies in memory as a whole.
    """
    local = threading.local()

    def print_one(document: Mapping[str, Any]) -> bytes:
        if not hasattr(local, "press"):
            local.press = Press(template)
        pdf: bytes = local.press.pdf(document)
        return pdf

    with ThreadPoolExecutor(workers) as pool:
        waiting: deque[Future[bytes]] = deque()
        for document in documents:
            waiting.append(pool.submit(print_one, document))
            if len(waiting) > workers:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
