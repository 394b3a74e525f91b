"""Tables of the nutrient balance, each part with what it comes from, so that every source closes."""

from dataclasses import dataclass
from typing import Annotated

from waterleaf.calc.feed.purchase import FeedProtein, feed_nitrogen
from waterleaf.calc.feed.ration import FeedFed, LiveGain
from waterleaf.calc.quantity import OutOfRange, Quantity, cite, relation
from waterleaf.calc.returns.balance import (
    Drawn,
    FeedPhosphorus,
    FishPhosphorus,
    FishProtein,
    Mineralised,
    SolidsPart,
    feed_phosphorus,
    fish_nitrogen,
    fish_phosphorus,
)

Uptake = Annotated[float, Quantity("N_crop", "g", "nutrient taken up by the crop", 0, 1e10)]


@dataclass(frozen=True, slots=True)
class BalanceRow:
    """One part of the feed's nutrient: what it comes from, how much [g], and its share of the feed [percent]."""

    part: str
    source: str
    amount: float
    share: float


BalanceTable = Annotated[tuple[BalanceRow, ...], Quantity("", "", "nutrient balance")]


@relation(
    cite("arithmetic", "mass balance of the nutrient", "definition"),
    cite("cripps2000", "share in solids"),
    procedure=True,
)
def nitrogen_balance(
    *, feed_fed: FeedFed, protein: FeedProtein, gain: LiveGain, fish_protein: FishProtein, solids_part: SolidsPart,
    mineralised: Mineralised, drawn: Drawn, uptake: Uptake = 0.0,
) -> BalanceTable:
    """Where the feed's nitrogen goes: fish, water, solids, back to the loop, crop, and what is left over.

    Parameters
    ----------
    feed_fed : feed fed over the period [kg]
    protein : crude protein in the feed [percent]
    gain : live weight gained in the period [kg]
    fish_protein : protein in the live fish [percent]
    solids_part : share of the waste that is in solids [percent]
    mineralised : share of the solids' nitrogen that is set free [percent]
    drawn : share of the freed nitrogen that is drawn off clear [percent]
    uptake : nitrogen taken up by the crop in the period [g]

    Returns
    -------
    Rows: part, what it comes from, amount [g], share of the feed [percent]. Parts of one source add up to it.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or parts that are larger than what they come from.

    Notes
    -----
    The last row is found by difference: gas from denitrification, ammonia lost to the air, nitrate that builds up or
    leaves with water, and every error of the other rows.

    Examples
    --------
    >>> rows = nitrogen_balance(feed_fed=1.0, protein=32.0, gain=0.588, fish_protein=16.0, solids_part=18.0,
    ...                         mineralised=50.0, drawn=80.0)
    >>> [round(row.amount, 1) for row in rows]
    [51.2, 15.1, 29.6, 6.5, 2.6, 3.9, 0.0, 32.2]
    """
    fed = feed_nitrogen(feed_fed=feed_fed, protein=protein)
    return _rows(fed, fish_nitrogen(gain=gain, fish_protein=fish_protein), solids_part, mineralised, drawn, uptake)


@relation(
    cite("arithmetic", "mass balance of the nutrient", "definition"),
    cite("cripps2000", "share in solids"),
    procedure=True,
)
def phosphorus_balance(
    *, feed_fed: FeedFed, phosphorus: FeedPhosphorus, gain: LiveGain, fish_share: FishPhosphorus,
    solids_part: SolidsPart, mineralised: Mineralised, drawn: Drawn, uptake: Uptake = 0.0,
) -> BalanceTable:
    """Where the feed's phosphorus goes: fish, water, solids, back to the loop, crop, and what is left over.

    Parameters
    ----------
    feed_fed : feed fed over the period [kg]
    phosphorus : phosphorus in the feed [percent]
    gain : live weight gained in the period [kg]
    fish_share : phosphorus in the live fish [percent]
    solids_part : share of the waste that is in solids [percent]
    mineralised : share of the solids' phosphorus that is set free [percent]
    drawn : share of the freed phosphorus that is drawn off clear [percent]
    uptake : phosphorus taken up by the crop in the period [g]

    Returns
    -------
    Rows: part, what it comes from, amount [g], share of the feed [percent]. Parts of one source add up to it.

    Raises
    ------
    OutOfRange : an argument outside its valid range, or parts that are larger than what they come from.

    Notes
    -----
    Phosphorus has no gas: the last row is what builds up in water and pipes, leaves with water, or was measured wrong.

    Examples
    --------
    >>> rows = phosphorus_balance(feed_fed=1.0, phosphorus=1.2, gain=0.6, fish_share=0.8, solids_part=60.0,
    ...                           mineralised=40.0, drawn=80.0, uptake=2.0)
    >>> [round(row.amount, 2) for row in rows]
    [12.0, 4.8, 2.88, 4.32, 1.38, 2.94, 2.0, 2.26]
    """
    fed = feed_phosphorus(feed_fed=feed_fed, phosphorus=phosphorus)
    return _rows(fed, fish_phosphorus(gain=gain, phosphorus=fish_share), solids_part, mineralised, drawn, uptake)


def _rows(
    fed: float, kept: float, solids_part: float, mineralised: float, drawn: float, uptake: float
) -> tuple[BalanceRow, ...]:
    """The parts of a nutrient; each remainder is a difference, so that the parts close."""
    waste = fed - kept
    if waste < 0:
        raise OutOfRange(
            f"gain: the fish would hold {kept:.4g} g, more than the {fed:.4g} g in the feed. "
            "Give a smaller gain or more feed."
        )
    solids = waste * solids_part / 100
    dissolved = waste - solids
    returned = solids * mineralised * drawn / 10_000
    left = dissolved + returned - uptake
    if left < 0:
        raise OutOfRange(
            f"uptake: {uptake:.4g} g is more than the {dissolved + returned:.4g} g in the water. "
            "Give a smaller uptake, or count what else feeds the crop."
        )
    parts = (
        ("in the feed", "", fed),
        ("kept by the fish", "feed", kept),
        ("dissolved by the fish", "feed", dissolved),
        ("in solids", "feed", solids),
        ("returned to the water", "solids", returned),
        ("left in sludge", "solids", solids - returned),
        ("taken up by the crop", "water", uptake),
        ("lost or left in the water", "water", left),
    )
    return tuple(BalanceRow(part, source, amount, 100 * amount / fed) for part, source, amount in parts)
