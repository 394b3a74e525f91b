"""A growing file as values under dotted names: what was given, what follows from it, and what is assumed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from pydantic import BaseModel

from waterleaf.bank.marked_yaml import Marked, read
from waterleaf.bank.validation import validated
from waterleaf.faults import Fault, Faults, nearest
from waterleaf.growing.derived import DERIVED
from waterleaf.growing.facts import ASSUMED, CROP_KINDS, reference
from waterleaf.growing.measures import Measure
from waterleaf.growing.model import GrowingFile

_START: Final = "Lay a growing file down with `waterleaf growing start`."


@dataclass(frozen=True, slots=True)
class Value:
    """A number in its metric unit, and where it comes from: given, computed or assumed."""

    number: float
    unit: str
    origin: str
    meaning: str
    source: str = ""


@dataclass(frozen=True)
class System:
    """One growing system: the file as read, and its values by name."""

    file: GrowingFile
    given: Mapping[str, Value]
    shown_as: str = ""
    _found: dict[str, Value] = field(default_factory=dict)

    def get(self, name: str) -> Value | None:
        """A value by its dotted name, or nothing where the file does not lead to it."""
        if name in self.given:
            return self.given[name]
        if name not in self._found:
            found = self._computed(name) or self._assumed(name)
            if found is None:
                return None
            self._found[name] = found
        return self._found[name]

    def _computed(self, name: str) -> Value | None:
        rule = DERIVED.get(name)
        if rule is None:
            return None
        number = rule.work(self)
        if number is None:
            return None
        return Value(number, rule.unit, "assumed" if rule.assumes else "computed", rule.meaning, rule.assumes)

    def lacking(self, name: str) -> tuple[str, ...]:
        """What the file would have to give before a name has a value."""
        rule = DERIVED.get(name)
        if rule is None:
            return (name,)
        return tuple(dict.fromkeys(
            inner for need in rule.needs for inner in (self.lacking(need) if need in DERIVED else (need,))
            if need.endswith("*") or self.get(need) is None
        )) or (name,)

    def _assumed(self, name: str) -> Value | None:
        known = ASSUMED.get(name)
        if known is None:
            return None
        return Value(known.value, known.measure.unit, "assumed", known.meaning, reference(known.source))

    def kind_of(self, crop: str) -> str:
        """Whether a crop is grown for its leaves or its fruit."""
        own = self.file.crops.get(crop)
        return (own.kind if own and own.kind else None) or CROP_KINDS.get(crop.lower(), "leafy")


def names() -> dict[str, tuple[str, str]]:
    """Every dotted name that a growing file can lead to, with its unit and meaning; crops are left out."""
    found: dict[str, tuple[str, str]] = {}
    for section, model in sections().items():
        for key, measure, meaning in measured_fields(model):
            found[f"{section}.{key}"] = (measure.unit, meaning)
    found |= {name: (rule.unit, rule.meaning) for name, rule in DERIVED.items()}
    found |= {name: (known.measure.unit, known.meaning) for name, known in ASSUMED.items()}
    return dict(sorted(found.items()))


def sections() -> dict[str, type[BaseModel]]:
    """Sections that stand once in a file."""
    found = {}
    for key, info in GrowingFile.model_fields.items():
        for kind in (info.annotation, *getattr(info.annotation, "__args__", ())):
            if isinstance(kind, type) and issubclass(kind, BaseModel) and not str(info.annotation).startswith("list"):
                found[key] = kind
    found.pop("crops", None)
    return found


def measured_fields(model: type[BaseModel]) -> list[tuple[str, Measure, str]]:
    """The fields of a section that hold an amount: name, measure, meaning."""
    found = []
    for key, info in model.model_fields.items():
        marks = [*info.metadata, *_inner(info.annotation)]
        measure = next((mark for mark in marks if isinstance(mark, Measure)), None)
        if measure is not None:
            found.append((info.alias or key, measure, info.description or key.replace("_", " ")))
    return found


def _inner(annotation: Any) -> list[Any]:
    marks: list[Any] = list(getattr(annotation, "__metadata__", ()))
    for part in getattr(annotation, "__args__", ()):
        marks += _inner(part)
    return marks


def read_growing(path: Path, shown_as: str = "") -> System:
    """The growing system in a file.

    Raises Faults with everything that is wrong in it.
    """
    marked = read(path, shown_as)
    given: dict[str, Value] = {}
    faults = [*_wrong_names(marked), *_own_values(marked, given)] if isinstance(marked.data, dict) else []
    try:
        file = validated(marked, GrowingFile, _START)
    except Faults as found:
        faults += found.faults
    if faults:
        raise Faults(sorted(faults, key=lambda fault: int(fault.where.rpartition(":")[2])))
    return System(file, {**_given(file), **given}, marked.file)


def _given(file: GrowingFile) -> dict[str, Value]:
    given: dict[str, Value] = {}
    places: list[tuple[str, BaseModel | None]] = [(key, getattr(file, key)) for key in sections()]
    places += [(f"crops.{name}", crop) for name, crop in file.crops.items()]
    for place, section in places:
        if section is None:
            continue
        for key, measure, meaning in measured_fields(type(section)):
            number = getattr(section, "yield_" if key == "yield" else key)
            if number is not None:
                given[f"{place}.{key}"] = Value(number, measure.unit, "given", meaning)
    return given


def _entries(marked: Marked, section: str) -> list[tuple[int, dict[str, Any]]]:
    """The entries of a list in the raw file; what is not an entry is reported elsewhere."""
    found = marked.data.get(section)
    return [(i, entry) for i, entry in enumerate(found) if isinstance(entry, dict)] if isinstance(found, list) else []


def _wrong_names(marked: Marked) -> list[Fault]:
    """Unknown crops and names that stand twice, looked for in the raw file so that all faults come at once."""
    raw = marked.data.get("crops")
    crops: dict[str, Any] = raw if isinstance(raw, dict) else {}
    places: list[tuple[tuple[str | int, ...], str]] = [
        (("crops", name), name) for name, crop in crops.items() if not (isinstance(crop, dict) and crop.get("kind"))
    ]
    places += [
        (("beds", i, "crop"), str(bed["crop"])) for i, bed in _entries(marked, "beds")
        if isinstance(bed.get("crop"), str) and bed["crop"] not in crops
    ]
    faults = [
        Fault(
            marked.where(path), ".".join(map(str, path)),
            f"{name!r} is no crop that is known here.{nearest(name.lower(), CROP_KINDS)} "
            "Add it under crops with kind: leafy or fruiting.",
        )
        for path, name in places if name.lower() not in CROP_KINDS
    ]
    for section in ("tanks", "beds"):
        seen: set[str] = set()
        for i, entry in _entries(marked, section):
            name = str(entry.get("name"))
            if name in seen:
                faults.append(Fault(
                    marked.where((section, i, "name")), f"{section}.{i}.name",
                    f"{name!r} stands twice. Give every one a name of its own.",
                ))
            seen.add(name)
    return faults


def _own_values(marked: Marked, given: dict[str, Value]) -> list[Fault]:
    """Measured values take the place of assumed ones."""
    raw = marked.data.get("measured")
    faults = []
    for name, text in (raw if isinstance(raw, dict) else {}).items():
        where = marked.where(("measured", name))
        if name not in ASSUMED:
            faults.append(Fault(
                where, f"measured.{name}", f"no value of this name is assumed.{nearest(name, ASSUMED)} "
                f"Names are {', '.join(ASSUMED)}.",
            ))
            continue
        try:
            number = ASSUMED[name].measure.read(text)
        except ValueError as error:
            faults.append(Fault(where, f"measured.{name}", str(error)))
            continue
        given[name] = Value(number, ASSUMED[name].measure.unit, "given", ASSUMED[name].meaning)
    return faults
