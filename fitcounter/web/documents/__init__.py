"""Papers to print: of a ticket, of the shop, of the bench."""
