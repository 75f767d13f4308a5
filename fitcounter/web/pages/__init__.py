"""How a value, a sentence and an error look on a page."""
