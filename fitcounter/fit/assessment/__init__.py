"""Can stretching do it: need, leather, limits, load on the zip, rounds, and what would change the
answer.
"""
