"""Marking: one judge reads what a student wrote, on paper or on screen, and says kindly what it makes of it.

`reading` finds the number, `units` finds the unit, `expected` holds what the key allows, and `judge` compares. Scripts
of the same names in `site/assets/` do the same in a browser, from the tables that `judge.tables` exports; tests hold
the two together.
"""
