"""Stands where a program beside a test looks for numpy: a shop's own environment has none."""

raise ImportError("a shop's own environment has no numpy")
