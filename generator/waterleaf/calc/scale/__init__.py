"""Scale: a smaller or larger system by the numbers of a known one."""
