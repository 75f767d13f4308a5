"""fitcounter: the counter, the bench and the calendar of a shop that stretches tall boots."""

__version__ = "0.1.0"
