"""Resolved holes made by hand for the tests of tooling, with the real standards behind them."""

from __future__ import annotations

from collections.abc import Mapping

from holesched.callouts.model import Coating, Depth, Kind, Side, Tolerance
from holesched.features.model import Feature, Hole, HoleType, Member
from holesched.notes import CellRef
from holesched.resolve.model import ResolvedHole, ResolvedStep
from holesched.shop.model import Shop
from holesched.standards import fits, threads
from holesched.standards.materials import Material, find_material
from holesched.standards.sizes import Limits, Size
from holesched.standards.threads.base import ThreadGeometry
from holesched.tooling.choose import plan_tools
from holesched.tooling.model import StepKind, ToolPlan, ToolStep
from holesched.tooling.reckoned import Reckoned

CELL = CellRef("plate.xlsx", "Holes", 7, 3)


def material(name: str) -> Material:
    """A material of the table."""
    found = find_material(name).material
    assert found is not None, name
    return found


def geometry(text: str) -> ThreadGeometry:
    """The geometry of a thread by its designation."""
    for standard in threads.STANDARDS:
        match = standard.designation.fullmatch(text)
        if match is not None:
            answer = standard.complete(standard.read(match, "mm"))
            assert answer.spec is not None, answer.problem
            return standard.geometry(answer.spec)
    raise AssertionError(f"no standard reads {text}")


def size(mm: float, label: str = "") -> Size:
    return Size(mm, label or f"{mm:g}")


def step(
    kind: Kind,
    diameter: Size,
    depth_mm: float | None = None,
    *,
    through: bool = False,
    limits: Limits | None = None,
    zone: str | None = None,
    angle_deg: float | None = None,
    thread: ThreadGeometry | None = None,
    side: Side = Side.NEAR,
    depth: Depth | None = None,
    pilot_depth: Depth | None = None,
    insert_mm: float | None = None,
) -> ResolvedStep:
    """One resolved step; `through` steps get their depth from `hole`."""
    if zone is not None and limits is None:
        limits = fits.hole_limits(diameter.mm, zone)
    feature = Feature(
        kind=kind,
        diameter=diameter,
        depth=depth or Depth(mm=depth_mm, through=through),
        tolerance=Tolerance(zone=zone) if zone is not None else None,
        angle_deg=angle_deg,
        thread=thread.spec if thread is not None else None,
        side=side,
        pilot_depth=pilot_depth,
    )
    return ResolvedStep(feature, kind, diameter, limits, through, depth_mm, angle_deg, thread, side, insert_mm=insert_mm)


def tap(text: str, depth_mm: float | None = None, side: Side = Side.NEAR, insert_mm: float | None = None) -> ResolvedStep:
    """A tapped hole; through without a depth."""
    shape = geometry(text)
    through = depth_mm is None
    return step(Kind.TAP, shape.spec.nominal, depth_mm, through=through, thread=shape, side=side, insert_mm=insert_mm)


def hole(
    *steps: ResolvedStep,
    thickness_mm: float | None = 25.0,
    remarks: tuple[str, ...] = (),
    coating: Coating | None = None,
) -> ResolvedHole:
    """One hole of those steps; through steps are as deep as the part is thick."""
    made = tuple(
        step(
            one.kind,
            one.diameter,
            thickness_mm,
            through=True,
            limits=one.limits,
            zone=one.feature.tolerance.zone if one.feature.tolerance else None,
            angle_deg=one.angle_deg,
            thread=one.thread,
            side=one.side,
            insert_mm=one.insert_mm,
        )
        if one.through
        else one
        for one in steps
    )
    features = tuple(one.feature for one in made)
    hole_type = HoleType(
        letter="A",
        hole=Hole(features, "callout", remarks=remarks, coating=coating),
        members=(Member(CELL, "A1", 1),),
        material="",
        thickness_mm=thickness_mm,
    )
    return ResolvedHole(hole_type, made, thickness_mm)


def plan(
    *steps: ResolvedStep,
    workpiece: str = "6061",
    shop: Shop | None = None,
    thickness_mm: float | None = 25.0,
    remarks: tuple[str, ...] = (),
    coating: Coating | None = None,
    torque: Mapping[str, float] | None = None,
) -> ToolPlan:
    """The tool plan of one hole; `torque` is what a tap would take of the spindle's."""
    resolved = hole(*steps, thickness_mm=thickness_mm, remarks=remarks, coating=coating)
    reckoned = Reckoned(tap_torque=torque or {})
    return plan_tools(resolved, material(workpiece), shop or Shop(), reckoned=reckoned)


def one(plan: ToolPlan, kind: StepKind) -> ToolStep:
    """The plan's only step of that kind."""
    (found,) = [step for step in plan.steps if step.kind is kind]
    return found


def codes(plan: ToolPlan) -> list[str]:
    """The codes of the plan's notes, in order."""
    return [note.code for note in plan.notes]
