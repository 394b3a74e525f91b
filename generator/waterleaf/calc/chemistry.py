"""Chemistry: ammonia, nitrification, bases, alkalinity, iron."""
