"""Facts about fish and crops, and the values that a check assumes where a file gives none: each with its source.

Nothing here is used in silence. A check lists every assumed value that it leaned on, and the growing file can put a
value of its own in its place under `measured`.
"""

from dataclasses import dataclass
from typing import Final

from waterleaf.calc.quantity import Citation, cite
from waterleaf.calc.sources import SOURCES, Source
from waterleaf.growing.measures import Measure

# Publications that only the growing file leans on.
_MORE: Final[dict[str, Source]] = {
    "hicks2009": Source(
        "Hicks, C. E., Ellersieck, M. R., Borgwordt, C. Y.", "2009", "Production methods for food-sized bluegills",
        "North American Journal of Aquaculture 71", "zendy.io/title/10.1577/a07-088.1, abstract",
    ),
    "sugiura2000": Source(
        "Sugiura, S. H.", "2000, revised 2005", "Review: phosphorus in fish nutrition", "published by the author",
        "yumpu.com/en/document/view/18501279, page 82",
    ),
    "nitrifier_doublings": Source(
        "Maker of bacterial cultures", "undated", "Doubling times of ammonia and nitrite oxidisers by temperature",
        "web page of the maker", "asterbio.com/?p=35769",
    ),
    "durborow1997": Source(
        "Durborow, R. M., Crosby, D. M., Brunson, M. W.", "1997", "Nitrite in fish ponds",
        "Southern Regional Aquaculture Center, publication 462", "docslib.org/doc/2017500/nitrite-in-fish-ponds",
    ),
    "bluegill_warmth": Source(
        "Authors not visible in the copy read", "undated",
        "Growth rates and temperature selection of bluegill, Lepomis macrochirus", "abstract in a list of publications",
        "scilit.com/publications/84368358a05af3a93ef105a7b38d3ea9",
    ),
}


def reference(citation: Citation) -> str:
    """A citation in words: who, when, where in it, and how we know."""
    source = {**SOURCES, **_MORE}[citation.key]
    known = {"memory": "from memory", "common practice": "common practice, no source"}.get(citation.status, "")
    if citation.key == "trade":
        return f"{citation.locus} (common practice, no source)"
    return f"{source.short}, {citation.locus}" + (f" ({known})" if known else "")


@dataclass(frozen=True, slots=True)
class Species:
    """A fish: the water temperatures in which it grows well [degC], what it is known by, the nitrite nitrogen that
    harms it [mg/L], and how its gills deal with nitrite."""

    coldest: float
    warmest: float
    source: Citation
    nitrite: float
    gills: str


_SENSITIVE: Final = "fairly sensitive to nitrite"
_NOT_TOLD: Final = "how sensitive they are is not told there"
NITRITE_LIMIT: Final = cite(
    "somerville2014", "section 7.3: harmful above 1 mg/L; table 3.1: below 0.1 mg/L for cold-water fish"
)
NITRITE_GILLS: Final = cite("durborow1997", "which fish take nitrite in")


def _guide(low: float, high: float, gills: str = _NOT_TOLD, nitrite: float = 1.0) -> Species:
    return Species(low, high, cite("somerville2014", "table of fish for small systems", "memory"), nitrite, gills)


SPECIES: Final[dict[str, Species]] = {
    "bluegill": Species(
        25, 31, cite("bluegill_warmth", "young fish grew alike at 25, 28 and 30 to 31 °C, and less at 34 °C"), 1.0,
        "resistant: their gills keep it out, so that this limit is a careful one",
    ),
    "nile tilapia": _guide(27, 30, _SENSITIVE),
    "channel catfish": _guide(24, 30, _SENSITIVE),
    "common carp": _guide(25, 30),
    "barramundi": _guide(26, 29),
    "rainbow trout": _guide(14, 16, "sensitive to extremely small amounts", 0.1),
}

# Whether a crop is grown for its leaves or its fruit; plain knowledge of the trade.
CROP_KINDS: Final[dict[str, str]] = {
    **dict.fromkeys(
        ("lettuce", "basil", "chard", "kale", "pak choi", "spinach", "parsley", "mint", "coriander", "watercress",
         "celery", "rocket", "mustard greens", "spring onion"),
        "leafy",
    ),
    **dict.fromkeys(
        ("tomato", "cucumber", "sweet pepper", "strawberry", "aubergine", "bean", "courgette", "melon", "okra"),
        "fruiting",
    ),
}


@dataclass(frozen=True, slots=True)
class Assumed:
    """A value that stands in where a file gives none."""

    value: float
    measure: Measure
    meaning: str
    source: Citation


def _share(value: float, meaning: str, source: Citation) -> Assumed:
    return Assumed(value, Measure("percent", 0, 100), meaning, source)


def _practice(what: str) -> Citation:
    """A rule of thumb that nobody is cited for."""
    return cite("trade", what, "common practice")


# Values that only the look ahead over a term leans on.
_TERM: Final[dict[str, Assumed]] = {
    "feed.phosphorus": Assumed(
        1.2, Measure("percent", 0.1, 4), "phosphorus in the feed", _practice("about 1 % on many labels"),
    ),
    "feed.dry": Assumed(92, Measure("percent", 50, 100), "dry matter in the feed", _practice("dry pellets")),
    "feed.extra_eaten": _share(50, "share of the feed beyond the plan that is eaten", _practice("about half")),
    "fish.phosphorus": Assumed(
        0.5, Measure("percent", 0.05, 2), "phosphorus in live fish",
        cite("sugiura2000", "table of whole bodies, wet: 0.37 to 0.59 % in most, 0.40 to 0.49 % in tilapia"),
    ),
    "fish.appetite_lost": Assumed(
        10, Measure("percent", 0, 100), "feed left for each degree above the warmth in which the fish grow well",
        _practice("fish eat less when it is too warm"),
    ),
    "solids.phosphorus_part": _share(
        57, "share of the wasted phosphorus that is in solids", cite("cripps2000", "30 to 84 %, the middle")
    ),
    "solids.breakdown": Assumed(
        10, Measure("percent", 0.01, 99), "solids in the loop that break down in a day", _practice("a tenth a day"),
    ),
    "solids.carbon": Assumed(
        40, Measure("percent", 10, 60), "carbon in the dry solids",
        cite("boyd_demand", "about 40 % in feed; taken alike"),
    ),
    "solids.resettled": Assumed(
        30, Measure("percent", 0, 99), "suspended solids that settle in the tank after all, in a day",
        _practice("the water comes round many times a day"),
    ),
    "sludge.phosphorus_mineralised": _share(
        35, "share of the solids' phosphorus that air sets free", cite("delaide2018", "10 to 60 %, the middle"),
    ),
    "sludge.residue_out": _share(
        50, "share of the settled residue that is taken out at a draw-off", _practice("half stays as a starter"),
    ),
    "loop.denitrified": Assumed(
        20, Measure("percent", 0, 90), "share of the new nitrate that is lost as nitrogen gas",
        _practice("mud and roots without air; it was never measured here"),
    ),
    "filter.raft_removal": Assumed(
        2.9, Measure("g/m^2/day", 0, 10), "ammonia nitrogen that a square metre of raft can remove a day",
        cite(
            "rakocy2007", "guideline 1: rafts alone carry up to 100 g of feed, here with 32 % protein; 0.56 g was "
            "measured on rafts that had less to do"
        ),
    ),
    "filter.pass_share": Assumed(
        50, Measure("percent", 1, 100), "share of the ammonia that the filter removes in one pass",
        _practice("about half"),
    ),
    "filter.nitrite_ratio": Assumed(
        1.11, Measure("", 0.1, 10), "nitrite removed over ammonia removed, by the same surface",
        cite("uvi_slides", "romaine rafts removed 0.62 g of nitrite nitrogen where they removed 0.56 g of ammonia's"),
    ),
    "filter.grown": Assumed(
        100, Measure("percent", 0.001, 100), "share of the filter that bacteria which take ammonia have grown over",
        _practice("a filter that has run for months; write 0.01 % for a new one"),
    ),
    "filter.nitrite_grown": Assumed(
        100, Measure("percent", 0.001, 100), "share of the filter that bacteria which take nitrite have grown over",
        _practice("a filter that has run for months; write 0.01 % for a new one"),
    ),
    "filter.doubling_hours": Assumed(
        21, Measure("hour", 5, 200), "time in which bacteria that take ammonia double at 20 °C and plenty",
        cite("nitrifier_doublings", "18 to 24 hours at 20 °C, the middle"),
    ),
    "filter.nitrite_doubling_hours": Assumed(
        26, Measure("hour", 5, 200), "time in which bacteria that take nitrite double at 20 °C and plenty",
        cite("nitrifier_doublings", "22 to 30 hours at 20 °C, the middle"),
    ),
    "filter.warmth_base": Assumed(
        1.09, Measure("", 1, 1.2), "growth of the filter's capacity with each degree",
        cite("rusten2006", "1.09 for each degree", "memory"),
    ),
    "crop.phosphorus_uptake": Assumed(
        0.17, Measure("g/m^2/day", 0.001, 10), "phosphorus taken up by a square metre a day",
        cite("uvi_slides", "removal by romaine lettuce"),
    ),
    "crop.transpiration": Assumed(
        2.2, Measure("L/m^2/day", 0, 30), "water that a square metre of crop gives off a day",
        cite("barbosa2015", "abstract: lettuce in water, 20 L a kilogram, 41 kg a square metre a year", "computed"),
    ),
    "crop.late_loss": Assumed(
        3, Measure("percent", 0, 100), "heads lost for each day that the harvest is late",
        _practice("bolting, rot and bitter leaves"),
    ),
    "water.evaporation": Assumed(
        3, Measure("mm/day", 0, 30), "evaporation from open water", _practice("under cover"),
    ),
    "water.tap_alkalinity": Assumed(
        50, Measure("mg/L", 0, 500), "alkalinity of the new water, as calcium carbonate", _practice("soft tap water"),
    ),
    "water.nitrite": Assumed(
        0.3, Measure("mg/L", 0, 1000), "nitrite in the loop at the start, as nitrogen",
        _practice("a filter that has run for months"),
    ),
    "water.phosphorus": Assumed(
        10, Measure("mg/L", 0, 500), "phosphorus in the loop at the start", _practice("a loop that has run a year"),
    ),
    "water.warming": Assumed(
        30, Measure("percent", 1, 100), "share of the way to the air's new warmth that the water goes in a day",
        _practice("a few cubic metres under cover"),
    ),
    "oxygen.pump_part": Assumed(
        30, Measure("percent", 0, 95), "share of the tanks' oxygen that comes with the pumped water",
        _practice("the air stones bring the rest"),
    ),
    "oxygen.warmth_base": Assumed(
        1.07, Measure("", 1, 1.2), "growth of the oxygen used with each degree", _practice("twice for ten degrees"),
    ),
    "limit.nitrate": Assumed(
        150, Measure("mg/L", 10, 1000), "nitrate nitrogen beyond which water is exchanged",
        cite(
            "somerville2014", "table 3.2: 5 to 150 mg/L suit fish, crop and bacteria; taken as nitrogen, since it does "
            "not say"
        ),
    ),
    "limit.suspended": Assumed(
        40, Measure("mg/L", 5, 500), "suspended solids beyond which roots and gills suffer",
        _practice("limit set for this course"),
    ),
}

ASSUMED: Final[dict[str, Assumed]] = {
    **_TERM,
    "solids.share": _share(25, "dry solids in a day's feed", cite("rakocy2007", "guideline 5", "memory")),
    "solids.capture": _share(
        78, "share of the solids that the settling tank keeps",
        cite("davidson2005", "radial-flow settler at 268 m a day"),
    ),
    "solids.fine_capture": _share(
        50, "share of the escaped solids that the fine tank keeps",
        cite("trade", "half of what reaches the netting", "common practice"),
    ),
    "solids.sludge": Assumed(
        1, Measure("percent", 0.02, 20), "dry solids in the sludge as flushed",
        cite("timmons_ebeling", "0.5 to 2 % as drawn from a clarifier", "memory"),
    ),
    "solids.nitrogen_part": _share(
        20, "share of the wasted nitrogen that is in solids", cite("cripps2000", "7 to 32 %, near the middle"),
    ),
    "sludge.mineralised": _share(
        35, "share of the solids' nitrogen that air sets free", cite("delaide2018", "10 to 60 %, the middle"),
    ),
    "sludge.drawn": _share(
        50, "share of what is set free that is drawn off to the loop",
        cite("trade", "half of the tank is drawn off", "common practice"),
    ),
    "fish.protein": Assumed(
        16, Measure("percent", 10, 25), "protein in live fish", cite("huss1995", "composition of fish", "memory")
    ),
    "crop.uptake": Assumed(
        0.83, Measure("g/m^2/day", 0.01, 10), "nitrogen taken up by a square metre a day",
        cite("uvi2010", "removal by romaine lettuce"),
    ),
    "filter.removal": Assumed(
        0.45, Measure("g/m^2/day", 0.01, 10), "ammonia nitrogen removed by a square metre of media a day",
        cite("losordo2000", "trickling filter", "memory"),
    ),
    "filter.raft_capacity": Assumed(
        180, Measure("g/m^2/day", 5, 200), "feed whose ammonia a square metre of raft can deal with",
        cite("uvi_slides", "capacity of the raft beds; a reserve, see the lesson on chemistry"),
    ),
    "oxygen.per_feed": Assumed(
        400, Measure("g/kg", 100, 1500), "oxygen used for a kilogram of feed by fish and filter",
        cite("timmons_ebeling", "between 250 g for fish alone and 500 g with all breakdown", "memory"),
    ),
    "oxygen.transfer_ratio": Assumed(
        0.9, Measure("", 0.3, 1.1), "transfer in tank water over that in clean water",
        cite("trade", "ratio for tank water", "common practice"),
    ),
    "oxygen.saturation_ratio": Assumed(
        0.95, Measure("", 0.8, 1), "saturation of tank water over that of clean water",
        cite("trade", "ratio for tank water", "common practice"),
    ),
    "oxygen.transfer_base": Assumed(
        1.024, Measure("", 1, 1.05), "growth of the transfer with each degree",
        cite("trade", "base of the warmth correction", "common practice"),
    ),
    "oxygen.held": Assumed(
        5, Measure("mg/L", 1, 12), "oxygen that the tank shall never fall below",
        cite("boyd_oxygen", "the course's limit for warm-water fish; see the lesson on air", "memory"),
    ),
    "bases.potash_share": _share(
        50, "share of the alkalinity that potassium hydroxide brings",
        cite("uvi_nutrients", "potassium and calcium hydroxide by turns"),
    ),
    "water.raising_days": Assumed(
        4, Measure("day", 1, 60), "days over which low alkalinity is raised",
        cite("trade", "slowly, over several days", "common practice"),
    ),
}
