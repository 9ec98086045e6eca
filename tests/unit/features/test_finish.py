"""A coating in the title block: for every thread and toleranced hole, asked about once where it has no thickness."""

from __future__ import annotations

import pytest

from holesched.callouts.coatings import coating_in
from holesched.features.build import build_holes
from holesched.features.model import BuiltHoles
from holesched.notes import CellRef
from holesched.schedule.model import JobHeader, Schedule, ScheduleRow

CALLOUTS = ("M8x1.25-6H ↧16", "Ø9 THRU", "Ø8 H7 THRU", "M6-6H THRU NICKEL 5 µm")


def built(finish: str) -> BuiltHoles:
    header = JobHeader(
        material="C45", thickness_mm=30.0, unit_stated=True, finish=finish, finish_ref=CellRef("f", "s", 4, 2)
    )
    rows = tuple(
        ScheduleRow(CellRef("f", "s", 6 + number, 3), f"A{number}", text, "mm") for number, text in enumerate(CALLOUTS)
    )
    return build_holes(Schedule("f", "s", "", header, rows, (), len(rows)), ())


def test_it_holds_for_threads_and_fits_and_not_for_what_names_its_own() -> None:
    texts = [each.hole.coating.text if each.hole.coating else None for each in built("ZINC PLATE 8-12 µm").types]
    assert texts == ["ZINC PLATE 8-12 μm", None, "ZINC PLATE 8-12 μm", "NICKEL 5 μm"]


def test_without_a_thickness_it_is_asked_once() -> None:
    [note] = [note for note in built("ZINC PLATED").notes if note.code == "FINISH-THICKNESS"]
    assert note.ref == CellRef("f", "s", 4, 2)
    assert note.is_question


@pytest.mark.parametrize("finish", ["", "Ra 3.2", "PASSIVATE", "PAINT RAL 7035", "DEBURR ALL EDGES"])
def test_what_adds_nothing_to_a_surface_changes_nothing(finish: str) -> None:
    found = built(finish)
    assert [note for note in found.notes if note.code == "FINISH-THICKNESS"] == []
    assert found.types[0].hole.coating is None


def test_a_norm_beside_it_is_no_thickness() -> None:
    found = coating_in("ZINC PLATE PER ISO 2081 Fe/Zn8", "mm")
    assert found is not None
    assert (found.least_mm, found.most_mm) == (0.008, None)
