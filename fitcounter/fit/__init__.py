"""Pure: standard library only.

No clock, files, random, network, database or Flask; tests/test_layers.py holds it to that.
"""
