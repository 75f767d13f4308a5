"""The only room that knows SQLite."""
