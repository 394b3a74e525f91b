"""Marking: one judge reads what a student wrote, on paper or on screen, and says kindly what it makes of it.

`reading` finds the number, `units` finds the unit, `expected` holds what the key allows, `judge` compares. The browser's
script `site/assets/judge.js` does the same from the tables that `judge.tables` exports; tests hold the two together.
"""
