"""The owner's book: estimate and result, what was learnt, the figures of a month, income."""
