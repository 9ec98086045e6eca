"""Threads against the strength of their screws: only where the shop names it."""

from __future__ import annotations

import pytest
from tooling_samples import Kind, codes, geometry, material, plan, size, step, tap

from holesched.notes import Severity
from holesched.shop.model import GRADES, Preferences, Shop
from holesched.standards.strength import needed_engagement
from holesched.tables import table
from holesched.tooling.engagement import needed_for

M8 = "M8x1.25-6H"
STRONG, PLAIN = (Shop(preferences=Preferences(screw_grade=grade)) for grade in ("10.9", "8.8"))


def test_without_a_grade_nothing_is_said() -> None:
    assert codes(plan(tap(M8, 4), thickness_mm=40)) == []


def test_a_thread_shorter_than_its_screw_needs_is_watched() -> None:
    """One pitch of the length is lost at the entry; the rest against FED-STD-H28/2 (test_strength)."""
    need = needed_engagement(geometry(M8), "10.9", material("6061").tensile_mpa or 0).least_mm
    short, long = (plan(tap(M8, need + 1.25 + mm), shop=STRONG, thickness_mm=60) for mm in (-0.1, 0.1))
    assert codes(short) == ["THREAD-SHORT-FOR-SCREW"]
    assert short.notes[0].severity is Severity.WATCH
    assert f"{need:.1f} mm" in short.notes[0].message
    assert codes(long) == []


def test_a_weaker_screw_needs_less() -> None:
    aluminium, m8 = material("6061"), geometry(M8)
    strong, plain = (needed_for(m8, grade, aluminium) for grade in ("10.9", "8.8"))
    assert strong is not None
    assert plain is not None
    assert plain.least_mm < strong.least_mm


def test_a_counterbore_and_the_parts_thickness_count() -> None:
    assert "THREAD-SHORT-FOR-SCREW" in codes(
        plan(tap(M8, 16), step(Kind.COUNTERBORE, size(15), 8), shop=STRONG, thickness_mm=40)
    )
    through = plan(tap(M8), shop=STRONG, thickness_mm=10)
    assert "THREAD-SHORT-FOR-SCREW" in codes(through)
    assert "THREAD-SHORT-FOR-SCREW" not in codes(plan(tap(M8), shop=STRONG, thickness_mm=None))


@pytest.mark.parametrize("text", ["G1/4", "1/4-18 NPT", "M8x1.25 STI", "Tr20x4-7H"])
def test_threads_without_a_known_screw_are_not_judged(text: str) -> None:
    assert "THREAD-SHORT-FOR-SCREW" not in codes(plan(tap(text, 3), shop=STRONG, thickness_mm=60))


def test_the_grades_of_the_shop_file_are_those_of_the_table() -> None:
    assert {grade for grade in GRADES if grade} == {row["grade"] for row in table("screw_grades.csv").rows}
    assert needed_for(geometry("M48"), "8.8", material("C45")) is None, "not made in that size by the table"
