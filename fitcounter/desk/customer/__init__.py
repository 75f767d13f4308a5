"""The customer's own page, link, details and calendar."""
