"""The question bank: reads families from YAML, checks them, and says kindly what is wrong."""
