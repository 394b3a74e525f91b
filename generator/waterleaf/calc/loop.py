"""The loop: tanks, turnover, pumps, and what runs down when the pump stops."""
