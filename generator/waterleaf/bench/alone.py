"""Typst alone, to measure the kit against: finished data in, PDFs out, and nothing else imported.

`python -m waterleaf.bench.alone TEMPLATES DATA`; a line of the data is a template's name and the text it prints.
"""

import json
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import typst


def print_pages(templates: Path, data: Path) -> int:
    """Print every line of the data on two threads and throw the PDFs away; returns their size in bytes."""
    local = threading.local()

    def pages(line: str) -> int:
        kind, text = json.loads(line)
        compilers = vars(local)
        if kind not in compilers:
            compilers[kind] = typst.Compiler(templates / f"{kind}.typ", root=templates, ignore_system_fonts=True)
        return len(compilers[kind].compile(format="pdf", sys_inputs={"data": text}, pdf_standards=["ua-1"]))

    with data.open(encoding="utf-8") as lines, ThreadPoolExecutor(2) as pool:
        return sum(pool.map(pages, lines))


if __name__ == "__main__":
    print(print_pages(Path(sys.argv[1]), Path(sys.argv[2])))
