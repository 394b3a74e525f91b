"""Stories are templates of one kind only: plain text with {{ name }} in it.

Jinja2 does the filling in; what else it can do is refused before it runs, so a family file is data and never code.
"""

import functools
import re
from collections.abc import Mapping
from typing import Any

from jinja2 import Template, TemplateSyntaxError, nodes
from jinja2.exceptions import UndefinedError
from jinja2.runtime import StrictUndefined
from jinja2.sandbox import ImmutableSandboxedEnvironment

from waterleaf.typeset import held_together

_ATTRIBUTES = frozenset({"number", "unit", "clock"})
_ENVIRONMENT = ImmutableSandboxedEnvironment(undefined=StrictUndefined, keep_trailing_newline=False, autoescape=False)


class StoryFault(ValueError):
    """A story that is not plain text with names in double braces."""


@functools.lru_cache(maxsize=4096)
def names_in(text: str) -> frozenset[str]:
    """Names that a story puts in.

    Raises StoryFault for anything but text, {{ name }}, {{ name.number }}, {{ name.unit }} and {{ name.clock }}.
    """
    try:
        tree = _ENVIRONMENT.parse(text)
    except TemplateSyntaxError as error:
        raise StoryFault(f"line {error.lineno} of the text: {error.message}") from None
    except RecursionError:
        raise StoryFault("only a name can stand in double braces, not one bracket in another") from None
    names = set()
    for node in tree.body:
        if not isinstance(node, nodes.Output):
            raise StoryFault("only {{ name }} can stand in a story; {% ... %} cannot")
        for piece in node.nodes:
            if isinstance(piece, nodes.TemplateData):
                continue
            inner = piece.node if isinstance(piece, nodes.Getattr) and piece.attr in _ATTRIBUTES else piece
            if not isinstance(inner, nodes.Name):
                raise StoryFault(
                    "only a name can stand in double braces, as in {{ bed_area }} or {{ bed_area.number }}"
                )
            names.add(inner.name)
    return frozenset(names)


@functools.lru_cache(maxsize=4096)
def _template(text: str) -> Template:
    names_in(text)
    return _ENVIRONMENT.from_string(text)


def fill(text: str, names: Mapping[str, Any]) -> str:
    """The story with every name put in.

    Raises StoryFault where a name is not defined.
    """
    try:
        # Only plain white space is folded: the spaces inside 31 200 L must not break.
        return held_together(re.sub(r"[ \t\r\n]+", " ", _template(text).render(**names)).strip())
    except UndefinedError as error:
        raise StoryFault(str(error)) from None
