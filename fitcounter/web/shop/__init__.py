"""The owner's pages: choices, people, phones, customers and limits by leather."""
