"""After pickup: wears, follow-ups, a comeback, the guarantee."""
