"""Two concentric steps in one stroke: a step drill in place of a drill and the tool over it, where the rules want one.

Its two depths hang together: the control is given the tip's depth that brings the shoulder to its own, and how deep the hole
is drilled then follows from the tool. So it is made for the hole, and its step length is part of the order.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from holesched.notes import Cite, Note, Reason, Severity, Standing
from holesched.standards import drill_sizes
from holesched.tooling.cutters import renamed
from holesched.tooling.depth import CLOSE_MM, point_length_mm
from holesched.tooling.hole_bottom import TOO_THIN
from holesched.tooling.model import FLAT_DEG, Shoulder, StepKind, ToolStep
from holesched.tooling.rules import Verdict, decide
from holesched.tooling.setting import Setting

STEP_DRILL, SEPARATE = "step drill", "separate tools"
"""The rules' verdicts."""
PECKED, OTHER_SIDE, NO_TIME_SAVED = "pecked", "tapped from the other side", "no time saved"
"""What the rules are told of a hole, beside that its wall would be too thin or both diameters too heavy."""
LARGEST_RATIO = 2.0
"""A second diameter larger than this leaves the first too weak. Common practice, no source."""
LENGTH_OVER_MM = 0.2
"""How much longer than asked a step drill may come: the hole then is deeper, never shallower. Common practice, no source."""
OVER_RIM_MM = 0.2
"""How much wider than the rim of its cone a step drill is, at least: the rim is made by the depth. Common practice, no
source."""
DIN = Cite("DIN 8374, 8376, 8378", place="subland drills: 90° countersinks, counterbores, core holes with a 90° countersink",
           standing=Standing.FROM_MEMORY)  # fmt: skip
_SECOND = (StepKind.COUNTERBORE, StepKind.COUNTERSINK, StepKind.DRILL)


def with_step_drills(steps: Sequence[ToolStep], setting: Setting) -> tuple[tuple[ToolStep, ...], list[Note]]:
    """The steps of a hole with those of two tools that one step drill makes as one step, and how that is to be ordered.

    Where a rule asks for one and another strikes it, the drill carries the reason.
    """
    made, notes = list(steps), []
    for first, second in list(_pairs(steps)):
        if first not in made:  # one tool has two diameters here, not three
            continue
        both = _merged(first, second)
        verdict = _verdict(both, steps, setting)
        if verdict.value == STEP_DRILL:
            made[made.index(first)] = replace(both, reasons=(_why(both, verdict), *both.reasons))
            made.remove(second)
            notes.append(_order(both))
        elif verdict.struck:
            by = verdict.struck[0].by
            decision, rejected = verdict.reason.decision, verdict.reason.rejected
            against = Reason(decision, f"no step drill: {by.because}", by.id, (by.cite,), rejected)
            made[made.index(first)] = replace(first, reasons=(*first.reasons, against))
    return tuple(made), notes


def _pairs(steps: Sequence[ToolStep]) -> Iterator[tuple[ToolStep, ToolStep]]:
    """Each drill into solid metal with the wider step that comes straight over it, from the same face."""
    for index, second in enumerate(steps):
        before = [step for step in steps[:index] if step.side is second.side and step.kind is not StepKind.SPOT]
        first = max(before, key=lambda step: step.diameter_mm, default=None)
        if first is None or second.kind not in _SECOND or first.start_mm > 0 or second.start_mm > 0:
            continue
        both_alone = _drills(before) == [first] and (second.kind is not StepKind.DRILL or _drills(steps, second) == [second])
        known = not second.through and None not in (first.tip_mm, first.depth_mm, second.depth_mm)
        wider = first.diameter_mm < second.diameter_mm <= LARGEST_RATIO * first.diameter_mm
        if both_alone and known and wider and (first.depth_mm or 0.0) > _shoulder_mm(first, second):
            yield first, second


def _drills(steps: Sequence[ToolStep], of: ToolStep | None = None) -> list[ToolStep]:
    """The drills among steps; `of` a step, those of its hole."""
    return [step for step in steps if step.kind is StepKind.DRILL and (of is None or step.step is of.step)]


def _angle_deg(second: ToolStep) -> float:
    return FLAT_DEG if second.kind is StepKind.COUNTERBORE else second.tool.point_angle_deg or FLAT_DEG


def _shoulder_mm(first: ToolStep, second: ToolStep) -> float:
    """How deep the small end of the shoulder lies: under the floor by the height of its cone, from the rim of a countersink.

    Plain geometry.
    """
    wide_mm = 0.0 if second.kind is StepKind.COUNTERSINK else second.depth_mm or 0.0
    return wide_mm + point_length_mm(second.diameter_mm - first.diameter_mm, _angle_deg(second))


def _merged(first: ToolStep, second: ToolStep) -> ToolStep:
    """Both in one stroke: the drill goes as deep as it would alone, and the length to its shoulder is made for that."""
    assert first.tip_mm is not None
    wide_mm = second.diameter_mm
    if second.kind is StepKind.COUNTERSINK:
        wider = drill_sizes.next_up(wide_mm + OVER_RIM_MM, drill_sizes.series("metric-preferred"))
        wide_mm = wider.mm if wider is not None else wide_mm + OVER_RIM_MM
    length_mm = round(first.tip_mm - _shoulder_mm(first, second), 6)
    shoulder = Shoulder(wide_mm, _angle_deg(second), length_mm, LENGTH_OVER_MM)
    with_it = replace(second, coolant="", coolant_reasons=(), limit=None)  # the drill's own hold for both
    return replace(first, tool=replace(renamed(first.tool, STEP_DRILL), shoulder=shoulder), also=with_it)


def _verdict(both: ToolStep, steps: Sequence[ToolStep], setting: Setting) -> Verdict:
    case = replace(
        setting.case,
        size_mm=both.diameter_mm,
        depth_d=(both.depth_mm or 0.0) / both.diameter_mm,
    )
    said = {setting.reckoned.step_drill}
    if both.pecks > 1 and not both.pecks_short:
        said.add(PECKED)
    if both.through and any(step.kind.makes_thread and step.side is not both.side for step in steps):
        said.add(OTHER_SIDE)
    if _is_wall_too_thin(both, setting):
        said.add(TOO_THIN)
    return decide("stepped hole", case, frozenset(said - {""}), setting.book)


def _is_wall_too_thin(both: ToolStep, setting: Setting) -> bool:
    """Whether the longest tool that may be delivered leaves less wall under a blind hole than the shop wants."""
    if both.through or setting.thickness_mm is None:
        return False
    deepest_mm = (both.tip_mm or 0.0) + LENGTH_OVER_MM
    return setting.thickness_mm - deepest_mm < setting.shop.preferences.wall_warning_mm - CLOSE_MM


def _why(both: ToolStep, verdict: Verdict) -> Reason:
    second, shoulder = both.also, both.tool.shoulder
    assert second is not None
    assert shoulder is not None
    _, because, rule, cites, rejected = verdict.reason
    if second.step is None:  # the shop's own chamfer: its reason would be lost with its tool
        because += f"; {second.reasons[0].because.partition('; ')[0]}"
    because += f"; its tip is {shoulder.length_mm:.2f} mm beyond its shoulder"
    decision = f"step drill: {both.tool.sized} and Ø{shoulder.diameter_mm:.4g} mm"
    return Reason(decision, because, rule, (*cites, DIN), rejected)


def _order(both: ToolStep) -> Note:
    """That it is made to order, and what to do when the tool is there; its lengths stand with the tool."""
    shoulder = both.tool.shoulder
    assert shoulder is not None
    message = (
        "a step drill is ordered or reground to the length from tip to shoulder that the tool list gives, at most "
        f"{shoulder.over_mm:g} mm longer."
    )
    suggestion = "Measure that length on the tool, and correct the depth of its tip by the difference."
    return Note("HOLE-STEP-DRILL", Severity.WATCH, message, suggestion, cite=DIN)
