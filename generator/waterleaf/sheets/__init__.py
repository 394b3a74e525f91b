"""Worksheets, keys and other printed sheets, made by Typst."""
