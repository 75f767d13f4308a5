"""Which tree serves a round, and what each tree measures at each setting."""
