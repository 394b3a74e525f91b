"""Taste: panels that can tell samples apart, or say which they like."""
