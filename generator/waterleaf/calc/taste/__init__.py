"""Taste: tests with people, from serving orders to what may be concluded."""
