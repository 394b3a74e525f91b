"""Sugar: reading a refractometer. Other modules of the topic hold juices and acid, trial statistics and planning."""

from collections.abc import Sequence
from typing import Annotated, Final

from waterleaf.calc.quantity import Constant, Quantity, cite, lookup, relation

_TABLE_READ: Final = "rows and columns of the published table that were read"
_INDEX_RANGE: Final = "from pure water to 50 degrees Brix, where the polynomial was compared with a table"
_GRAVITY_RANGE: Final = "the source gives its polynomial up to 1.17874, which is 40 degrees Brix"

Reading = Annotated[float, Quantity("B_read", "degBx", "reading of the refractometer", 0, 25, basis=_TABLE_READ)]
ScaleReading = Annotated[
    float, Quantity("B_read", "degBx", "reading of the refractometer", 0, 32, basis="scale of a hand refractometer")
]
ZeroReading = Annotated[float, Quantity("B_0", "degBx", "reading of pure water", -5, 5)]
ZeroedBrix = Annotated[float, Quantity("B", "degBx", "reading freed of the zero error", -5, 37)]
PrismTemperature = Annotated[
    float, Quantity("T", "degC", "temperature of juice and prism", 10, 22, basis=_TABLE_READ)
]
TrueBrix = Annotated[float, Quantity("B_20", "degBx", "soluble solids at 20 degrees Celsius", -1, 40)]
Correction = Annotated[float, Quantity("c", "degBx", "temperature correction", -2, 2)]
RefractiveIndex = Annotated[
    float, Quantity("n", "", "refractive index at 20 degrees Celsius and 589 nm", 1.3329, 1.42, basis=_INDEX_RANGE)
]
IndexBrix = Annotated[float, Quantity("B", "degBx", "soluble solids as sucrose", 0, 49, basis=_INDEX_RANGE)]
SpecificGravity = Annotated[
    float, Quantity("S", "", "specific gravity, both at 20 degrees Celsius", 1, 1.17874, basis=_GRAVITY_RANGE)
]
GravityBrix = Annotated[float, Quantity("B", "degBx", "soluble solids as sucrose", 0.1, 40, basis=_GRAVITY_RANGE)]


def _fitted(value: float, symbol: str, key: str) -> Constant:
    return Constant(value, symbol=symbol, unit="degBx", name="fitted coefficient", source=cite(key, "approximation"))


INDEX_5: Final = _fitted(11758.74, "a_5", "brix_polynomial")
INDEX_4: Final = _fitted(88885.21, "a_4", "brix_polynomial")
INDEX_3: Final = _fitted(270177.93, "a_3", "brix_polynomial")
INDEX_2: Final = _fitted(413145.80, "a_2", "brix_polynomial")
INDEX_1: Final = _fitted(318417.95, "a_1", "brix_polynomial")
INDEX_0: Final = _fitted(99127.4536, "a_0", "brix_polynomial")
GRAVITY_3: Final = _fitted(182.4601, "b_3", "brix_polynomial")
GRAVITY_2: Final = _fitted(775.6821, "b_2", "brix_polynomial")
GRAVITY_1: Final = _fitted(1262.7794, "b_1", "brix_polynomial")
GRAVITY_0: Final = _fitted(669.5622, "b_0", "brix_polynomial")
ROUGH_SLOPE: Final = _fitted(231.61, "k", "brix_polynomial")
ROUGH_ZERO: Final = Constant(
    0.9977, symbol="S_0", unit="", name="offset of the rough rule", source=cite("brix_polynomial", "approximation")
)

# Rows: temperature; columns: reading 0, 5, 10, 15, 20, 25 degrees Brix. To be added to the reading.
_CORRECTION_COLUMNS: Final = (0.0, 5.0, 10.0, 15.0, 20.0, 25.0)
TEMPERATURE_CORRECTIONS: Final[dict[float, tuple[float, ...]]] = {
    10.0: (-0.50, -0.54, -0.58, -0.61, -0.64, -0.66),
    11.0: (-0.46, -0.49, -0.53, -0.55, -0.58, -0.60),
    12.0: (-0.42, -0.45, -0.48, -0.50, -0.52, -0.54),
    13.0: (-0.37, -0.40, -0.42, -0.44, -0.46, -0.48),
    14.0: (-0.33, -0.35, -0.37, -0.39, -0.40, -0.41),
    15.0: (-0.27, -0.29, -0.31, -0.33, -0.34, -0.34),
    16.0: (-0.22, -0.24, -0.25, -0.26, -0.27, -0.28),
    17.0: (-0.17, -0.18, -0.19, -0.20, -0.21, -0.21),
    18.0: (-0.12, -0.13, -0.13, -0.14, -0.14, -0.14),
    19.0: (-0.06, -0.06, -0.06, -0.07, -0.07, -0.07),
    20.0: (0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    21.0: (0.06, 0.07, 0.07, 0.07, 0.07, 0.08),
    22.0: (0.13, 0.13, 0.14, 0.14, 0.15, 0.15),
}


@lookup("c", "the table correction at", cite("gost_refractometer", "table A.1"))
def table_correction(temperature: float, reading: float) -> float:
    """Temperature correction between the nearest rows and columns of the table [degBx]."""
    rows = sorted(TEMPERATURE_CORRECTIONS)
    low, high, share = _neighbours(rows, temperature)
    return (1 - share) * _along_row(low, reading) + share * _along_row(high, reading)


def _along_row(temperature: float, reading: float) -> float:
    low, high, share = _neighbours(_CORRECTION_COLUMNS, reading)
    row = TEMPERATURE_CORRECTIONS[temperature]
    return (1 - share) * row[_CORRECTION_COLUMNS.index(low)] + share * row[_CORRECTION_COLUMNS.index(high)]


def _neighbours(marks: Sequence[float], value: float) -> tuple[float, float, float]:
    """The marks on either side of a value, and how far it lies between them."""
    low = max(mark for mark in marks if mark <= value)
    high = min(mark for mark in marks if mark >= value)
    return low, high, 0.0 if high == low else (value - low) / (high - low)


@relation(cite("gost_beverages", "section 4: the instrument is set with distilled water"))
def zeroed_reading(*, reading: ScaleReading, zero_reading: ZeroReading) -> ZeroedBrix:
    """Reading freed of the zero error that pure water shows.

    Parameters
    ----------
    reading : what the scale shows for the juice [degBx]
    zero_reading : what it shows for distilled water at the same temperature [degBx]

    Returns
    -------
    Reading without the zero error [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Setting the screw to zero is better. Water read off 20 degrees Celsius shows the temperature error of water as
    well: correct one or the other, not both.

    Examples
    --------
    >>> round(zeroed_reading(reading=5.1, zero_reading=0.3), 2)
    4.8
    """
    return reading - zero_reading


@relation(cite("gost_refractometer", "table A.1"), empirical="the correction is read from a table")
def corrected_brix(*, reading: Reading, temperature: PrismTemperature) -> TrueBrix:
    """Reading of a refractometer without automatic compensation, brought to 20 degrees Celsius.

    Parameters
    ----------
    reading : what the scale shows [degBx]
    temperature : temperature of juice and prism [degC]

    Returns
    -------
    Soluble solids at 20 degrees Celsius [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    For an instrument zeroed at 20 degrees Celsius. One that compensates by itself must not be corrected again. Two
    generations of tables are in use and differ by up to 0.02 degrees Brix here; this one starts at 0 degrees Brix,
    the newer one (OIV-MA-AS2-02, table I) at 10, so lettuce and tomato need no guess beyond the table. Rows above 22
    degrees Celsius were not read: bring the juice nearer to 20.

    Examples
    --------
    >>> round(corrected_brix(reading=10.0, temperature=15.0), 2)  # table A.1: -0.31 at 15 C, 10 Brix
    9.69
    """
    correction: Correction = table_correction(temperature, reading)
    return reading + correction


@relation(cite("brix_polynomial", "polynomial of degree five in the refractive index"))
def brix_from_index(*, refractive_index: RefractiveIndex) -> IndexBrix:
    """Degrees Brix of a sucrose solution from its refractive index at 20 degrees Celsius.

    Parameters
    ----------
    refractive_index : at 20 degrees Celsius and 589 nm, a pure number

    Returns
    -------
    Sucrose, or what in juice counts as sucrose [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Within 0.07 of a four-decimal sucrose table up to 30 degrees Brix and within 0.11 up to 50. Tables for glucose
    syrup look alike and lie about 0.45 higher at 10.

    Examples
    --------
    >>> round(brix_from_index(refractive_index=1.3479), 2)  # a table of sucrose solutions has 10
    10.03
    """
    return (
        INDEX_5 * refractive_index**5 - INDEX_4 * refractive_index**4 + INDEX_3 * refractive_index**3
        - INDEX_2 * refractive_index**2 + INDEX_1 * refractive_index - INDEX_0
    )


@relation(cite("brix_polynomial", "polynomial of degree five, solved for the refractive index"), procedure=True)
def index_from_brix(*, brix: IndexBrix) -> RefractiveIndex:
    """Refractive index at 20 degrees Celsius of a sucrose solution of given degrees Brix.

    Parameters
    ----------
    brix : sucrose [degBx]

    Returns
    -------
    Refractive index at 589 nm, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(index_from_brix(brix=10.0), 6)
    1.347853
    """
    from scipy.optimize import brentq

    return float(brentq(lambda index: brix_from_index(refractive_index=index) - brix, 1.3329, 1.42, xtol=1e-13))


@relation(cite("brix_polynomial", "cubic in the specific gravity, from a table of the National Bureau of Standards"))
def brix_from_gravity(*, specific_gravity: SpecificGravity) -> GravityBrix:
    """Degrees Brix of a sucrose solution from its specific gravity at 20 over 20 degrees Celsius.

    Parameters
    ----------
    specific_gravity : density over that of water, both at 20 degrees Celsius, a pure number

    Returns
    -------
    Sucrose, or what in juice counts as sucrose [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(brix_from_gravity(specific_gravity=1.04), 4)
    9.9934
    """
    return (
        GRAVITY_3 * specific_gravity**3 - GRAVITY_2 * specific_gravity**2
        + GRAVITY_1 * specific_gravity - GRAVITY_0
    )


@relation(cite("brix_polynomial", "cubic in the specific gravity, solved for it"), procedure=True)
def gravity_from_brix(*, brix: GravityBrix) -> SpecificGravity:
    """Specific gravity at 20 over 20 degrees Celsius of a sucrose solution of given degrees Brix.

    Parameters
    ----------
    brix : sucrose [degBx]

    Returns
    -------
    Specific gravity, a pure number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> round(gravity_from_brix(brix=10.0), 6)
    1.040027
    """
    from scipy.optimize import brentq

    # The cubic reaches 40.0004 at the last specific gravity it is given for.
    return float(brentq(lambda gravity: brix_from_gravity(specific_gravity=gravity) - brix, 1.0, 1.17874, xtol=1e-13))


@relation(cite("brix_polynomial", "rough rule in the specific gravity"))
def rough_brix_from_gravity(*, specific_gravity: SpecificGravity) -> GravityBrix:
    """Degrees Brix from specific gravity by a straight line, for a check in the head.

    Parameters
    ----------
    specific_gravity : density over that of water, both at 20 degrees Celsius, a pure number

    Returns
    -------
    Sucrose, roughly [degBx].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Up to 0.1 too high near 5 and 0.25 too low near 20 degrees Brix.

    Examples
    --------
    >>> round(rough_brix_from_gravity(specific_gravity=1.040027), 2)
    9.8
    """
    return ROUGH_SLOPE * (specific_gravity - ROUGH_ZERO)
