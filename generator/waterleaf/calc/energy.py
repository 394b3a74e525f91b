"""Energy: ventilation, heat, light and shade in a greenhouse."""
