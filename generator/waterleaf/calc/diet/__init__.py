"""Diet: blending feeds and oils, and checking a claim against them."""
