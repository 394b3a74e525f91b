"""Feed for a period: how much to buy, in how many bags, and what protein and nitrogen come in with it."""

import math
from typing import Annotated, Final

from waterleaf.calc.common import GRAMS_PER_KILOGRAM, HUNDRED_PERCENT
from waterleaf.calc.feed.ration import DailyFeed, FeedFed
from waterleaf.calc.quantity import Constant, Quantity, cite, relation

Days = Annotated[float, Quantity("t", "day", "number of days", 1, 3650)]
FeedStore = Annotated[float, Quantity("F_buy", "kg", "feed for the period", 0.001, 10_000_000)]
BagSize = Annotated[float, Quantity("m_bag", "kg", "feed in a bag", 0.5, 1500)]
BagCount = Annotated[float, Quantity("n_bag", "", "bags to buy", 1, 10_000_000)]
FeedProtein = Annotated[
    float,
    Quantity("p", "percent", "protein in the feed", 10, 65, basis="fish feeds run from about 20 to 55 % protein"),
]
ProteinMass = Annotated[float, Quantity("P", "kg", "protein", 0.0001, 10_000_000)]
NitrogenMass = Annotated[float, Quantity("N_feed", "g", "nitrogen in the feed", 0.001, 1_000_000_000)]

PROTEIN_PER_NITROGEN: Final = Constant(
    6.25, symbol="6.25", unit="", name="protein for each gram of nitrogen",
    source=cite("fao77", "chapter 2, the single factor 6.25 and the range of true factors"), low=5.26, high=7.69,
)


@relation(cite("losordo_guerdat", "52.4 kg a day over 230 days is 12.1 metric tons"))
def feed_purchase(*, daily_feed: DailyFeed, days: Days) -> FeedStore:
    """Feed that a system eats in a period.

    Parameters
    ----------
    daily_feed : mean feed for the whole system [g/day]
    days : length of the period [day]

    Returns
    -------
    Feed [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Feed ages: vitamins and oil spoil within months, sooner in a hot store. Buy for no longer than the label's date.
    Feed dust irritates lungs; mouldy feed is thrown away, never fed.

    Examples
    --------
    >>> round(feed_purchase(daily_feed=52400.0, days=230.0) / 1000, 1)  # Losordo and Guerdat: 12.1 metric tons
    12.1
    """
    return daily_feed * days / GRAMS_PER_KILOGRAM


@relation(
    cite("arithmetic", "bags are bought whole", "definition"),
    empirical="bags are bought whole: the count is rounded up",
)
def feed_bags(*, feed_store: FeedStore, bag_size: BagSize) -> BagCount:
    """Whole bags that hold an amount of feed.

    Parameters
    ----------
    feed_store : feed needed [kg]
    bag_size : feed in one bag [kg]

    Returns
    -------
    Bags, a whole number.

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> feed_bags(feed_store=75.6, bag_size=20.0)
    4
    """
    return math.ceil(feed_store / bag_size)


@relation(cite("arithmetic", "share of a mass", "definition"))
def feed_protein(*, feed_fed: FeedFed, protein: FeedProtein) -> ProteinMass:
    """Protein that comes in with an amount of feed.

    Parameters
    ----------
    feed_fed : feed [kg]
    protein : crude protein on the label [percent]

    Returns
    -------
    Protein [kg].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Examples
    --------
    >>> feed_protein(feed_fed=25.0, protein=32.0)
    8.0
    """
    return feed_fed * protein / HUNDRED_PERCENT


@relation(cite("fao77", "chapter 2: crude protein is nitrogen times 6.25"))
def feed_nitrogen(*, feed_fed: FeedFed, protein: FeedProtein) -> NitrogenMass:
    """Nitrogen that comes in with an amount of feed.

    Parameters
    ----------
    feed_fed : feed [kg]
    protein : crude protein on the label [percent]

    Returns
    -------
    Nitrogen [g].

    Raises
    ------
    OutOfRange : an argument outside its valid range.

    Notes
    -----
    Crude protein on a label is measured nitrogen times 6.25, so dividing by 6.25 gives the measured nitrogen back,
    although the true factor of a single protein lies anywhere from 5.26 to 7.69.

    Examples
    --------
    >>> round(feed_nitrogen(feed_fed=1.0, protein=32.0), 1)
    51.2
    """
    mass: ProteinMass = feed_protein(feed_fed=feed_fed, protein=protein)
    return mass * GRAMS_PER_KILOGRAM / PROTEIN_PER_NITROGEN
