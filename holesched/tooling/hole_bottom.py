"""The bottom of a blind hole: as the drill's point leaves it, or flat, where only the point is too deep for the part."""

from __future__ import annotations

from dataclasses import dataclass, replace

from holesched.notes import Note, Reason, Severity
from holesched.tooling.cutters import renamed
from holesched.tooling.depth import CLOSE_MM, wall_note
from holesched.tooling.model import FLAT_DEG, DepthBudget, StepKind
from holesched.tooling.rules import decide
from holesched.tooling.setting import Setting
from holesched.tooling.work import Work

FLAT = "flat-ended finish"
FLAT_FITS = "flat fits"
"""What the rules are told where the point leaves too little wall and a flat bottom stays inside the part."""
TOO_THIN = "wall too thin"
"""What the rules are told where the room under a tool leaves too little wall, even under a flat bottom."""
THE_LEAST = "the least"
"""The rules' verdict where that room is cut down."""


@dataclass(frozen=True, slots=True)
class Bottom:
    """How deep a blind hole is drilled, its point, and the wall under it, as the wall is judged: all mm."""

    drilled_mm: float
    point_mm: float

    def fits_flat(self, setting: Setting) -> bool:
        """Whether the point is too deep for the part and the cylinder ends inside it; a hole shallower than the point has
        none, and one that is milled has no point."""
        if setting.thickness_mm is None or self.point_mm <= 0 or self.drilled_mm <= self.point_mm:
            return False
        deepest_mm = setting.thickness_mm - setting.shop.preferences.wall_warning_mm + CLOSE_MM
        return self.drilled_mm < setting.thickness_mm - CLOSE_MM and deepest_mm < self.drilled_mm + self.point_mm


def is_flat_allowed(setting: Setting) -> bool:
    """Whether the rules end a hole flat whose point is too deep."""
    return decide("hole bottom", setting.case, frozenset((FLAT_FITS,)), setting.book).value == FLAT


def least_room(setting: Setting) -> Reason | None:
    """Why no more than the least room is kept under a tool whose room for chips leaves too little wall; None where it is."""
    verdict = decide("room under a tool", setting.case, frozenset((TOO_THIN,)), setting.book)
    return verdict.reason if verdict.value == THE_LEAST else None


def flat_reason(bottom: Bottom, setting: Setting) -> Reason | None:
    """Why the hole is finished flat; None where it is not."""
    if not bottom.fits_flat(setting):
        return None
    verdict = decide("hole bottom", setting.case, frozenset((FLAT_FITS,)), setting.book)
    return verdict.reason if verdict.value == FLAT else None


def finished_flat(works: tuple[Work, ...], why: Reason) -> tuple[Work, ...]:
    """The works of one drilled hole: its drill ends with its tip where the hole ends, a flat-ended drill follows."""
    main = max((work for work in works if work.kind is StepKind.DRILL), key=lambda work: work.diameter_mm)
    assert main.depth_mm is not None
    first = replace(main, depth_mm=main.depth_mm - main.lead_mm)
    tool = replace(renamed(main.tool, "flat-ended drill"), point_angle_deg=FLAT_DEG)
    flat = replace(main, tool=tool, lead_mm=0.0, fit=None, from_mm=first.depth_mm or 0.0, reasons=(why,))
    pilots = tuple(
        replace(work, depth_mm=min(work.depth_mm or 0.0, main.depth_mm - work.lead_mm))
        for work in works
        if work is not main and work.kind is StepKind.DRILL
    )
    others = tuple(work for work in works if work.kind is not StepKind.DRILL)
    return (*pilots, first, flat, *others)


def without_point(budget: DepthBudget) -> DepthBudget:
    """The depth budget of a hole that ends flat."""
    wall_mm = None if budget.wall_left_mm is None else round(budget.wall_left_mm + budget.point_mm, 6)
    return replace(budget, point_mm=0.0, tip_mm=budget.drilled_mm, wall_left_mm=wall_mm)


def flat_note(what: str, bottom: Bottom, setting: Setting, *, stated: bool) -> Note:
    """What is said of the wall where the hole ends flat.

    A question still, where even that leaves too little, or where the drawing itself has `stated` a drilled depth whose point
    would break out.
    """
    thickness_mm, wall_mm = setting.thickness_mm or 0.0, setting.shop.preferences.wall_warning_mm
    thin = wall_note(bottom.drilled_mm, setting.thickness_mm, wall_mm, what)
    if thin is not None:
        return replace(thin, assumed="Finished with a flat-ended drill to the depth shown.")
    tip_mm = bottom.drilled_mm + bottom.point_mm
    left_mm = thickness_mm - bottom.drilled_mm
    if stated and tip_mm >= thickness_mm:
        assumed = f"Finished with a flat-ended drill: {left_mm:.2f} mm of wall are left."
        asked = wall_note(tip_mm, setting.thickness_mm, wall_mm, what, bottom.point_mm)
        assert asked is not None  # the tip is past the far face
        return replace(asked, assumed=assumed)
    point = "break through" if tip_mm >= thickness_mm else f"leave only {thickness_mm - tip_mm:.2f} mm of wall"
    message = (
        f"The point of the drill for {what} would {point}; the shop asks under {wall_mm:g} mm. So it is finished with a "
        f"flat-ended drill: {left_mm:.2f} mm of wall are left."
    )
    return Note("HOLE-FLAT-BOTTOM", Severity.WATCH, message, "Check that the drawing does not need the cone.")
