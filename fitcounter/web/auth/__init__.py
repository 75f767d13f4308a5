"""Signing in, the first run, and one's own secrets and sessions."""
