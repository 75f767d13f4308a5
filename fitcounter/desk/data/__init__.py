"""Keeping the shop's data: copies, the off-site copy, export, erasing, the machine itself."""
