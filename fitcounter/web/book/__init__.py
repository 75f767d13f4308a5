"""The owner's book: estimate and result, the figures of a month, income by day."""
