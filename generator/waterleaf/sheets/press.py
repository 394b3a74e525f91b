"""The press: data in, PDF out. The only module that talks to Typst."""

import json
import threading
from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any, ClassVar, Final

import typst

TEMPLATES: Final = Path(__file__).parent / "templates"
# Everything that lies in a packet at once is held in memory; fifty sheets are quick and small.
SHEETS_AT_ONCE: Final = 50
# Typst remembers its work until ten further documents have not needed it: after packets that is a gigabyte. So between
# two documents, where the first has this much data, a few empty ones make it forget.
_MUCH_DATA: Final = 100_000
_UNTIL_FORGOTTEN: Final = 11


class PressFault(ValueError):
    """Typst could not print a document: a letter that no font has, or a template at fault."""


class Press:
    """Prints documents from one template. One press serves one thread."""

    _full: ClassVar = False  # Typst's memory is one for all presses of a process

    def __init__(self, template: str) -> None:
        """Load the template once; each `pdf` call then costs a few milliseconds."""
        self._compiler, self._empty = (
            typst.Compiler(TEMPLATES / f"{name}.typ", root=TEMPLATES, ignore_system_fonts=True)
            for name in (template, "empty")
        )

    def pdf(self, data: Mapping[str, Any]) -> bytes:
        """The document as a tagged PDF/UA-1, the same bytes for the same data.

        Raises PressFault with Typst's own reason; its warnings count as faults.
        """
        text = json.dumps(data, ensure_ascii=False)
        self._forget()
        try:
            document, warnings = self._compiler.compile_with_warnings(
                format="pdf", sys_inputs={"data": text}, pdf_standards=["ua-1"]
            )
        except typst.TypstError as error:
            raise PressFault(f"{error.message} {' '.join(error.hints)}".strip()) from None
        if warnings:
            raise PressFault("; ".join(warning.message for warning in warnings))
        assert isinstance(document, bytes)
        Press._full = Press._full or len(text) > _MUCH_DATA
        return document

    def _forget(self) -> None:
        if Press._full:
            for _ in range(_UNTIL_FORGOTTEN):
                self._empty.compile(format="pdf")
            Press._full = False


_PRESSES: Final = threading.local()


def print_here(template: str, document: Mapping[str, Any]) -> bytes:
    """The PDF of one document, by a press that this thread keeps as long as it lives."""
    presses: dict[str, Press] = vars(_PRESSES)
    if template not in presses:
        presses[template] = Press(template)
    return presses[template].pdf(document)


def packets(template: str, documents: Iterable[Mapping[str, Any]], workers: int = 2) -> Iterator[bytes]:
    """PDFs of many documents from one template, in order."""
    return printed(((template, document) for document in documents), workers)


def printed(jobs: Iterable[tuple[str, Mapping[str, Any]]], workers: int = 2) -> Iterator[bytes]:
    """PDFs of many jobs (template, document), in order, printed on a few threads: Typst works outside Python's lock.

    Jobs are taken as they are needed, so a long run never lies in memory as a whole.
    """
    with ThreadPoolExecutor(workers) as pool:
        waiting: deque[Future[bytes]] = deque()
        for template, document in jobs:
            waiting.append(pool.submit(print_here, template, document))
            if len(waiting) > workers:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
