"""The bench plan: which boot is on which tree on which day, and when each pair is ready."""
