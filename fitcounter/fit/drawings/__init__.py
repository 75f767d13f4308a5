"""Drawings as SVG paths: pure geometry, nothing is looked up."""
