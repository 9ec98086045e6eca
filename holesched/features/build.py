"""Rows become hole types: each callout is read once, equal holes are brought together, and every row is accounted for."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from holesched.callouts.model import Callout, CalloutReading, Kind
from holesched.callouts.parse import read_callout
from holesched.callouts.phrases import COUNT_UNWRITTEN
from holesched.callouts.threadcalls import INSERT_LENGTH
from holesched.features.check import check_hole
from holesched.features.complete import PART_WAY, complete_callout
from holesched.features.completion import HEAD_KINDS
from holesched.features.edges import check_edges
from holesched.features.findings import Part
from holesched.features.finish import coating_of_the_part, finish_notes, with_coating
from holesched.features.lookalikes import check_lookalikes
from holesched.features.model import BuiltHoles, Feature, Hole, HoleType, Member, UnreadRow
from holesched.features.naming import name_types
from holesched.features.places import check_places, is_opening
from holesched.features.quantities import Quantity, settle_quantities
from holesched.features.references import referred
from holesched.features.remarks import check_remarks, insert_length, with_insert_length
from holesched.notes import CellRef, Note, Severity
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow
from holesched.units import LengthUnit

SENSELESS = frozenset({"CALLOUT-EMPTY", "CALLOUT-UNREADABLE", "CALLOUT-TOO-LONG"})
"""Refusals of a text that makes no sense at all; every other one can be answered."""


def build_callout(
    text: str, unit: LengthUnit, thickness_mm: float | None = None
) -> tuple[Hole | None, tuple[Note, ...], int | None]:
    """One callout: its hole (None: nothing to plan), what was assumed or must be asked, and its number of holes.

    The number is 1 when none is written, None when it is unknown (TYP, or nothing could be read). A deleted hole is a hole
    without features, 0 times.
    """
    reading = read_callout(text, unit)
    hole, notes = _whole(reading, thickness_mm, alone=True)
    callout = reading.callout
    if callout is None:
        return None, notes, None
    count = callout.count if callout.count is not None else None if callout.typical else 1
    if callout.typical and callout.count is None:
        sentence = "TYP or ALL gives no number of holes."
        notes = (*notes, Note("COUNT-TYPICAL", Severity.ASK, sentence, "Write 4X with it.", "1 hole", text))
    return hole, notes, count


def status_of(hole: Hole | None, notes: Sequence[Note]) -> Literal["ok", "question", "error"]:
    """What has become of a callout: resolved, to be answered, or senseless."""
    asked = [note for note in notes if note.is_question]
    if hole is None and any(note.code in SENSELESS for note in asked):
        return "error"
    return "question" if asked or hole is None else "ok"


def _whole(
    reading: CalloutReading, thickness_mm: float | None, material: str = "", alone: bool = False
) -> tuple[Hole | None, tuple[Note, ...]]:
    """The hole of a reading, complete and checked, with all its notes."""
    if reading.callout is None:
        return None, reading.notes
    if not reading.callout.elements:
        return Hole((), reading.callout.text), reading.notes
    hole, notes = complete_callout(reading.callout, thickness_mm)
    if any(note.code in PART_WAY for note in notes):
        thickness_mm = None
    checks = check_hole(hole, Part(thickness_mm, material), alone) if hole is not None else ()
    found = (*reading.notes, *notes, *checks)
    if hole is None and not any(note.is_question for note in found):
        text = reading.callout.text
        sentence = "No hole can be made of this: it names a step, but no hole that it belongs to."
        found = (
            *found,
            Note("CALLOUT-NO-HOLE", Severity.REFUSED, sentence, "Write the hole's diameter or thread.", "", text),
        )
    return hole, found


@dataclass(slots=True)
class _Group:
    """All rows with one callout text in one unit, material and thickness."""

    text: str
    material: str
    thickness_mm: float | None
    reading: CalloutReading
    hole: Hole | None
    notes: tuple[Note, ...]
    rows: list[ScheduleRow] = field(default_factory=list)


@dataclass(slots=True)
class _Type:
    """A hole type while its rows are gathered."""

    group: _Group
    members: list[Member] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)


def build_holes(schedule: Schedule, schedule_notes: tuple[Note, ...]) -> BuiltHoles:
    """The schedule's rows as hole types in order of first appearance, the rows that gave none, and notes on them together.

    `schedule_notes` are the reader's; a row it has already asked about keeps its question.
    """
    header = schedule.header
    texts, row_notes = referred(schedule.rows)
    groups = _groups(schedule.rows, texts, header)
    asked = frozenset(note.ref for note in schedule_notes if note.severity is Severity.REFUSED and note.ref is not None)
    types: dict[tuple[object, ...], _Type] = {}
    unread: list[UnreadRow] = []
    coating = coating_of_the_part(header)
    for group in groups:
        if group.hole is not None:
            group.hole = with_insert_length(with_coating(group.hole, coating), group.rows)
        quantities = settle_quantities(group.rows, group.reading.callout or Callout(group.text, (), group.reading.counted))
        row_notes += [note for quantity in quantities for note in quantity.notes]
        if group.hole is None or not group.hole.features:
            unread += _unread(group, quantities, asked)
            continue
        gathered = types.setdefault(_type_key(group, group.hole), _Type(group))
        gathered.members += [
            Member(row.ref, row.tag, quantity.holes, quantity.places_mm, row.note)
            for row, quantity in zip(group.rows, quantities, strict=True)
        ]
        gathered.notes += _placed_notes(group, header)
        row_notes += check_remarks(group.rows, group.text, group.hole)
    if len(types) < len(groups):  # else every type has the rows of one group, which are in order
        order = {row.ref: number for number, row in enumerate(schedule.rows)}
        for gathered in types.values():
            gathered.members.sort(key=lambda member: order[member.ref])
        unread.sort(key=lambda row: order[row.ref])
    tags = [[member.tag for member in gathered.members] for gathered in types.values()]
    names = name_types(tags, [row.tag for row in unread])
    built = tuple(_hole_type(name, gathered, header.unit) for name, gathered in zip(names, types.values(), strict=True))
    places = check_places(built, header.thickness_mm)
    built = tuple(_with_elsewhere(each, places) for each in built)
    built = _counted_by_size(built)
    edges = check_edges(built, header)
    finish = finish_notes(coating, (each.hole for each in built), header)
    return BuiltHoles(built, tuple(unread), (*row_notes, *finish, *places, *edges, *check_lookalikes(built)))


def _groups(rows: Sequence[ScheduleRow], texts: Sequence[str], header: JobHeader) -> list[_Group]:
    """Rows brought together by what is written, each callout read, completed and checked once."""
    groups: dict[tuple[str, LengthUnit, str, float | None], _Group] = {}
    for row, text in zip(rows, texts, strict=True):
        material = row.material or header.material
        thickness_mm = row.thickness_mm if row.thickness_mm is not None else header.thickness_mm
        key = (text, row.unit, material, thickness_mm)
        group = groups.get(key)
        if group is None:
            reading = read_callout(text, row.unit)
            hole, notes = _whole(reading, thickness_mm, material)
            group = groups[key] = _Group(text, material, thickness_mm, reading, hole, notes)
        group.rows.append(row)
    return list(groups.values())


def _feature_key(feature: Feature) -> tuple[object, ...]:
    """What makes two features the same thing to make; how they were written does not matter."""
    uses = tuple(use for use in feature.element.uses if use != "right hand") if feature.element is not None else ()
    return (
        feature.kind,
        round(feature.diameter.mm, 6),
        feature.depth,
        feature.tolerance,
        feature.angle_deg,
        feature.thread,
        feature.side,
        feature.pilot_depth,
        feature.insert_diameters,
        feature.element.tap_limit if feature.element is not None else "",
        uses,
    )


def _type_key(group: _Group, hole: Hole) -> tuple[object, ...]:
    return (
        group.material.strip().upper(),
        group.thickness_mm,
        hole.remarks,
        hole.coating,
        *map(_feature_key, hole.features),
    )


def _placed_notes(group: _Group, header: JobHeader) -> list[Note]:
    """The group's notes with the cell of its first row; a stated unit that the text itself contradicts is asked about."""
    ref = group.rows[0].ref
    notes = []
    for note in group.notes:
        if note.code == COUNT_UNWRITTEN and all(row.quantity is not None for row in group.rows):
            continue
        if note.code == "CALLOUT-INCH-ASSUMED" and header.unit_stated:
            hint = "Write mm or in with the sizes of this callout."
            note = replace(note, severity=Severity.ASK, suggestion=hint)
        if note.code == INSERT_LENGTH and group.hole is not None and _insert_known(group.hole):
            read = f"The remark beside it is read as the insert's length: '{group.rows[0].note}'."
            note = Note("INSERT-LENGTH-BESIDE", Severity.TOLD, read)
        elif note.code == INSERT_LENGTH and (length := insert_length(group.rows)):
            hint = f"If '{length}' beside the callout is the insert's length, write it into the callout."
            note = replace(note, suggestion=f"{hint} {note.suggestion}")
        notes.append(replace(note, ref=ref, text=group.text))
    return notes


def _insert_known(hole: Hole) -> bool:
    return any(feature.insert_diameters is not None for feature in hole.features)


def _hole_type(name: str, gathered: _Type, unit: LengthUnit) -> HoleType:
    hole = gathered.group.hole
    assert hole is not None
    once = {(note.code, note.message): note for note in reversed(gathered.notes)}
    notes = tuple(note for note in gathered.notes if once[(note.code, note.message)] is note)
    group = gathered.group
    return HoleType(name, hole, tuple(gathered.members), group.material, group.thickness_mm, notes, drawn_in=unit)


def _counted_by_size(types: Sequence[HoleType]) -> tuple[HoleType, ...]:
    """The types, each with the number of holes that the same drills make: of its thread, or of its smallest diameter."""
    sizes = [_size_key(each) for each in types]
    counts = dict.fromkeys(sizes, 0)
    for each, size in zip(types, sizes, strict=True):
        counts[size] += each.quantity
    return tuple(replace(each, of_its_size=counts[size]) for each, size in zip(types, sizes, strict=True))


_HOLES = (Kind.TAP, Kind.DRILL, Kind.REAM, Kind.BORE)


def _size_key(hole_type: HoleType) -> tuple[object, ...]:
    features = hole_type.hole.features
    smallest = min([feature for feature in features if feature.kind in _HOLES], key=_diameter_mm, default=features[0])
    pitch_mm = smallest.thread.pitch_mm if smallest.thread is not None else None
    return hole_type.material.strip().upper(), smallest.kind, round(smallest.diameter.mm, 6), pitch_mm


def _diameter_mm(feature: Feature) -> float:
    return feature.diameter.mm


def _unread(group: _Group, quantities: Sequence[Quantity], asked: Collection[CellRef]) -> list[UnreadRow]:
    """One entry a row, each with the notes at its own cell: nothing is planned, nothing is lost.

    A damaged cell, `asked` about when it was read, is not asked about again for being empty.
    """
    callout: Callout | None = group.reading.callout
    deleted = callout is not None and callout.count == 0
    rows = []
    for row, quantity in zip(group.rows, quantities, strict=True):
        mine = [note for note in group.notes if note.code != "CALLOUT-EMPTY" or row.ref not in asked]
        notes = tuple(replace(note, ref=row.ref, text=row.callout) for note in mine)
        rows.append(UnreadRow(row.ref, row.tag, row.callout, 0 if deleted else quantity.holes, notes))
    return rows


def _with_elsewhere(hole_type: HoleType, places: Sequence[Note]) -> HoleType:
    """A counterbore or countersink without a hole is asked about, unless holes of other rows are at all its places.

    With such holes, the one that was supposed for a screw's counterbore is not made a second time.
    """
    codes = {note.code for note in hole_type.notes}
    features = hole_type.hole.features
    if codes.isdisjoint(ALONE) or {feature.kind for feature in features} <= {Kind.SPOTFACE}:
        return hole_type
    found = {ref for note in places if note.code == "CHECK-SAME-AXIS" for ref in (note.ref, *note.also)}
    notes = hole_type.notes
    if all(member.ref in found for member in hole_type.members):
        written = tuple(f for f in features if f.kind in HEAD_KINDS or not is_opening(f))
        notes = tuple(note for note in notes if note.code != "FASTENER-HOLE-UNWRITTEN")
        return replace(hole_type, hole=replace(hole_type.hole, features=written), notes=notes)
    notes = tuple(
        replace(note, severity=Severity.ASK, assumed="planned by itself") if note.code == "CALLOUT-HOLE-ELSEWHERE" else note
        for note in notes
    )
    return replace(hole_type, notes=notes)


ALONE = frozenset({"CALLOUT-HOLE-ELSEWHERE", "FASTENER-HOLE-UNWRITTEN"})
"""Notes on an opening whose hole is not in its callout."""
