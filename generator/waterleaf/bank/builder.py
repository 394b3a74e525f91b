"""Reads family files and checks them against the calc module, collecting every fault on the way."""

import copyreg
import functools
import re
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final

from waterleaf.bank.expressions import FUNCTIONS, BadExpression, Expression, compile_expression, unknown_names
from waterleaf.bank.family import Family, PartSpec, SlipSpec, Tolerance, Values, in_unit
from waterleaf.bank.marked_yaml import Marked, read
from waterleaf.bank.models import Customary, FamilyFile, Given, Part, ReadingsGiven, Slip
from waterleaf.bank.story import StoryFault, names_in
from waterleaf.bank.validation import validated
from waterleaf.calc import TOPICS
from waterleaf.calc.quantity import RELATIONS, Quantity, Relation
from waterleaf.calc.sources import SOURCES
from waterleaf.faults import Fault, Faults, nearest, refuse
from waterleaf.working.units import dimensions

LESSON_PLACE: Final = re.compile(r"[a-z]+#[a-z0-9-]+")


def load_family(path: Path, root: Path) -> Family:
    """Read and check one family file below the bank's root folder.

    Raises Faults with everything that is wrong in it.
    """
    shown = f"{root.name}/{path.relative_to(root).as_posix()}"
    marked = read(path, shown)
    topic = path.parent.name
    if topic not in TOPICS:
        raise refuse(shown, f"the folder {topic!r} is no topic. Topics are {', '.join(TOPICS)}.")
    return build(marked, f"{topic}/{path.stem}", topic)


def family_files(root: Path) -> dict[str, Path]:
    """The files of all families below a folder, by key, in the order of topics and names."""
    if not root.is_dir():
        raise refuse(root.as_posix(), "there is no such folder. Name the folder of the question bank.")
    paths = sorted(root.glob("*/*.yaml"), key=lambda p: (_topic_rank(p.parent.name), p.stem))
    return {f"{path.parent.name}/{path.stem}": path for path in paths}


def load_bank(root: Path, only: Collection[str] | None = None) -> dict[str, Family]:
    """All families below a folder, or those with the keys in `only`, in the order of topics and names.

    Raises Faults with the faults of all files together.
    """
    families: dict[str, Family] = {}
    faults: list[Fault] = []
    for key, path in family_files(root).items():
        if only is not None and key not in only:
            continue
        try:
            families[key] = load_family(path, root)
        except Faults as error:
            faults += error.faults
    if faults:
        raise Faults(faults)
    return families


def _topic_rank(topic: str) -> int:
    return TOPICS.index(topic) if topic in TOPICS else len(TOPICS)


def build(marked: Marked, key: str, topic: str) -> Family:
    """A family from the data of its file. Raises Faults."""
    file = validated(marked, FamilyFile, "`waterleaf bank new` lays down a family with a note at every field.")
    return compiled(file, marked, key, topic)


def compiled(file: FamilyFile, marked: Marked, key: str, topic: str) -> Family:
    """The family of a file whose fields were read. Raises Faults, with the lines that `marked` knows."""
    builder = _Builder(file, marked)
    parts = builder.parts()
    slips = builder.slips(parts)
    conditions = builder.conditions()
    builder.texts()
    if builder.faults:
        raise Faults(builder.faults)
    return Family(key, topic, file, parts, slips, conditions)


@dataclass(frozen=True, slots=True)
class _Sent:
    """A family on its way to another process; two are the same if all that is written in them is."""

    key: str
    topic: str
    own: str
    text: str
    file: FamilyFile = field(compare=False)


def _sent(family: Family) -> tuple[Callable[[_Sent], Family], tuple[_Sent]]:
    """Compiled sums do not travel between processes: the fields do, and are compiled again where they arrive."""
    return _arrived, (_Sent(family.key, family.topic, family.own, family.file.model_dump_json(), family.file),)


@functools.lru_cache(maxsize=512)
def _arrived(sent: _Sent) -> Family:
    """The family again; pieces of work that hold the same one share what is compiled of it."""
    return replace(compiled(sent.file, Marked(f"{sent.key}.yaml", None, {}), sent.key, sent.topic), own=sent.own)


copyreg.pickle(Family, _sent)


class _Builder:
    """Compiles a family file and collects the faults on the way."""

    def __init__(self, file: FamilyFile, marked: Marked) -> None:
        self.file, self.marked = file, marked
        self.faults: list[Fault] = []

    def fault(self, path: tuple[Any, ...], message: str) -> None:
        field = ".".join(str(step) for step in path)
        self.faults.append(Fault(self.marked.where(path), field, message))

    def unit(self, unit: str, path: tuple[Any, ...], like: str | None = None) -> bool:
        """Check that pint knows a unit, and that it measures the same as another."""
        try:
            measured = dimensions(unit)
        except ValueError:
            self.fault(path, f"{unit!r} is not a unit. Write for example m^2, g/day, L/min, degC.")
            return False
        if like is not None and measured != dimensions(like):
            self.fault(path, f"{unit or 'a pure number'} does not measure the same as {like or 'a pure number'}.")
            return False
        return True

    def customary(self, us: Customary | None, metric: str, path: tuple[Any, ...]) -> None:
        if us is not None:
            self.unit(us.unit, (*path, "us", "unit"), metric)

    def unit_of(self, name: str) -> str:
        """Metric unit of a given or an earlier part."""
        return self.file.given[name].unit if name in self.file.given else self.file.parts[name].unit

    def parts(self) -> dict[str, PartSpec]:
        for name in {*self.file.given, *self.file.parts} & set(FUNCTIONS):
            self.fault(
                ("given" if name in self.file.given else "parts", name),
                "this is the name of a function in sums. Choose another.",
            )
        for name, given in self.file.given.items():
            if name in self.file.parts or name in self.file.words:
                self.fault(("given", name), "a part or a word has the same name. Give each its own.")
            if self.unit(given.unit, ("given", name, "unit")) and isinstance(given, Given):
                self.customary(given.us, given.unit, ("given", name))
        specs: dict[str, PartSpec] = {}
        known = set(self.file.given)
        for name, part in self.file.parts.items():
            spec = self.part(name, part, known)
            if spec:
                specs[name] = spec
            known.add(name)
        return specs

    def part(self, name: str, part: Part, known: set[str]) -> PartSpec | None:
        path = ("parts", name)
        if part.relation is None:
            return self.chosen_part(name, part, known, path)
        relation = self.relation(part.relation, (*path, "relation"))
        if relation is None:
            return None
        if self.unit(part.unit, (*path, "unit"), None if part.pick else relation.result.unit):
            self.customary(part.us, part.unit, path)
        tolerance = self.tolerance(part.tolerance, (*path, "tolerance"))
        arguments, names, used = self.arguments(relation, part.with_, known, (*path, "with"))
        return PartSpec(name, part, relation, arguments, names, tolerance, frozenset(used))

    def chosen_part(self, name: str, part: Part, known: set[str], path: tuple[Any, ...]) -> PartSpec:
        field = "right_if" if part.kind == "choice" else "by"
        sums = []
        for place, option in enumerate(part.options):
            if option.see and not LESSON_PLACE.fullmatch(option.see):
                self.fault(
                    (*path, "options", place, "see"), f"{option.see!r} is not a place in a lesson. Write topic#heading."
                )
            expression = self.expression(getattr(option, field), known, (*path, "options", place, field))
            if expression:
                sums.append(expression)
        used = frozenset().union(*(expression.names for expression in sums))
        tolerance = self.tolerance(part.tolerance, (*path, "tolerance"))
        return PartSpec(name, part, None, {}, {}, tolerance, used, tuple(sums))

    def relation(self, name: str, path: tuple[Any, ...]) -> Relation | None:
        if name in RELATIONS:
            return RELATIONS[name]
        self.fault(path, f"{name!r} is no relation of the calc module.{nearest(name, RELATIONS)}")
        return None

    def arguments(
        self, relation: Relation, with_: Mapping[str, Any], known: set[str], path: tuple[Any, ...]
    ) -> tuple[dict[str, Callable[[Values], Any]], dict[str, str], set[str]]:
        """Arguments compiled, those that are plain names, and every name that any of them uses."""
        compiled: dict[str, Callable[[Values], Any]] = {}
        names: dict[str, str] = {}
        used: set[str] = set()
        for extra in set(with_) - set(relation.parameters):
            self.fault(
                (*path, extra), f"{relation.name} has no argument {extra!r}.{nearest(extra, relation.parameters)}"
            )
        for argument, quantity in relation.parameters.items():
            given = with_.get(argument, argument if argument in known else None)
            if given is None:
                if argument not in relation.defaults:
                    self.fault(path, f"{relation.name} needs {argument} ({quantity.name}). Say where it comes from.")
                continue
            compiled_argument = self.argument(given, quantity, known, (*path, argument))
            if compiled_argument is None:
                continue
            compiled[argument] = compiled_argument
            if isinstance(given, str) and given in known:
                names[argument] = given
            used |= _names_of(given) & known
        return compiled, names, used

    def argument(
        self, given: Any, quantity: Quantity, known: set[str], path: tuple[Any, ...]
    ) -> Callable[[Values], Any] | None:
        if isinstance(given, list):
            lists = [str(item) for item in given]
            missing = [item for item in lists if item not in known]
            if missing:
                self.fault(path, f"{', '.join(missing)}: no given has this name.{nearest(missing[0], known)}")
                return None
            return lambda values: [in_unit(values[item], self.unit_of(item), quantity.unit) for item in lists]
        if isinstance(given, bool) or given is None or isinstance(given, dict):
            self.fault(path, f"{given!r} is neither a name, a number nor a sum.")
            return None
        if isinstance(given, int | float):
            number = float(given)
            return lambda _values: number
        if given in known:
            unit = self.unit_of(given)
            if not self.unit(unit, path, quantity.unit):
                return None
            return functools.partial(_named, name=given, unit=unit, into=quantity.unit)
        expression = self.expression(given, known, path)
        return expression.value if expression else None

    def expression(self, text: str, known: Iterable[str], path: tuple[Any, ...]) -> Expression | None:
        try:
            expression = compile_expression(text)
        except BadExpression as error:
            self.fault(path, f"{error}.")
            return None
        for name in unknown_names(expression, set(known)):
            self.fault(path, f"{name!r} is neither a given nor an earlier part.{nearest(name, known)}")
            return None
        return expression

    def tolerance(self, text: str, path: tuple[Any, ...]) -> Tolerance:
        found = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(%?)", text.strip())
        if not found or (float(found[1]) == 0 and found[2]):
            self.fault(path, f"{text!r} is not a tolerance. Write a share such as 2 %, or an amount such as 0.05.")
            return Tolerance()
        number = float(found[1])
        if found[2] and number > 10:
            self.fault(path, f"{text} is too wide to tell right from wrong. Give at most 10 %.")
        return Tolerance(share=number / 100) if found[2] else Tolerance(amount=number)

    def slips(self, parts: Mapping[str, PartSpec]) -> tuple[SlipSpec, ...]:
        specs = []
        for position, slip in enumerate(self.file.slips):
            path = ("slips", position)
            if slip.of not in self.file.parts:
                self.fault((*path, "of"), f"{slip.of!r} is no part.{nearest(slip.of, self.file.parts)}")
                continue
            if not LESSON_PLACE.fullmatch(slip.see):
                self.fault(
                    (*path, "see"),
                    f"{slip.see!r} is not a place in a lesson. Write topic#heading, as in feed#the-feed-ratio.",
                )
            number = self.slip_number(slip, parts, path)
            if number:
                specs.append(SlipSpec(slip, number))
        return tuple(specs)

    def slip_number(
        self, slip: Slip, parts: Mapping[str, PartSpec], path: tuple[Any, ...]
    ) -> Callable[[Values], Any] | None:
        known = {*self.file.given, *self.file.parts}
        if slip.value is not None:
            expression = self.expression(slip.value, known | {"answer"}, (*path, "value"))
            return expression.value if expression else None
        part = parts.get(slip.of)
        if part is None:
            return None
        if part.relation is None:
            self.fault((*path, "of"), f"{slip.of!r} is a {part.file.kind}: put what to say beside its options instead.")
            return None
        relation = self.relation(slip.relation, (*path, "relation")) if slip.relation else part.relation
        if relation is None:
            return None
        inherited = {k: v for k, v in part.file.with_.items() if k in relation.parameters}
        arguments, _names, _used = self.arguments(relation, {**inherited, **slip.with_}, known, (*path, "with"))
        if part.file.pick:
            self.fault(path, "a slip of a number picked from a table is given by value.")
            return None
        if not slip.relation or self.unit(part.file.unit, (*path, "relation"), relation.result.unit):
            return functools.partial(_wrong_turn, relation=relation, arguments=arguments, into=part.file.unit)
        return None

    def conditions(self) -> tuple[Expression, ...]:
        known = {*self.file.given, *self.file.parts}
        found = [self.expression(text, known, ("only_if", i)) for i, text in enumerate(self.file.only_if)]
        return tuple(expression for expression in found if expression)

    def texts(self) -> None:
        known = {*self.file.given, *self.file.words, "class_name"}
        texts: list[tuple[tuple[Any, ...], str]] = [(("story",), self.file.story)]
        answers: set[str] = set()
        for name, part in self.file.parts.items():
            texts.append((("parts", name, "ask"), part.ask))
            answered: list[tuple[tuple[Any, ...], str]] = [
                (("parts", name, "options", place, "text"), option.text) for place, option in enumerate(part.options)
            ]
            answered += [(("parts", name, "reason"), part.reason)] if part.reason else []
            answers.add(name)
            for path, text in answered:
                self.names(path, text, known | answers)
        for path, text in texts:
            self.names(path, text, known)
        self.places()

    def names(self, path: tuple[Any, ...], text: str, known: set[str]) -> None:
        """Check a text with names in double braces."""
        try:
            used = names_in(text)
        except StoryFault as error:
            self.fault(path, f"{error}.")
            return
        for name in sorted(used - known):
            self.fault(path, f"{{{{ {name} }}}}: no given and no word has this name.{nearest(name, known)}")

    def places(self) -> None:
        """Check the lesson, the source and the tables."""
        if not LESSON_PLACE.fullmatch(self.file.lesson):
            self.fault(
                ("lesson",),
                f"{self.file.lesson!r} is not a place in a lesson. Write topic#heading, as in feed#the-feed-ratio.",
            )
        if self.file.source.key not in SOURCES:
            self.fault(
                ("source", "key"),
                f"{self.file.source.key!r} is no known source.{nearest(self.file.source.key, SOURCES)}",
            )
        for heading, name in (self.file.table.columns if self.file.table else {}).items():
            if not isinstance(self.file.given.get(name), ReadingsGiven):
                self.fault(("table", "columns", heading), f"{name!r} is not a set of readings.")
        for row, cells in (self.file.answer_table.rows if self.file.answer_table else {}).items():
            for name in filter(None, cells):
                if name not in self.file.parts or self.file.parts[name].kind not in ("number", "whole"):
                    self.fault(
                        ("answer_table", "rows", row),
                        f"{name!r} is no part with one number.{nearest(name, self.file.parts)}",
                    )
            if len(cells) != len(self.file.answer_table.headings) - 1:  # type: ignore[union-attr]
                self.fault(("answer_table", "rows", row), "each row needs a cell for every heading after the first.")


def _names_of(given: Any) -> set[str]:
    """Names that an argument, checked before, refers to."""
    if isinstance(given, list):
        return {str(item) for item in given}
    return set(compile_expression(given).names) if isinstance(given, str) else set()


def _named(values: Values, *, name: str, unit: str, into: str) -> Any:
    return in_unit(values[name], unit, into)


def _wrong_turn(
    values: Values, *, relation: Relation, arguments: Mapping[str, Callable[[Values], Any]], into: str
) -> Any:
    # A student does not stop at the edge of a valid range, so neither does a slip: the bare function runs.
    result = relation.function(**{name: argument(values) for name, argument in arguments.items()})
    return in_unit(result, relation.result.unit, into)
