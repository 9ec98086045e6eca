"""Where things were read, why things were chosen, and what is still open: the values every stage hands on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple


class CellRef(NamedTuple):
    """One cell of an input file. `row` and `column` count from 1.

    A NamedTuple, as are the other values of which there are many for every row: made, compared and hashed in less than half
    the time of a frozen dataclass.
    """

    file: str
    sheet: str
    row: int
    column: int

    @property
    def cell(self) -> str:
        """The cell's address as a spreadsheet shows it: row 7, column 3 is C7."""
        letters, column = "", self.column
        while column > 0:
            column, rest = divmod(column - 1, 26)
            letters = chr(ord("A") + rest) + letters
        return f"{letters}{self.row}"

    def __str__(self) -> str:
        return f"{self.file}!{self.sheet}!{self.cell}"


class Standing(Enum):
    """How much a source is worth."""

    PUBLISHED = "published"
    COMMON_PRACTICE = "common practice, no source"
    FROM_MEMORY = "from memory"
    CALCULATED = "calculated"
    SHOP = "shop's own"

    __hash__ = object.__hash__
    """Of the member itself, of which there is one: an Enum's own spells its name for every source that is looked up."""


class Cite(NamedTuple):
    """A source: Cite("ISO 965-1", "2013", "Table 3")."""

    standard: str
    edition: str = ""
    place: str = ""
    standing: Standing = Standing.PUBLISHED

    def __str__(self) -> str:
        if not self.standard:
            return self.standing.value
        text = f"{self.standard}:{self.edition}" if self.edition else self.standard
        text = f"{text}, {self.place}" if self.place else text
        return text if self.standing is Standing.PUBLISHED else f"{text} ({self.standing.value})"


COMMON_PRACTICE = Cite("", standing=Standing.COMMON_PRACTICE)


class Severity(Enum):
    """What a note asks of its reader.

    TOLD: for the record. ASSUMED: a standard supplied what the callout left out; a box to initial.
    WATCH: the shop must look. ASK: the drawing's owner must answer, the hole is planned meanwhile and put on hold.
    REFUSED: the hole is not planned until the drawing's owner has answered.
    """

    TOLD = "told"
    ASSUMED = "assumed"
    WATCH = "watch"
    ASK = "ask"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Note:
    """One thing to know, with its place.

    `code` is stable (CALLOUT-CLASS-ASSUMED); wording may change. `message` says what is wrong or what was supplied,
    `suggestion` what to write or do instead, `assumed` what the sheet uses meanwhile, `text` the cell as it was read, `also`
    further cells that it concerns (the other one of two holes that meet).
    """

    code: str
    severity: Severity
    message: str
    suggestion: str = ""
    assumed: str = ""
    text: str = ""
    ref: CellRef | None = None
    cite: Cite | None = None
    also: tuple[CellRef, ...] = ()
    rule: str = ""
    """The row of the rules that says it; "" where none does."""

    @property
    def is_question(self) -> bool:
        """Whether only the drawing's owner can settle it."""
        return self.severity in (Severity.ASK, Severity.REFUSED)


class Rejected(NamedTuple):
    """A candidate that lost, the rule that decided, and why (one clause, no full stop)."""

    candidate: str
    rule: str
    because: str


class Reason(NamedTuple):
    """Why one value was chosen: what was decided, the rule, the sentence, the sources and what lost.

    `decision` names the thing decided and its outcome ("tap drill: 6.8 mm"); it lives on the value it explains.
    """

    decision: str
    because: str
    rule: str
    cites: tuple[Cite, ...] = ()
    rejected: tuple[Rejected, ...] = ()
