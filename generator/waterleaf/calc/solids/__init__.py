"""Solids: what the fish leave behind, how it settles, and how often it is flushed."""
