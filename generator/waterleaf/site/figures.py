"""Figures of the lessons, made from the calc module at build time."""

from collections.abc import Callable
from typing import Final

FIGURES: Final[dict[str, Callable[[], str]]] = {}
