"""Diet: blending feeds, and checking a claim against the fatty acids."""
