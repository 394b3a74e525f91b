"""Claims: what the data support, and what they do not."""
