"""Chemistry: ammonia, the biofilter, nitrate, bases, and water as it is measured."""
