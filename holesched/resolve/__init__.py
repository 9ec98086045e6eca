"""resolve."""
