"""callouts."""
