"""Marking: one judge reads what a student wrote, on paper or on screen, and says kindly what it makes of it.

`reading` finds the number, `units` finds the unit, `judge` compares both with what was expected. The browser's script
`site/assets/judge.js` does the same from the tables that `judge.tables` exports; the two are held together by tests.
"""
