"""tooling."""
