"""Pickup, and back for another look."""
