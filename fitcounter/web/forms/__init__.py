"""What every form has in common, its fields, and forms that came when nobody was signed in."""
