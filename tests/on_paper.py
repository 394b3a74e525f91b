"""What several tests do with printed pages: read their text back."""

import subprocess
from pathlib import Path


def text_of(pdf: Path) -> str:
    """Text of a PDF as pdftotext reads it, which has no spaces that do not break."""
    ran = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True)
    return ran.stdout


def lines_of(pdf: Path) -> str:
    """Text of a PDF line by line, cell by cell: where a line of print ends, this one does."""
    return subprocess.run(["pdftotext", str(pdf), "-"], capture_output=True, text=True, check=True).stdout


def plain(text: str) -> str:
    """A printed text as `text_of` gives it back."""
    return text.replace("\N{NO-BREAK SPACE}", " ")
