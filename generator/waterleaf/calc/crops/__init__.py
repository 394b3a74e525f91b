"""Crops: how many plants, when to sow, how much is picked."""
