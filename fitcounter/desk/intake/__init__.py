"""How work comes in: a new job, the same boots again, half-done paper jobs."""
