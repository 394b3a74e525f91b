"""Covers: printed resistances of panels and glass, and what a house loses through each."""

from dataclasses import dataclass
from typing import Annotated, Final

from waterleaf.calc.energy.warmth import US_U_VALUE, CoverArea, InsideTemperature, OutsideTemperature
from waterleaf.calc.quantity import Citation, Quantity, cite, relation

_BLOG: Final[Citation] = cite("greenhousegab", "R-values of panels")
_SHEETS: Final[Citation] = cite("multiwall_sheets", "U-values of twin and triple wall sheets")


@dataclass(frozen=True, slots=True)
class Cover:
    """A cover and its thermal resistance as printed in the United States, in hour ft2 F/Btu."""

    name: str
    us_resistance: float
    source: Citation

    @property
    def u_value(self) -> float:
        """Heat that passes a square metre for each degree [W/m^2/K]."""
        return US_U_VALUE / self.us_resistance


# The sheet maker prints U; the other source prints R. Twin wall of one thickness differs between them.
COVERS: Final = (
    Cover("single glass", 0.95, _BLOG),
    Cover("double glass", 2.0, _BLOG),
    Cover("twin wall, 6 mm", 1.54, _BLOG),
    Cover("twin wall, 8 mm", 1.69, _BLOG),
    Cover("triple wall, 8 mm", 2.0, _BLOG),
    Cover("five walls", 3.2, _BLOG),
    Cover("twin wall, 4 mm, by a sheet maker", 1 / 0.72, _SHEETS),
    Cover("twin wall, 6 mm, by a sheet maker", 1 / 0.62, _SHEETS),
    Cover("twin wall, 8 mm, by a sheet maker", 1 / 0.60, _SHEETS),
    Cover("twin wall, 10 mm, by a sheet maker", 1 / 0.56, _SHEETS),
    Cover("triple wall, 16 mm, by a sheet maker", 1 / 0.42, _SHEETS),
)


@dataclass(frozen=True, slots=True)
class CoverRow:
    """One cover: its U-value, the heat a house loses through it, and the share saved against single glass."""

    cover: str
    u_value: float
    heat_loss: float
    saving: float
    source: Citation


CoverTable = Annotated[tuple[CoverRow, ...], Quantity("", "", "heat loss by cover")]


@relation(_BLOG, _SHEETS, cite("uga_heating", "Q = U A (Ti - To)"), procedure=True)
def cover_comparison(
    *, cover_area: CoverArea, inside_temperature: InsideTemperature, outside_temperature: OutsideTemperature
) -> CoverTable:
    """Heat that a house loses through each of the printed covers, with the saving against single glass.

    Parameters
    ----------
    cover_area : area of roof, walls and gables [m^2]
    inside_temperature : temperature inside [degC]
    outside_temperature : temperature outside [degC]

    Returns
    -------
    A row for each cover: U-value [W/m^2/K], heat loss [W], saving [percent], source.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> rows = cover_comparison(cover_area=100.0, inside_temperature=15.0, outside_temperature=-5.0)
    >>> [round(row.saving) for row in rows[:3]]
    [0, 52, 38]
    """
    difference = inside_temperature - outside_temperature
    bare = COVERS[0].u_value
    return tuple(
        CoverRow(
            cover.name, cover.u_value, cover.u_value * cover_area * difference, 100 * (1 - cover.u_value / bare),
            cover.source,
        )
        for cover in COVERS
    )
