"""Loop: how fast the water goes round, through which pipes, and what the pump has to give."""
