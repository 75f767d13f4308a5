"""One round of one boot: what is looked at before it, its rows, and its rested reading."""
