"""A ticket: its page, its payments, and new tags for its things."""
