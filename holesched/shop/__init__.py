"""shop."""
