"""The use cases: the only place where fit, store and papers meet."""
