"""Returns: where the nutrients of the feed go, and how sludge is put to use."""
