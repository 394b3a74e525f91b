"""Crops, vines: how long a trained stem grows, and how often it is let down."""

from typing import Annotated

from waterleaf.calc.quantity import Quantity, cite, relation

StartLength = Annotated[float, Quantity("L_0", "cm", "length of the stem at the start", 0, 2000)]
YoungLength = Annotated[float, Quantity("L_0", "cm", "length of the young stem, below the wire", 0, 200)]
GrowthRate = Annotated[
    float, Quantity("g", "cm/week", "growth of the stem", 1, 120, basis="up to 60 cm a week is published for cucumber")
]
WeeksGrown = Annotated[float, Quantity("t", "week", "weeks of growth", 0.1, 60)]
StemLength = Annotated[float, Quantity("L", "cm", "length of the stem", 0, 10_000)]
WireHeight = Annotated[float, Quantity("L_w", "cm", "height of the wire above the bed", 50, 600)]
LaidLength = Annotated[float, Quantity("L_f", "cm", "stem laid down below the wire", 0, 10_000)]
LoweringStep = Annotated[float, Quantity("l", "cm", "stem let down at a time", 5, 300)]
LoweringInterval = Annotated[float, Quantity("i_l", "week", "time between lowerings", 0.01, 300)]


@relation(
    cite("estidamah2018", "stems grow up to 60 cm a week"),
    cite("trade", "a trained cucumber reaches 8 to 10 ft in six weeks", "common practice"),
)
def vine_length(*, start_length: StartLength, growth_rate: GrowthRate, weeks: WeeksGrown) -> StemLength:
    """Length of a trained stem after some weeks.

    Parameters
    ----------
    start_length : length at the start [cm]
    growth_rate : growth of the stem [cm/week]
    weeks : weeks of growth [week]

    Returns
    -------
    Length of the stem [cm].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> vine_length(start_length=20.0, growth_rate=45.0, weeks=6.0)
    290.0
    """
    return start_length + growth_rate * weeks


@relation(cite("estidamah2018", "stems grow up to 60 cm a week"), cite("arithmetic", "length over rate", "definition"))
def weeks_to_wire(*, wire_height: WireHeight, start_length: YoungLength, growth_rate: GrowthRate) -> WeeksGrown:
    """Weeks until a trained stem reaches the wire.

    Parameters
    ----------
    wire_height : height of the wire above the bed [cm]
    start_length : length at the start, below the wire [cm]
    growth_rate : growth of the stem [cm/week]

    Returns
    -------
    Weeks to the wire [week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> weeks_to_wire(wire_height=245.0, start_length=20.0, growth_rate=45.0)
    5.0
    """
    return (wire_height - start_length) / growth_rate


@relation(
    cite("estidamah2018", "the bare stem is laid down below the crop"),
    cite("arithmetic", "what is longer than the wire is high", "definition"),
)
def stem_laid_down(*, stem_length: StemLength, wire_height: WireHeight) -> LaidLength:
    """Stem that must lie below the crop once the tip is held at the wire.

    Parameters
    ----------
    stem_length : length of the stem [cm]
    wire_height : height of the wire above the bed [cm]

    Returns
    -------
    Stem laid down, nothing while the wire is not reached [cm].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> stem_laid_down(stem_length=900.0, wire_height=250.0)
    650.0
    """
    return max(stem_length - wire_height, 0)


@relation(
    cite("estidamah2018", "the training wire is lengthened and shifted as the stem grows"),
    cite("arithmetic", "length over rate", "definition"),
)
def lowering_interval(*, lowering_step: LoweringStep, growth_rate: GrowthRate) -> LoweringInterval:
    """Time between lowerings that keeps the tip of a vine below the wire.

    Parameters
    ----------
    lowering_step : stem let down at a time [cm]
    growth_rate : growth of the stem [cm/week]

    Returns
    -------
    Time between lowerings [week].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> lowering_interval(lowering_step=45.0, growth_rate=30.0)
    1.5
    """
    return lowering_step / growth_rate
