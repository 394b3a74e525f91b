"""Air: how much oxygen the water holds, who uses it, and how it is put back."""
