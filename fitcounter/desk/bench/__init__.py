"""The bench: rounds and other steps, trees, the plan, findings, and the page of one item."""
