"""Return: every step that gets more out of the same feed."""
