"""The bench plan: made, kept as things stand, changed, and asked when each boot is ready."""
