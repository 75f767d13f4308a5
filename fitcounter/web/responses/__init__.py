"""Answers as bytes: packed, printed, and with the headers of every answer."""
