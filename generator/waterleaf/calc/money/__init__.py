"""Money: which crop earns its space, and what a change is worth."""
