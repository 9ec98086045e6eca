"""sketch."""
