"""Waterleaf: a course and assessment kit for recirculating fish-and-plant growing."""

__version__ = "0.1.0"
