"""The customer's page, behind a link that nobody can guess."""
