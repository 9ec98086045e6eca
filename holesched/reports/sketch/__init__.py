"""Sketches drawn from the same numbers as the tables: numbers first (mm on the part, mm on paper), SVG text last."""
