"""What a relation is made of: quantities, constants, citations, and the register of relations.

A relation is a plain function whose parameters, named steps and result are annotated with a `Quantity`. The decorator
`relation` checks every argument against its quantity before the body runs, so a body may stay pure arithmetic.
"""

import functools
import math
import typing
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any, Final, Literal, ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")

Status = Literal["read", "computed", "definition", "memory", "common practice"]

# A float that large is a slip of the keyboard, not a pond; it also keeps infinities out of every default range.
HUGE: Final = 1e300


class OutOfRange(ValueError):
    """An argument lies outside the range in which its relation holds."""


@dataclass(frozen=True, slots=True)
class Citation:
    """A publication, by its key in `sources.SOURCES`, the place in it, and how we know what it says."""

    key: str
    locus: str
    status: Status = "read"


def cite(key: str, locus: str, status: Status = "read") -> Citation:
    """Point at a place in a publication; `status` says how we know what it says."""
    return Citation(key, locus, status)


@dataclass(frozen=True, slots=True)
class Quantity:
    """One measurable thing: how it is written, spoken, measured, and between which values it makes sense.

    `symbol` is a base with an optional subscript after `_`; `bar x` draws a line over x. `unit` is a unit that pint
    reads ("" for a pure number). `many` is 1 for a list of readings and 2 for a list of groups of readings. `basis`
    says where the range comes from.
    """

    symbol: str
    unit: str
    name: str
    low: float = -HUGE
    high: float = HUGE
    whole: bool = False
    many: Literal[0, 1, 2] = 0
    fewest: int = 1
    basis: str = "limit set for this course"

    @property
    def subscript(self) -> str:
        """The part of the symbol after the underscore, or nothing."""
        return self.symbol.partition("_")[2]

    def with_subscript(self, subscript: str) -> "Quantity":
        """The same quantity told apart by a subscript, unless it has one already."""
        if not subscript or self.subscript:
            return self
        return _subscripted(self, subscript)


@functools.lru_cache(maxsize=4096)
def _subscripted(quantity: Quantity, subscript: str) -> Quantity:
    return replace(quantity, symbol=f"{quantity.symbol}_{subscript}")


class Constant(float):
    """A number that a publication or a definition fixes, with its unit and the place where it stands."""

    symbol: str
    unit: str
    name: str
    source: Citation
    low: float
    high: float

    def __new__(
        cls,
        value: float,
        *,
        symbol: str,
        unit: str,
        name: str,
        source: Citation,
        low: float | None = None,
        high: float | None = None,
    ) -> "Constant":
        """Make the constant; `low` and `high` give the range found in the literature where it is not exact."""
        self = super().__new__(cls, value)
        self.symbol, self.unit, self.name, self.source = symbol, unit, name, source
        self.low = value if low is None else low
        self.high = value if high is None else high
        return self

    def __reduce__(self) -> tuple[Any, ...]:
        """Travel between processes as the plain number: only relations need the label."""
        return (float, (float(self),))

    @property
    def quantity(self) -> Quantity:
        """The constant as a quantity, for printing."""
        return Quantity(self.symbol, self.unit, self.name, self.low, self.high)


@dataclass(frozen=True, slots=True)
class Lookup:
    """A function that a student finds in a table or on a calculator key, such as a quantile of Student's t."""

    symbol: str
    spoken: str
    function: Callable[..., float]
    source: Citation


@dataclass(frozen=True)
class Relation:
    """A registered relation: the function as written, its quantities and its sources."""

    name: str
    topic: str
    function: Callable[..., Any]
    checked: Callable[..., Any]
    parameters: MappingProxyType[str, Quantity]
    result: Quantity
    sources: tuple[Citation, ...]
    empirical: str
    summary: str
    procedure: bool = False
    defaults: MappingProxyType[str, Any] = field(default_factory=lambda: MappingProxyType({}))


RELATIONS: Final[dict[str, Relation]] = {}
LOOKUPS: Final[dict[str, Lookup]] = {}


def relation(
    *sources: Citation, empirical: str = "", procedure: bool = False
) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Register a function as a relation and guard it.

    `empirical` says why a fit to data is exempt from the dimensional check. `procedure` marks a relation with loops
    whose working is a table that the function itself returns.
    """

    def register(function: Callable[P, R]) -> Callable[P, R]:
        hints = typing.get_type_hints(function, include_extras=True)
        parameters = {name: quantity_of(hint) for name, hint in hints.items() if name != "return"}
        name = function.__name__
        guards = list(parameters.items())

        @functools.wraps(function)
        def checked(*args: P.args, **kwargs: P.kwargs) -> R:
            for key, q in guards:
                value = kwargs.get(key, _ABSENT)
                if value is _ABSENT:
                    continue
                # A plain scalar inside its range is by far the commonest case; everything else is looked at closely.
                if q.many or q.whole or type(value) is not float or not q.low <= value <= q.high:
                    check_value(key, q, value)
            return function(*args, **kwargs)

        if name in RELATIONS:
            raise ValueError(f"relation {name} is defined twice, in {RELATIONS[name].topic} and {function.__module__}")
        defaults = dict(function.__kwdefaults__ or {})
        RELATIONS[name] = Relation(
            name=name,
            topic=function.__module__.split(".")[2],
            function=function,
            checked=checked,
            parameters=MappingProxyType(parameters),
            result=quantity_of(hints["return"]),
            sources=sources,
            empirical=empirical,
            summary=(function.__doc__ or "").strip().splitlines()[0] if function.__doc__ else "",
            procedure=procedure,
            defaults=MappingProxyType(defaults),
        )
        return checked

    return register


def lookup(symbol: str, spoken: str, source: Citation) -> Callable[[Callable[P, float]], Callable[P, float]]:
    """Register a function whose working is "look it up": it prints as `symbol(arguments)`."""

    def register(function: Callable[P, float]) -> Callable[P, float]:
        LOOKUPS[function.__name__] = Lookup(symbol, spoken, function, source)
        return function

    return register


def quantity_of(hint: Any) -> Quantity:
    """The quantity in an annotation `Annotated[type, Quantity(...)]`."""
    for extra in getattr(hint, "__metadata__", ()):
        if isinstance(extra, Quantity):
            return extra
    raise TypeError(f"{hint!r} carries no Quantity: annotate it as Annotated[float, Quantity(...)]")


def check_value(name: str, quantity: Quantity, value: Any) -> None:
    """Refuse a value that is no number, not whole where it must be, too few, or outside the range."""
    if quantity.many:
        _check_many(name, quantity, value)
        return
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise OutOfRange(f"{name}: {value!r} is not a number. Give {_wanted(quantity)}.")
    if not math.isfinite(value):
        raise OutOfRange(f"{name}: {value} is not a finite number. Give {_wanted(quantity)}.")
    if quantity.whole and value != int(value):
        raise OutOfRange(f"{name}: {value:g} is not a whole number. Give {_wanted(quantity)}.")
    if not quantity.low <= value <= quantity.high:
        raise OutOfRange(
            f"{name}: {value:g}{_unit(quantity)} is outside the valid range ({quantity.basis}). "
            f"Give {_wanted(quantity)}."
        )


def _check_many(name: str, quantity: Quantity, value: Any) -> None:
    noun = "reading" if quantity.many == 1 else "group"
    if isinstance(value, str) or not isinstance(value, Sequence):
        raise OutOfRange(f"{name}: {value!r} is not a list of {noun}s. Give at least {quantity.fewest}.")
    if len(value) < quantity.fewest:
        raise OutOfRange(f"{name}: {len(value)} {noun}(s) found, at least {quantity.fewest} needed.")
    inner = replace(quantity, many=1, fewest=2) if quantity.many == 2 else replace(quantity, many=0, fewest=1)
    for position, item in enumerate(value, start=1):
        check_value(f"{name}, {noun} {position}", inner, item)


def _wanted(quantity: Quantity) -> str:
    kind = "a whole number" if quantity.whole else "a value"
    unit = _unit(quantity)
    below, above = quantity.low <= -HUGE, quantity.high >= HUGE
    if below and above:
        return f"{kind}{' in' + unit if unit else ''} for the {quantity.name}"
    if above:
        return f"{kind} of at least {quantity.low:g}{unit} for the {quantity.name}"
    if below:
        return f"{kind} of at most {quantity.high:g}{unit} for the {quantity.name}"
    return f"{kind} from {quantity.low:g} to {quantity.high:g}{unit} for the {quantity.name}"


def _unit(quantity: Quantity) -> str:
    return f" {quantity.unit}" if quantity.unit else ""


_ABSENT: Final = object()
