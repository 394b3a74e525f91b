"""The shared calc module: every formula of the course, as plain functions with units, ranges and sources.

Nothing here does input or output, and nothing here imports another part of the kit.
"""

from importlib import import_module
from typing import Final

TOPICS: Final = (
    "loop", "scale", "feed", "solids", "returns", "chemistry", "air",
    "energy", "crops", "money", "sugar", "taste", "claims", "diet",
)

for _topic in TOPICS:
    import_module(f"{__name__}.{_topic}")
