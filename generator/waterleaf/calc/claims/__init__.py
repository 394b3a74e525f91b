"""Claims: what a comparison shows, and the plain statement that it allows."""
