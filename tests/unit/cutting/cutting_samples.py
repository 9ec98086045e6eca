"""Tool steps made by hand for the tests of cutting: no rules of tooling behind them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from holesched.cutting.model import CutPlan, CutStep
from holesched.cutting.parameters import plan_cutting
from holesched.features.model import Hole, HoleType, Member
from holesched.notes import CellRef
from holesched.resolve.model import ResolvedHole
from holesched.shop.model import Machine, Shop
from holesched.standards.materials import Material, find_material
from holesched.tooling.model import Chamfer, StepKind, TapDrillFit, Tool, ToolPlan, ToolStep

CELL = CellRef("plate.xlsx", "Holes", 7, 3)
STRONG = Machine(
    spindle_torque_nm=1e6, spindle_power_kw=1e4, axis_thrust_n=1e9, feed_max_mm_per_min=1e9, spindle_max_rpm=1e6
)
"""A machine that limits nothing but the tapping speed."""


def material(name: str) -> Material:
    found = find_material(name).material
    assert found is not None, name
    return found


def drill(diameter_mm: float, tool_material: str = "HSS", **more: Any) -> Tool:
    return Tool(StepKind.DRILL, diameter_mm, f"{diameter_mm:g}", tool_material, point_angle_deg=118.0, name="drill", **more)


def tap(major_mm: float = 8.0, pitch_mm: float = 1.25, form: str = "spiral-flute", **more: Any) -> Tool:
    given: dict[str, Any] = {
        "material": "PM-HSS",
        "treatment": "TiCN",
        "flutes": 3,
        "chamfer": Chamfer("semi-bottoming", "C", 2.5),
    }
    given |= more
    return Tool(StepKind.TAP, major_mm, f"M{major_mm:g}x{pitch_mm:g}", flute_form=form, pitch_mm=pitch_mm, **given)


def step(
    tool: Tool, depth_mm: float | None = 10.0, *, through: bool = False, kind: StepKind | None = None, **more: Any
) -> ToolStep:
    """A step as deep as said, fed 2 mm of approach and 1 mm beyond its depth."""
    travel = None if depth_mm is None else depth_mm + 3
    given: dict[str, Any] = {"diameter_mm": tool.diameter_mm, "tip_mm": depth_mm, "travel_mm": travel}
    given |= more
    return ToolStep(kind or tool.kind, tool, None, through=through, depth_mm=depth_mm, **given)


def tap_step(
    tool: Tool, hole_mm: float, window_mm: tuple[float, float] | None = None, depth_mm: float = 12.0, **more: Any
) -> ToolStep:
    fit = TapDrillFit(hole_mm, window_mm or (hole_mm - 0.05, hole_mm + 0.1), 75.0, (80.0, 70.0))
    return step(tool, depth_mm, fit=fit, **more)


def tool_plan(*steps: ToolStep) -> ToolPlan:
    hole_type = HoleType("A", Hole((), "M8"), (Member(CELL, "A1", 1),), "", 25.0)
    return ToolPlan(ResolvedHole(hole_type, (), 25.0), steps)


def cut_plan(*steps: ToolStep, of: str | Material = "C45", machine: Machine | None = None) -> CutPlan:
    workpiece = material(of) if isinstance(of, str) else of
    return plan_cutting(tool_plan(*steps), workpiece, Shop(machine=machine or Machine()))


def cut(*steps: ToolStep, of: str | Material = "C45", machine: Machine | None = None) -> CutStep:
    """The last step's parameters."""
    return cut_plan(*steps, of=of, machine=machine).cuts[-1]


def codes(plan: CutPlan) -> list[str]:
    return [note.code for note in plan.notes]


def at_hardness(workpiece: Material, hb: float) -> Material:
    return replace(workpiece, hardness_hb=(hb, hb))
