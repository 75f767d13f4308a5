"""The invented shop: its story, played through the same desk calls that the screens make."""
