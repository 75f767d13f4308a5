"""A pair of boots from its stored rows to the answer of the computation, by the shop's own
limits.
"""
