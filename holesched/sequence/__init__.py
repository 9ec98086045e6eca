"""sequence."""
