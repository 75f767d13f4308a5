"""Tags: what a typed or scanned text means, and a tag on every item."""
