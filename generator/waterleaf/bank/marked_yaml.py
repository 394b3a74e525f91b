"""YAML as plain data with the line of every field, and nothing of YAML that surprises or harms.

Anchors, tags and duplicate keys are refused; a file is small and shallow or it is not read. Of YAML's guesses only
whole numbers, decimals, true, false and null remain: 6:30 stays a text, and so does "no".
"""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import yaml

from waterleaf.faults import Fault, Faults, refuse

LARGEST_FILE: Final = 64_000
DEEPEST: Final = 12
# The parser in C is ten times as fast; both build the same nodes.
_LOADER: Final = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

_NUMBER: Final = re.compile(r"[-+]?(\d{1,15}(\.\d{0,15})?|\.\d{1,15})([eE][-+]?\d{1,2})?")
_WORDS: Final = {"true": True, "false": False, "null": None, "~": None, "": None}

Path_ = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Marked:
    """Data of a file, and for each field the line on which it stands."""

    file: str
    data: Any
    lines: dict[Path_, int]

    def where(self, path: Path_) -> str:
        """File and line of a field, or of the nearest field around it."""
        while path and path not in self.lines:
            path = path[:-1]
        return f"{self.file}:{self.lines.get(path, 1)}"


def read(path: Path, shown_as: str = "") -> Marked:
    """Read a YAML file.

    Raises Faults where the file cannot be opened, is too large or deep, is broken, or uses what is refused.
    """
    name = shown_as or path.as_posix()
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise refuse(name, f"cannot be read ({error.strerror}). Check the name and the permissions.") from None
    return parse(raw, name)


def parse(raw: bytes, name: str) -> Marked:
    """The data in the bytes of a YAML file; `name` is what messages call it."""
    if len(raw) > LARGEST_FILE:
        raise refuse(name, f"{len(raw)} bytes are too many; a file of this kind has at most {LARGEST_FILE}.")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refuse(name, f"byte {error.start} is not UTF-8 text. Save the file as UTF-8.") from None
    try:
        node = _compose(text, name)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        raise refuse(
            f"{name}:{line}", f"this is not valid YAML ({error.problem}). Check indents, colons and quotes."
        ) from None
    except yaml.YAMLError as error:
        raise refuse(name, f"this is not valid YAML ({str(error).splitlines()[0]}).") from None
    if node is None:
        raise refuse(f"{name}:1", "the file is empty.")
    lines: dict[Path_, int] = {}
    faults: list[Fault] = []
    data = _plain(node, (), lines, faults, name)
    if faults:
        raise Faults(faults)
    return Marked(name, data, lines)


def _compose(text: str, name: str) -> yaml.Node | None:
    """The node tree, after a first pass over the events has refused aliases, tags and depth."""
    depth = 0
    for event in yaml.parse(text, Loader=_LOADER):
        line = event.start_mark.line + 1 if event.start_mark else 1
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            raise refuse(f"{name}:{line}", "anchors and aliases (& and *) are not used here. Write the text out.")
        tag = getattr(event, "tag", None)
        if tag:
            raise refuse(f"{name}:{line}", f"tags such as {tag} are not used here. Remove the tag.")
        depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
        if depth > DEEPEST:
            raise refuse(f"{name}:{line}", f"nested more than {DEEPEST} deep. Flatten the file.")
    return yaml.compose(text, Loader=_LOADER)


def _plain(node: yaml.Node, path: Path_, lines: dict[Path_, int], faults: list[Fault], name: str) -> Any:
    lines[path] = node.start_mark.line + 1
    if isinstance(node, yaml.MappingNode):
        found: dict[str, Any] = {}
        for key_node, value_node in node.value:
            key = str(key_node.value)
            line = key_node.start_mark.line + 1
            if key in found:
                faults.append(Fault(f"{name}:{line}", key, "this key stands twice. Keep one."))
            found[key] = _plain(value_node, (*path, key), lines, faults, name)
            lines[(*path, key)] = line
        return found
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, (*path, i), lines, faults, name) for i, item in enumerate(node.value)]
    return _scalar(node)


def _scalar(node: yaml.Node) -> Any:
    text = str(node.value)
    if getattr(node, "style", None) in ("'", '"', "|", ">"):  # quoted or block text is text
        return text
    if text in _WORDS:
        return _WORDS[text]
    if _NUMBER.fullmatch(text):
        return float(text) if any(mark in text for mark in ".eE") else int(text)
    return text
