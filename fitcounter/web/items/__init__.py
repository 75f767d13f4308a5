"""One item's pages: what its tag opens, its next step, a new tag, what went wrong."""
