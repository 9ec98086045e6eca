"""holesched: from a drawing's hole schedule to a process sheet and a tool list."""

__version__ = "0.1.0"
