"""Air: oxygen in water, who uses it, and how it is put back."""
