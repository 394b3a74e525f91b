"""Pages about a growing system that stand alone in one file: one look for findings, a look ahead and crops."""

from pathlib import Path
from typing import Any, Final

from jinja2 import Environment

from waterleaf import __version__
from waterleaf.webpage import web_page

_STYLE: Final = """
:root { color-scheme: light; --ink: #16323a; --water: #1f6f78; --pale: #eaf3f3; --warm: #8a3b12; }
body { font: 1rem/1.45 system-ui, sans-serif; color: var(--ink); background: #fff; max-width: 60rem; }
body { margin: 1.5rem auto; padding: 0 1rem; }
h1 { font-size: 1.4rem; color: var(--water); } h2 { font-size: 1.1rem; margin: 1.2rem 0 .3rem; }
p { margin: .3rem 0; } small { color: #37535a; font-size: .9rem; }
.care { border: 1px solid var(--warm); border-left-width: .3rem; padding: .4rem .7rem; margin: .5rem 0; }
.wide { overflow-x: auto; } table { border-collapse: collapse; margin: .5rem 0; } thead th { background: var(--pale); }
th, td { border: 1px solid #9bbcbf; padding: .2rem .6rem; text-align: left; vertical-align: top; }
.numbers td { text-align: right; } .numbers td:first-child { text-align: left; }
@media print { body { margin: 0; max-width: none; font-size: 10pt; } table, figure, article { break-inside: avoid; } }
"""


def page(name: str, title: str, style: str = "", **data: Any) -> str:
    """The page whose body is the template of this name, in the look of all and a style of its own."""
    template = Path(__file__).with_name(f"{name}.html").read_text(encoding="utf-8")
    filled = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True).from_string(template)
    return web_page(title, _STYLE + style, filled.render(title=title, version=__version__, **data))
