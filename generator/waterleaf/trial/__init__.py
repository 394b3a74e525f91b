"""Side-by-side trials: plan, lay out, read, analyse, and say only what the data support."""
