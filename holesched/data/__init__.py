"""Tables that people can read: csv files, each with its provenance on top; no code."""
