"""The shared calc module: every formula of the course, as plain functions with units, ranges and sources.

Nothing here does input or output, and nothing here imports another part of the kit.
"""

from importlib import import_module
from typing import Final

# Parts are loaded in this order, and listed in it.
PARTS: Final = {
    "loop": ("turnover", "pipe", "head", "levels", "power", "split"),
    "scale": ("factors", "system"),
    "feed": ("ration", "growth", "stock", "cohorts", "purchase"),
    "solids": ("load", "settling", "sludge", "term"),
    "returns": ("yields", "balance", "compost", "sludge", "tables"),
    "chemistry": ("ammonia", "filter", "bases", "criteria", "nitrate", "term", "water"),
    "air": ("oxygen", "demand", "supply", "lift", "term"),
    "energy": ("warmth", "air", "cover", "fuel", "light", "sun", "vapour", "water"),
    "crops": ("planting", "nursery", "timing", "picking", "compare", "vines"),
    "money": ("margin", "breakeven", "plan", "corner", "invest", "sale"),
    "sugar": ("statistics", "groups", "variance", "effects", "juice", "power", "units", "refractometer"),
    "taste": ("difference", "liking", "orders", "prime", "ranks", "share"),
    "claims": ("many", "statement", "comparison"),
    "diet": ("blending", "omega"),
}
TOPICS: Final = tuple(PARTS)

for _topic, _parts in PARTS.items():
    for _part in _parts:
        import_module(f"{__name__}.{_topic}.{_part}")
