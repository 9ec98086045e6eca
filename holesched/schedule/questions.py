"""The sentences of the questions that reading a cell raises: one function a trouble, each with its stable code."""

from __future__ import annotations

from holesched.notes import CellRef, Note, Severity
from holesched.schedule.damage import Damaged, decimals_first
from holesched.units import LengthUnit

_AS_TEXT = "Format the column as Text before typing it again."


def damaged_callout(bad: Damaged, ref: CellRef, unit: LengthUnit) -> Note:
    """A callout's cell that no longer holds what was typed: the row is refused, the likeliest reading proposed."""
    likely = decimals_first(bad.likely) if unit == "mm" and bad.kind == "date" else bad.likely
    proposal = " or ".join(f"'{text}'" for text in likely)
    sentences = {
        "date": ("A spreadsheet turned this callout into a date.", f"Most likely it was {proposal}. " if proposal else ""),
        "error": (
            "The callout's cell holds an error.",
            (f"Most likely it was {proposal}. " if proposal else "")
            + "A callout that starts with = + - or @ becomes a formula: put ' first. ",
        ),
        "formula": ("The callout's cell holds a formula without a stored result.", "Open and save the workbook once, or "),
        "runs": (
            "Raised, lowered or struck-through figures of this callout run together.",
            f"Most likely it was {proposal}. ",
        ),
        "type": ("The callout's cell holds a time or a yes/no value, not a text.", ""),
    }
    problem, hint = sentences[bad.kind]
    last = (
        "write the callout as text." if hint.endswith("or ") else _AS_TEXT if bad.kind != "runs" else "Write it in one line."
    )
    return Note(f"SCHEDULE-CALLOUT-{bad.kind.upper()}", Severity.REFUSED, problem, hint + last, text=bad.shown, ref=ref)


def empty_callout(ref: CellRef, above: str) -> Note:
    """A row that names a hole but not what is to be made; `above` is the nearest callout above, if any."""
    hint = f"If it is the same as above ('{_short(above)}'), write it there." if above else "Write the callout."
    return Note("SCHEDULE-CALLOUT-EMPTY", Severity.REFUSED, "The row names a hole but has no callout.", hint, ref=ref)


def merged_callout(ref: CellRef, above: str, place: str) -> Note:
    """A row under a merged callout cell."""
    message = f"The callout's cell is merged with {place}: it stands for several rows."
    hint = "Merged cells often come apart wrongly in an export: confirm, or write the callout in every row."
    return Note("SCHEDULE-CALLOUT-MERGED", Severity.ASK, message, hint, f"The same callout: {_short(above)}", ref=ref)


def formatted_callout(ref: CellRef, value: str, shown: str) -> Note:
    """A number whose format adds a sign: 8.5 shown as Ø8.5."""
    message = f"The cell holds the number {value}; only its format shows '{shown}'."
    return Note(
        "SCHEDULE-CALLOUT-FORMAT", Severity.ASK, message, _AS_TEXT, f"It is read as it is shown: {shown}", shown, ref
    )


def depth_disagrees(ref: CellRef, callout: str, depth: str) -> Note:
    """A depth column that says something else than the callout."""
    message = f"The callout states a depth of its own, the depth column says {depth.lstrip('↧ ')}."
    hint = "Leave the depth in one place, or make both agree."
    return Note("SCHEDULE-DEPTH-DISAGREES", Severity.ASK, message, hint, "The callout's own depth.", callout, ref)


def unreadable(what: str, code: str, text: str, ref: CellRef, hint: str, assumed: str) -> Note:
    """A cell of numbers that holds something else: SCHEDULE-<code>-UNREADABLE."""
    return Note(f"SCHEDULE-{code}-UNREADABLE", Severity.ASK, f"{what} cannot be read.", hint, assumed, text, ref)


def place_incomplete(ref: CellRef, text: str) -> Note:
    """A row with X or Y only."""
    message = "The row gives one coordinate of its place but not the other."
    return Note(
        "SCHEDULE-PLACE-INCOMPLETE", Severity.ASK, message, "Write both X and Y.", "The hole's place is unknown.", text, ref
    )


def tag_damaged(ref: CellRef, text: str) -> Note:
    """A tag that a spreadsheet turned into a date or an error."""
    message = "The tag's cell holds a date or an error: a spreadsheet has changed what was typed."
    return Note("SCHEDULE-TAG-DAMAGED", Severity.ASK, message, _AS_TEXT, f"The tag as it is shown: {text}", text, ref)


def tag_range(ref: CellRef, text: str, count: int) -> Note:
    """A tag that may be a range or one hole's name."""
    message = f"The tag '{text}' may name {count} holes or one."
    hint = "Write the range with both tags in full ('A1-A4'), or fill in the quantity."
    return Note("SCHEDULE-TAG-RANGE", Severity.ASK, message, hint, f"{count} holes.", text, ref)


def tag_twice(ref: CellRef, tag: str, callout: str, place: str, above: str) -> Note:
    """A tag of two rows with different callouts."""
    message = f"The tag '{tag}' has another callout in {place} ('{_short(above)}'): steps of one hole, or two holes?"
    hint = "Write all steps of one hole in one cell, or give each hole a tag of its own."
    return Note("SCHEDULE-TAG-TWICE", Severity.ASK, message, hint, "Two holes.", callout, ref)


def cell_merged(ref: CellRef, text: str, rows: str) -> Note:
    """A cell of numbers that is merged over several rows."""
    message = f"The cell is merged over rows {rows}: does it hold for each of them, or for all together?"
    hint = "Write the value in every row."
    return Note("SCHEDULE-CELL-MERGED", Severity.ASK, message, hint, "It is read for the first row only.", text, ref)


def note_speaks_of_holes(ref: CellRef, text: str) -> Note:
    """A row set aside as a note that names a size."""
    message = "A row set aside as a note speaks of holes: see whether it asks for one."
    return Note("SCHEDULE-NOTE-SPEAKS-OF-HOLES", Severity.WATCH, message, text=text, ref=ref)


def group_quantity(ref: CellRef, callout: str, quantity: int) -> Note:
    """As many rows with a place each as their quantity says: a count of the group repeated in every row."""
    message = f"{quantity} rows with a place each say quantity {quantity} for '{_short(callout)}'."
    message += f" {quantity} holes in all, or {quantity} at each place?"
    hint = "Write quantity 1 in rows that give one hole's place."
    return Note("SCHEDULE-QUANTITY-ROWS", Severity.ASK, message, hint, "One hole a row.", str(quantity), ref)


def total_disagrees(ref: CellRef, text: str, stated: int, counted: int) -> Note:
    """A total row that does not agree with the rows above it."""
    message = f"The table's total says {stated} holes, its rows add up to {counted}."
    return Note(
        "SCHEDULE-TOTAL-DISAGREES", Severity.ASK, message, "Look for a lost row or a wrong quantity.", "The rows.", text, ref
    )


def row_deleted(ref: CellRef, text: str, struck: bool) -> Note:
    """A row marked as deleted, or struck through."""
    if struck:
        message = "The row is struck through; it was set aside as deleted."
        return Note(
            "SCHEDULE-ROW-STRUCK", Severity.ASK, message, "Confirm that this hole is not made.", "No hole.", text, ref
        )
    return Note(
        "SCHEDULE-ROW-DELETED", Severity.WATCH, "The row is marked as deleted and was set aside.", text=text, ref=ref
    )


def row_continues(ref: CellRef, text: str, above: str) -> Note:
    """A callout without tag, place or quantity below a row that has them."""
    message = "The row has a callout but neither tag, place nor quantity: a step of the hole above, or a hole of its own?"
    hint = f"Write all steps of one hole in one cell: '{_short(above)}; {_short(text)}'." if above else "Complete the row."
    return Note("SCHEDULE-ROW-CONTINUES", Severity.ASK, message, hint, "One hole of its own.", text, ref)


def title_damaged(ref: CellRef | None, text: str) -> Note:
    """A title-block entry that a spreadsheet turned into a date or an error."""
    message = "This title-block entry is a date or an error: a spreadsheet has changed what was typed."
    return Note("SCHEDULE-TITLE-DAMAGED", Severity.ASK, message, _AS_TEXT, f"As it is shown: {text}", text, ref)


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= 60 else f"{text[:57]}..."
