"""Stands where a program started beside a test looks for pandas: a shop's own environment has none."""

raise ImportError("a shop's own environment has no pandas")
