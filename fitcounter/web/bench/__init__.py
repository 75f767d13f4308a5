"""The bench's pages: its lists, the plan, the trees, the forms of its steps."""
