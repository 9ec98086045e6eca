"""Threads and holes that are coated after they are made: larger before, and inside their limits afterwards."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tooling_samples import geometry, one, plan, step, tap

from holesched.callouts.model import Coating, Kind
from holesched.notes import Severity
from holesched.standards.sizes import Size
from holesched.standards.threads.base import ThreadGeometry
from holesched.tooling.coating import flank_factor, growth_of
from holesched.tooling.model import StepKind, ToolPlan
from holesched.tooling.tap_classes import h_limit_mm, iso_classes

IN = 25.4


def coated(designation: str, coating: Coating) -> ToolPlan:
    deep_mm = 1.5 * geometry(designation).spec.nominal.mm
    return plan(tap(designation, deep_mm), workpiece="C45", thickness_mm=40.0, coating=coating)


def made_limits(made: ToolPlan) -> ThreadGeometry:
    found = one(made, StepKind.TAP).step
    assert found is not None
    assert found.thread is not None
    return found.thread


def zinc(least_um: float | None, most_um: float | None = None, holds: str = "") -> Coating:
    mm = [None if um is None else um / 1000 for um in (least_um, most_um)]
    return Coating("ZINC", "ZINC", mm[0], mm[1], holds)


def test_a_60_degree_thread_shrinks_by_four_thicknesses() -> None:
    """Geometry; ASME B1.1-2003, 7.4.2 and 7.5.2 give 4 as read on a public page on gauges before plating."""
    assert isclose(flank_factor("60deg"), 4)
    assert isclose(flank_factor("J"), 4)


@pytest.mark.parametrize(("profile", "factor"), [("55deg", 4.331), ("30deg", 7.727), ("29deg", 7.988)])
def test_other_profiles_shrink_by_their_angle(profile: str, factor: float) -> None:
    """Calculated: 2 / sin(half the angle)."""
    assert round(flank_factor(profile), 3) == factor


def test_a_single_thickness_may_be_half_as_much_again() -> None:
    """ASME B1.1-2003, 7.4.2, as read on a public page: without a tolerance the coating is taken to be up to 1.5 times it."""
    growth = growth_of(zinc(8))
    assert growth is not None
    assert (growth.least_mm, round(growth.most_mm, 6)) == (0.008, 0.012)


def test_zinc_of_8_to_12_um_on_m8_6h() -> None:
    """Calculated: 4 x 8 = 32 and 4 x 12 = 48 um; limits after the coating: 7.188 + 0.048 to 7.348 + 0.032."""
    made = made_limits(coated("M8x1.25-6H", zinc(8, 12, "after")))
    assert (made.pitch.min_mm, made.pitch.max_mm) == (7.236, 7.380)
    assert (made.minor.min_mm, made.minor.max_mm) == (6.671, 6.928)


def test_go_and_not_go_before_plating_of_two_to_three_tenths() -> None:
    """A public page on gauges before plating: .0002 to .0003 in a side add .0012 in to GO and .0008 in to NOT GO."""
    plain = geometry("1/4-20 UNC-2B")
    made = made_limits(coated("1/4-20 UNC-2B", Coating("", "", 0.0002 * IN, 0.0003 * IN, "after")))
    assert plain.pitch.max_mm is not None
    assert made.pitch.max_mm is not None
    assert round((made.pitch.min_mm - plain.pitch.min_mm) / IN, 4) == 0.0012
    assert round((made.pitch.max_mm - plain.pitch.max_mm) / IN, 4) == 0.0008


@pytest.mark.parametrize(
    ("thread", "coating", "limit"),
    [
        ("M8x1.25-6H", zinc(5, 8), "ISO 2 (6H)"),
        ("M8x1.25-6H", zinc(8, 12), "ISO 3 (6G)"),
        ("M8x1.25-6H", zinc(12, 20), "7G"),
        ("M3x0.5-6H", zinc(12, 15), "ISO 2 (6H) + 0.040 mm"),
        ("1/4-20 UNC-2B", zinc(5, 8), "H5"),
        ("1/4-20 UNC-2B", zinc(12, 15), "H6"),
        ("#4-40 UNC-2B", zinc(5, 8), "H4"),
    ],
)
def test_the_first_class_that_stays_inside_is_chosen(thread: str, coating: Coating, limit: str) -> None:
    """Calculated from ISO 2857's zones and from H n = n x 0.0005 in: M8 ISO 2 cuts 38 to 63 um over basic, ISO 3 63 to 88,
    7G 88 to 113; four times 8, 12 and 20 um are 32, 48 and 80."""
    assert one(coated(thread, coating), StepKind.TAP).tool.limit == limit


@given(
    thread=st.sampled_from(["M4x0.7-6H", "M8x1.25-6H", "M10x1.5-6H", "M16x2-6H", "1/4-20 UNC-2B", "1/2-13 UNC-2B"]),
    least_um=st.floats(1, 15),
    spread_um=st.floats(0, 6),
)
def test_after_the_coating_the_thread_is_inside_its_class(thread: str, least_um: float, spread_um: float) -> None:
    made = coated(thread, zinc(least_um, least_um + spread_um, "after"))
    if any(note.severity is Severity.ASK for note in made.notes):
        return
    shape, limit = geometry(thread), one(made, StepKind.TAP).tool.limit
    if limit.startswith("H"):
        low, high = h_limit_mm(int(limit[1:]))
    else:
        name, _, more = limit.partition(" + ")
        zone = next(each for each in iso_classes(shape) if each.name == name.partition(" (")[0])
        extra = float(more.removesuffix(" mm") or 0)
        low, high = zone.low_mm + extra, zone.high_mm + extra
    basic = shape.basic_pitch_mm
    assert basic + low - 4 * (least_um + spread_um) / 1000 >= shape.pitch.min_mm - 2e-6
    assert shape.pitch.max_mm is not None
    assert basic + high - 4 * least_um / 1000 <= shape.pitch.max_mm + 2e-6


def test_a_hard_anodic_film_stands_out_by_half() -> None:
    """From memory, as the table of coatings says: a hard anodic film grows half into the metal."""
    growth = growth_of(Coating("HARD ANODIZE 20-30 um", "HARD ANODIZE", 0.020, 0.030))
    assert growth is not None
    assert (growth.least_mm, growth.most_mm) == (0.010, 0.015)


def test_more_coating_than_tolerance_is_asked() -> None:
    made = coated("M3x0.5-4H", zinc(10, 30, "after"))
    assert "COATING-OVER-TOLERANCE" in {note.code for note in made.notes if note.severity is Severity.ASK}


def test_limits_that_cannot_hold_before_and_after_are_asked() -> None:
    made = coated("M3x0.5-6H", zinc(20, 25))
    assert "COATING-BEFORE-OR-AFTER" in {note.code for note in made.notes if note.severity is Severity.ASK}


def test_no_thickness_leaves_the_sizes_and_says_what_taps_leave_room_for() -> None:
    """Calculated: M8 ISO 2 begins 38 um over basic: 9 um a side; ISO 3 63 um: 16 um."""
    made = coated("M8x1.25-6H", Coating("ZINC", "ZINC"))
    assert one(made, StepKind.TAP).tool.limit == "ISO 2 (6H)"
    [told] = [note.message for note in made.notes if note.code == "COATING-ROOM"]
    assert "ISO 2 for 10 µm" in told or "ISO 2 for 9 µm" in told


def test_a_reamed_hole_is_reamed_larger() -> None:
    """Calculated: 8 H7 is 8.000 to 8.015; 2 x 10 and 2 x 8 um."""
    ream = step(Kind.REAM, Size(8.0, "8"), 20.0, zone="H7")
    nickel = Coating("NICKEL 8-10 um", "NICKEL", 0.008, 0.010, "after")
    made = plan(ream, workpiece="C45", thickness_mm=40.0, coating=nickel)
    assert one(made, StepKind.REAM).tool.limit == "8.020 to 8.031 mm"


def test_a_taper_thread_is_told_in_turns() -> None:
    """Calculated: 4 x 0.012 x 16 = 0.768 mm, 0.54 turns of 1.411 mm."""
    made = coated("1/4-18 NPT", zinc(8))
    [told] = [note.message for note in made.notes if note.code == "COATING-TAPER"]
    assert "0.5 turns less" in told


def test_what_is_assumed_of_a_coating_is_to_be_initialled() -> None:
    assumed = [note.code for note in coated("M8x1.25-6H", zinc(8)).notes if note.severity is Severity.ASSUMED]
    assert assumed == ["COATING-THICKNESS-ASSUMED", "COATING-LIMITS-ASSUMED"]
    whole = coated("M8x1.25-6H", zinc(8, 12, "after"))
    assert [note for note in whole.notes if note.severity is Severity.ASSUMED] == []


@pytest.mark.parametrize("thread", ["M8x1.25 STI", "G1/4"])
def test_a_thread_whose_taps_have_no_figures_is_watched(thread: str) -> None:
    assert "TAP-LIMIT-TO-ORDER" in [note.code for note in coated(thread, zinc(8, 12)).notes]
    assert "TAP-LIMIT-TO-ORDER" not in [note.code for note in plan(tap(thread, 12.0), thickness_mm=40.0).notes]


def test_a_masked_thread_is_made_as_drawn() -> None:
    made = coated("M8x1.25-6H", Coating("MASK THREADS", "MASKED", 0.0, 0.0))
    assert one(made, StepKind.TAP).tool.limit == "ISO 2 (6H)"
    assert [note for note in made.notes if note.code.startswith("COATING")] == []
