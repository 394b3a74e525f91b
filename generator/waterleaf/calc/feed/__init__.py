"""Feed: how much, for how many fish and plants, and what comes of it."""
