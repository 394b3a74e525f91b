"""Sugar: reading a refractometer, and the statistics of a trial that compares readings."""
