"""Every figure the computation uses, with its value, unit, source and a word for its trust."""
