"""Figures that an engineer can rerun: `python3 generator bench`."""
