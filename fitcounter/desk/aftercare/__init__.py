"""After pickup: the wearing-in calendar, follow-ups, comebacks and the end of the guarantee."""
