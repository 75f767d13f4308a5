"""The papers of the shop, filled from the stored rows."""
