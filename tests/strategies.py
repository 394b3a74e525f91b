"""Hypothesis strategies for values that relations accept."""

from typing import Any

from hypothesis import strategies as st

from waterleaf.calc.quantity import Quantity, Relation


def values_of(quantity: Quantity) -> st.SearchStrategy[Any]:
    """Any value inside the range of a quantity, to four significant figures, as a person would write it."""
    low, high = max(quantity.low, -1e6), min(quantity.high, 1e6)
    if quantity.whole:
        return st.integers(int(-(-low // 1)), int(min(high, 1000))).map(float)
    single = st.floats(low, high, allow_nan=False).map(lambda v: float(f"{v:.4g}")).filter(lambda v: low <= v <= high)
    if quantity.many == 1:
        return st.lists(single, min_size=max(2, quantity.fewest), max_size=6)
    if quantity.many == 2:
        return st.lists(st.lists(single, min_size=2, max_size=4), min_size=max(2, quantity.fewest), max_size=3)
    return single


def arguments_of(relation: Relation) -> st.SearchStrategy[dict[str, Any]]:
    """Arguments for a relation, each anywhere in its range."""
    return st.fixed_dictionaries({name: values_of(quantity) for name, quantity in relation.parameters.items()})
