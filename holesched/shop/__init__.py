"""The shop file: machine, habits, tools in stock."""
