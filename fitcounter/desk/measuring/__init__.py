"""The measuring sheet: shown, read, saved, and compared with the visit before."""
