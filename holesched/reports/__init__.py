"""reports."""
