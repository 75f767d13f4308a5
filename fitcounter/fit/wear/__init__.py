"""Wearing in: the calendar of wears and rests, and the guarantee after it."""
