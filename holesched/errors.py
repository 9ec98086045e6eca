"""The errors that mean "cannot go on"; everything a person can answer is a Note instead."""


class HoleschedError(Exception):
    """What is wrong, where, and what to do: one sentence each, for a machinist.

    `where` is a file, a FILE!SHEET!CELL, or a path inside a settings file; empty when the place is obvious.
    """

    def __init__(self, problem: str, where: str = "", remedy: str = "") -> None:
        super().__init__(problem)
        self.problem = problem
        self.where = where
        self.remedy = remedy

    def __str__(self) -> str:
        text = f"{self.where}: {self.problem}" if self.where else self.problem
        stop = "" if text.endswith((".", "!", "?", ":")) else "."
        return f"{text}{stop} {self.remedy}".rstrip()


class CannotRead(HoleschedError):
    """The input file cannot be read as a hole schedule."""


class CannotWrite(HoleschedError):
    """An output file cannot be written."""


class BadSettings(HoleschedError):
    """The shop file has errors; all of them are listed in `problem`, each with its path."""


class BadTable(HoleschedError):
    """A data table of the package (or a shop's own table) is damaged."""
