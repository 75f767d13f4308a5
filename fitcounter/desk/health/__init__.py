"""Health: how the shop's file, copies, messages and machine stand, and what wants a hand."""
