"""What goes out to customers: texts from the shop's own phone."""
