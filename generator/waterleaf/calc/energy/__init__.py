"""Energy: warmth, light, ventilation and fuel of a house."""
