"""What the owner chooses: the shop's choices and its limits by leather."""
