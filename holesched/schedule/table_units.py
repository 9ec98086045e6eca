"""Which unit a schedule's plain numbers are in: what was given, what the file states, what its callouts show, or asked."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from holesched.notes import CellRef, Note, Severity
from holesched.schedule.headers import Table
from holesched.units import LengthUnit

_PIPE = re.compile(
    r"\b(?:G|R|Rc|Rp|NPTF?|BSPP?|BSPT)\s*\d+(?:\s*-\s*\d+)?(?:/\d+)?|\d+(?:/\d+)?\s*(?:-\s*\d+\s*)?(?:NPT|BSP)\w*"
)
"""Pipe threads carry inch sizes in metric drawings too: they show nothing."""
_METRIC = re.compile(r"\bMJ?\s?\d|\d\s*mm\b|\d,\d|\bM\d", re.I)
_INCH = re.compile(
    r"\bUN(?:C|F|S|EF|RC|RF|J[CF]?)?\b|#\s?\d+\s*-\s*\d|(?<![xX×\d.,/])\d{1,2}/\d{1,2}(?![\d,.])|\d\s*(?:\"|″|”|in\b|inch)"
    r"|(?<![\d.,])\.\d|^\s*(?:\d+\s*[xX]\s*)?\d{1,2}-(?:2|3|4|5|6|7|8)[0-9]\b",
    re.I,
)

_LABELLED = re.compile(r"\d\s*(?:mm\b|\"|″|”|in\b|inch)", re.I)


@dataclass(frozen=True, slots=True)
class Units:
    """The units of one table: of its callouts, of its other columns (field -> unit), and whether the file stated them."""

    callout: LengthUnit
    columns: tuple[tuple[str, LengthUnit], ...]
    stated: bool

    def of(self, field: str) -> LengthUnit:
        """The unit of plain numbers in a column."""
        return next((unit for name, unit in self.columns if name == field), self.callout)


def shown_units(callouts: Iterable[str]) -> tuple[int, int]:
    """How many of the callouts can only be metric, and how many only inch: threads, fractions, .250, decimal commas.

    One that writes its unit beside its numbers (M6 ↧12 mm) needs to, where the others are in the other unit: it is heard
    only where the others show nothing.
    """
    others: list[str] = []
    labelled: list[str] = []
    for callout in callouts:
        (labelled if _LABELLED.search(callout) else others).append(callout)
    shown = _counted(others)
    return shown if any(shown) else _counted(labelled)


def _counted(callouts: Iterable[str]) -> tuple[int, int]:
    metric = inch = 0
    for callout in callouts:
        bare = _PIPE.sub(" ", callout)
        is_metric, is_inch = bool(_METRIC.search(bare)), bool(_INCH.search(bare))
        metric += is_metric and not is_inch
        inch += is_inch and not is_metric
    return metric, inch


def choose_units(
    table: Table, given: LengthUnit | None, title: LengthUnit | None, callouts: Callable[[], Iterable[str]], ref: CellRef
) -> tuple[Units, tuple[Note, ...]]:
    """The units of a table. `given` (by the caller) goes before the header's and units row's own, then the title block's,
    then what the callouts show; failing all, mm, and it is asked. `ref` is the cell that the note points to."""
    stated = tuple((column.field, column.unit) for column in table.columns if column.unit)
    of_sizes = next((unit for field, unit in stated if field in ("callout", "diameter", "thread")), None)
    in_file = of_sizes or title or next((unit for _, unit in stated), None)
    if given:
        differs = any(unit not in (None, given) for unit in (title, *(unit for _, unit in stated)))
        message = f"The file says {_name(_other(given))}; {_name(given)} was given and is used."
        note = Note("SCHEDULE-UNIT-OVERRIDDEN", Severity.WATCH, message, ref=ref)
        return Units(given, (), True), (note,) if differs else ()
    if in_file:
        units = Units(in_file, stated, True)
        if title and stated and any(unit != title for _, unit in stated):
            message = (
                f"The title block says {_name(title)}, the table's header says {_name(_other(title))} for some columns."
            )
            remedy = "State one unit for the whole schedule."
            assumed = "Each column is read in the unit of its own header, all others in the title block's."
            note = Note("SCHEDULE-UNIT-DISAGREES", Severity.ASK, message, remedy, assumed, ref=ref)
            return units, (note,)
        return units, ()
    metric, inch = shown_units(callouts())
    likely: LengthUnit = "in" if inch > metric else "mm"
    plain = (metric == 0) != (inch == 0)
    message = "The schedule does not say whether its lengths are in mm or in inches."
    reason = f"{_name(likely)}: {max(metric, inch)} callouts can only be {'metric' if likely == 'mm' else 'inch'}"
    reason += ", none the other." if plain else f", {min(metric, inch)} only the other."
    reason = reason if metric or inch else f"{_name(likely)}."
    severity = Severity.WATCH if plain else Severity.ASK  # read from the callouts: no standard supplies it
    note = Note(
        "SCHEDULE-UNIT-UNSTATED", severity, message, "Write 'Units: mm' or 'Units: inch' above the table.", reason, ref=ref
    )
    return Units(likely, (), False), (note,)


def _other(unit: LengthUnit) -> LengthUnit:
    return "in" if unit == "mm" else "mm"


def _name(unit: LengthUnit) -> str:
    return "mm" if unit == "mm" else "inch"
