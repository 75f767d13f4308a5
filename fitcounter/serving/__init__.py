"""What keeps a shop open: the server, its certificate, the background thread, the replica
process.
"""
