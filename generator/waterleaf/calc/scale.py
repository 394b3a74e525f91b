"""Scale: growing or shrinking a reference system, and which ratios survive it."""
