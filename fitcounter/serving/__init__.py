"""What keeps a shop open: the server, its certificate, the upkeep thread, the replica process."""
