"""Holes side by side: which pairs are asked about, at which cell, and how many are like the first."""

from __future__ import annotations

import pytest

from holesched.features.build import build_holes
from holesched.notes import CellRef, Note, Severity
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow


def _notes(*rows: tuple[str, float, float], thickness_mm: float | None = None) -> list[Note]:
    """The CHECK notes of a schedule whose rows are callout, X and Y; from row 2 on."""
    read = tuple(
        ScheduleRow(CellRef("job.xlsx", "Holes", number, 3), f"H{number}", callout, "mm", None, x_mm, y_mm)
        for number, (callout, x_mm, y_mm) in enumerate(rows, start=2)
    )
    header = JobHeader(thickness_mm=thickness_mm)
    built = build_holes(Schedule("job.xlsx", "Holes", "0", header, read, (), len(read)), ())
    return [note for note in built.notes if note.code.startswith("CHECK-") and note.code != "CHECK-LOOKALIKE"]


@pytest.mark.parametrize(
    ("rows", "code"),
    [
        ([("Ø10 THRU", 0, 0), ("Ø10 THRU", 0, 0)], "CHECK-SAME-PLACE"),
        ([("Ø5 ↧20", 0, 0), ("M6 ↧12", 0, 0)], "CHECK-SAME-AXIS"),
        ([("Ø10 THRU", 0, 0), ("Ø10 THRU", 9, 0)], "CHECK-WALLS-MEET"),
        ([("Ø10 THRU", 0, 0), ("Ø10 THRU", 14.9, 0)], "CHECK-WEB-THIN"),
        ([("Ø10 THRU", 0, 0), ("Ø10 THRU", 15, 0)], None),
        ([("Ø5 ↧9", 0, 0), ("Ø5 ↧9 FAR SIDE", 0, 0)], None),
        ([("Ø6 THRU ⌴ Ø18 ↧3", 0, 0), ("Ø6 THRU ⌴ Ø18 ↧3", 17, 0)], "CHECK-OPENINGS-MEET"),
        ([("Ø6 THRU ⌴ Ø18 ↧3", 0, 0), ("Ø6 THRU ⌴ Ø18 ↧3", 18, 0)], None),
    ],
)
def test_two_holes(rows: list[tuple[str, float, float]], code: str | None) -> None:
    """Plain geometry: half the smaller diameter of wall is asked for; circles meet nearer than their radii together."""
    assert [note.code for note in _notes(*rows, thickness_mm=20)] == ([code] if code else [])


def test_an_opening_that_cuts_into_a_hole_is_asked_even_where_others_only_meet() -> None:
    """Openings of 18 meet within 18 mm; one cuts into the other hole of 6 mm within (18 + 6) / 2 = 12 mm."""
    hole = "Ø6 THRU ⌴ Ø18 ↧3"
    found = _notes((hole, 0, 0), (hole, 17, 0), (hole, 17, 11.5))
    assert [(note.severity, note.ref and note.ref.cell) for note in found] == [(Severity.WATCH, "C3"), (Severity.ASK, "C4")]


def test_pairs_of_one_kind_are_counted_with_their_first_example() -> None:
    """Five holes in a row, 9 mm apart and 10 mm wide: four pairs."""
    (note,) = _notes(*(("Ø10 THRU", 9.0 * n, 0.0) for n in range(5)))
    assert note.message.startswith("hole H2 and hole H3, 9.000 mm apart: their walls meet (diameters 10 and 10 mm).")
    assert "4 pairs of these holes are like this." in note.message


def test_every_hole_at_one_place_is_one_question_however_many() -> None:
    """An export whose X and Y are all 0: 6,000 rows of two types are 6000 x 5999 / 2 pairs, none of them looked at alone."""
    found = _notes(*((("Ø10 THRU", "M8 THRU")[n % 2], 0.0, 0.0) for n in range(6000)))
    counts = [int(note.message.split("one hole or two? ")[1].split()[0]) for note in found]
    assert {note.code for note in found} == {"CHECK-SAME-PLACE"}
    assert sum(counts) == 6000 * 5999 // 2
    assert sorted(counts) == [3000 * 2999 // 2, 3000 * 2999 // 2, 3000 * 3000]


def test_places_that_lie_in_each_other_are_one_question_about_their_unit() -> None:
    """A grid of 0.5 in read as 0.5 mm: within the 9 mm that two holes of 6 mm keep lie pi x 9^2 / 0.5^2 = 1,018 others."""
    found = _notes(*((("Ø6 THRU", "M8 THRU")[n % 2], 0.5 * (n % 70), 0.5 * (n // 70)) for n in range(4900)))
    (note,) = found
    assert (note.code, note.severity, note.ref and note.ref.cell) == ("CHECK-PLACES-CROWDED", Severity.ASK, "C2")
    assert note.message.startswith("Most of 4900 holes lie within reach of dozens of others: are X and Y in another unit?")
    assert len({note.ref, *note.also}) == 4900, "every row is asked about, and on hold"


def test_two_at_one_place_are_asked_about_among_crowded_ones_too() -> None:
    grid = [("Ø6 THRU", 0.5 * (n % 10), 0.5 * (n // 10)) for n in range(100)]
    assert [note.code for note in _notes(*grid, grid[7])] == ["CHECK-PLACES-CROWDED", "CHECK-SAME-PLACE"]


def test_holes_as_near_as_a_perforated_plate_are_not_crowded() -> None:
    """A hexagonal pattern, pitch 1.25 diameters: each has six neighbours with too thin a wall, and no other."""
    plate = [("Ø10 THRU", 12.5 * (n % 12 + 0.5 * (n // 12 % 2)), 12.5 * 0.75**0.5 * (n // 12)) for n in range(144)]
    assert {note.code for note in _notes(*plate)} == {"CHECK-WEB-THIN"}
