"""What a phone of the shop keeps of the program, and forms that waited on it without network."""
