"""The title block as the schedule's JobHeader, with what the caller knows better."""

from __future__ import annotations

import re
from dataclasses import replace

from holesched.notes import Note, Severity
from holesched.schedule import questions
from holesched.schedule.damage import damage_of
from holesched.schedule.lengths import read_length, read_number
from holesched.schedule.model import JobHeader, ReadOptions
from holesched.schedule.outline import read_outline
from holesched.schedule.row_kinds import kind_of
from holesched.schedule.table_units import Units
from holesched.schedule.title_block import TitleBlock

_PIECES = re.compile(r"([-−]?\d+) *(?:pcs?|pieces|parts|off|stk|stück|st|pz|pezzi|個)\.?", re.I)
"""A lot with the word for pieces behind it."""
_COUNTED = re.compile(r"[-+−]?\d[\d.,' ]*")
"""What is meant as a number of parts; anything else under the word lot may be the name of one, and is kept as it is."""


def job_header(block: TitleBlock, options: ReadOptions, units: Units, file: str, sheet: str) -> tuple[JobHeader, list[Note]]:
    """The header, and notes on entries that cannot be read or were overridden."""
    notes: list[Note] = []
    for name in ("part_number", "part_name", "drawing", "revision", "material"):
        entry = block.entries.get(name)
        if entry and not isinstance(entry.value, (int, float)) and damage_of(entry.value):
            notes.append(questions.title_damaged(block.ref(name, file, sheet), entry.text))
    stated, ref = block.entries.get("unit"), block.ref("unit", file, sheet)
    if stated and ref and not options.unit:
        hint, assumed = "State mm or inch, and the lengths in it.", f"Plain numbers are in {units.callout}."
        notes.append(questions.unreadable("The unit of the lengths", "UNIT", stated.text, ref, hint, assumed))
    thickness, thickness_notes = _thickness(block, options, units, file, sheet)
    material = block.text("material")
    if options.material and material and options.material.casefold() != material.casefold():
        notes.append(_overridden("MATERIAL", material, options.material, block, file, sheet))
    lot, lot_notes = _lot(block, options, file, sheet)
    title = next((entry for entry in block.unlabelled if not block.text("part_name") and _is_title(entry.text)), None)
    part_name = f"{' '.join(title.text.split())} (not labelled)" if title else block.text("part_name")
    other = (*block.other, *(("Not labelled", entry.text) for entry in block.unlabelled if entry is not title))
    if block.text("lot") and lot is None:
        other = (*other, ("Lot", block.text("lot")))
    header = JobHeader(
        block.text("part_number"), part_name, block.text("drawing"), block.text("revision"),
        options.material or material, None if options.material else block.ref("material", file, sheet),
        thickness, None if options.given_thickness_mm(units.callout) else block.ref("thickness", file, sheet),
        units.callout, units.stated, options.lot or lot, other,
    )  # fmt: skip
    text = options.outline or block.text("outline") or " x ".join(filter(None, map(block.text, ("length", "width"))))
    ref = None if options.outline else block.ref("outline", file, sheet) or block.ref("length", file, sheet)
    header = replace(header, outline_mm=read_outline(text, units.callout), outline_ref=ref)
    header = replace(header, finish=block.text("finish"), finish_ref=block.ref("finish", file, sheet))
    return header, [*notes, *thickness_notes, *lot_notes]


def _lot(block: TitleBlock, options: ReadOptions, file: str, sheet: str) -> tuple[int | None, list[Note]]:
    """The number of parts as the title block has it; 0, -5 and 2.5 are asked about, unless the caller gives one."""
    text, ref = block.text("lot").strip(), block.ref("lot", file, sheet)
    pieces = _PIECES.fullmatch(text)
    number = read_number(pieces[1] if pieces else text) if text else None
    lot = int(number) if number is not None and number >= 1 and number == int(number) else None
    if options.lot is not None:
        return lot, [] if lot in (None, options.lot) else [_overridden("LOT", text, str(options.lot), block, file, sheet)]
    if lot is not None or ref is None or not (pieces or _COUNTED.fullmatch(text)):
        return lot, []
    hint, assumed = "Write a whole number of 1 or more, such as 25.", "Planned as without a lot, for one part."
    return None, [questions.unreadable("The number of parts", "LOT", text, ref, hint, assumed)]


def _is_title(text: str) -> bool:
    """Whether an unlabelled text may be the part's name: no note, no sentence that fills the line."""
    return not kind_of(text) and len(text) <= 80


def _thickness(
    block: TitleBlock, options: ReadOptions, units: Units, file: str, sheet: str
) -> tuple[float | None, list[Note]]:
    entry = block.entries.get("thickness")
    length = read_length(entry.value, units.callout) if entry else None
    given_mm = options.given_thickness_mm(units.callout)
    if given_mm is not None:
        if length and abs(length.mm - given_mm) > 1e-6:
            given = f"{given_mm:g} mm"
            return given_mm, [_overridden("THICKNESS", block.text("thickness"), given, block, file, sheet)]
        return given_mm, []
    ref = block.ref("thickness", file, sheet)
    if entry and ref and (length is None or length.mm <= 0):
        hint, assumed = "Write it as '12 mm' or '0.5 in'.", "The thickness is unknown."
        return None, [questions.unreadable("The part's thickness", "THICKNESS", entry.text, ref, hint, assumed)]
    return (length.mm if length else None), []


def _overridden(what: str, stated: str, given: str, block: TitleBlock, file: str, sheet: str) -> Note:
    message = f"The file says {what.lower()} '{stated}'; '{given}' was given and is used."
    return Note(
        f"SCHEDULE-{what}-OVERRIDDEN", Severity.WATCH, message, text=stated, ref=block.ref(what.lower(), file, sheet)
    )
