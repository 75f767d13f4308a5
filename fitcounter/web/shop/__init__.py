"""The owner's pages: choices, people, phones, customers, limits by leather, the book."""
