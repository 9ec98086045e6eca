"""Counterbores, spotfaces, countersinks and chamfers made whole."""

from __future__ import annotations

from holesched.callouts.model import Depth, Element, Kind
from holesched.features.completion import HEAD_KINDS, STEP_NAMES, Completion
from holesched.features.fasteners import with_head
from holesched.features.findings import major_mm
from holesched.features.model import Feature
from holesched.notes import Cite, Note, Severity, Standing
from holesched.standards.sizes import Size
from holesched.units import MM_PER_INCH

SPOTFACE_RULE = Cite("ASME Y14.5", "2018", "spotface without a depth: the least that cleans up", Standing.FROM_MEMORY)

OF_A_LEG = 45.0
"""Degrees of a chamfer between its leg and the face; few countersinks include so little. Common practice, no source."""
THREAD_CHAMFER = 1.05
"""Rim of a thread's chamfer over its diameter (1.0 to 1.05 by DIN 76-1, from memory)."""
NARROWEST_CHAMFER_MM = 0.1
"""Below, a leg is more likely in inches (.02x45°), or has lost its point. Common practice, no source."""


def flat(work: Completion, element: Element) -> Feature | None:
    """Counterbore: diameter and depth, or a screw that gives both. Spotface: a depth, or what cleans up."""
    diameter, depth = element.diameter, element.depth
    if diameter is None:
        found = with_head(work, element)
        if found is None:
            return None
        if found.counterbore is None:
            sentence = f"'{element.fastener}' has no head a counterbore is tabulated for."
            work.note("FASTENER-UNKNOWN", Severity.REFUSED, sentence, element.span, "Write diameter and depth, or the head.")
            return None
        diameter = found.counterbore[0]
        depth = depth or (None if element.kind is Kind.SPOTFACE else Depth(found.counterbore[1]))
        sentence = f"counterbore for {element.fastener}: diameter {diameter.named}, depth {found.counterbore[1]:g} mm"
        if element.depth is not None or element.kind is Kind.SPOTFACE:
            sentence = f"{STEP_NAMES[element.kind]} for {element.fastener}: diameter {diameter.named}"
        work.assume("FASTENER-COUNTERBORE-ASSUMED", sentence, diameter.label, found.cites[-1])
    if depth is None and element.kind is Kind.SPOTFACE:
        sentence = f"spotface {diameter.named}: no depth is written, so only as deep as it takes to clean up"
        work.assume("CALLOUT-SPOTFACE-ASSUMED", sentence, "clean up", SPOTFACE_RULE)
        depth = Depth()
    if depth is None or depth.through:
        sentence = "The counterbore has no depth." if depth is None else "A counterbore or spotface cannot go through."
        code = "DEPTH-MISSING" if depth is None else "DEPTH-THROUGH"
        work.note(code, Severity.REFUSED, sentence, element.span, "Write its depth.")
        if depth is None:
            return None
    depth = _leaving(work, element, depth)
    return Feature(element.kind, diameter, depth, element.tolerance, side=element.side, element=element)


def _leaving(work: Completion, element: Element, depth: Depth) -> Depth:
    """TO LEAVE 12: the part's thickness less what is left; without the thickness it is asked."""
    if depth.leaving_mm is None:
        return depth
    if work.thickness_mm is None or work.thickness_mm <= depth.leaving_mm:
        sentence = f"The depth is given by the {depth.leaving_mm:g} mm left under it, and the part's thickness is not known."
        if work.thickness_mm is not None:
            sentence = f"{depth.leaving_mm:g} mm are to be left of a part {work.thickness_mm:g} mm thick."
        work.note("DEPTH-BY-THICKNESS", Severity.REFUSED, sentence, element.span, "Give the thickness, or the depth.")
        return depth
    deep = round(work.thickness_mm - depth.leaving_mm, 6)
    sentence = f"{work.thickness_mm:g} mm thick less {depth.leaving_mm:g} mm left: {deep:g} mm deep."
    work.notes.append(Note("DEPTH-FROM-THICKNESS", Severity.TOLD, sentence, "", f"{deep:g} mm", work.callout.text))
    return depth._replace(mm=deep)


def countersink(work: Completion, element: Element) -> Feature | None:
    """Countersink: diameter and angle, or a screw that gives both; a chamfer takes its diameter from its hole."""
    diameter, angle = element.diameter, element.angle_deg
    if element.chamfer_mm is not None or (diameter is None and "chamfer" in element.uses):
        return _chamfer(work, element)
    if diameter is None and element.fastener is None and (sunk := _of_thread(work, element)) is not None:
        return sunk
    if diameter is None:
        found = with_head(work, element)
        if found is None:
            return None
        if found.countersink is None:
            sentence = f"'{element.fastener}' has no head a countersink is tabulated for."
            work.note("FASTENER-UNKNOWN", Severity.REFUSED, sentence, element.span, "Write diameter and angle, or the head.")
            return None
        diameter = found.countersink[0]
        angle = angle or found.countersink[1]
        sentence = f"countersink for {element.fastener}: diameter {diameter.named}, {angle:g}°"
        work.assume("FASTENER-COUNTERSINK-ASSUMED", sentence, diameter.label, found.cites[-1])
    if angle is None:
        angle = 82.0 if diameter.label.endswith("in") or "/" in diameter.label else 90.0
        sentence = "The countersink has no angle: 82°, 90°, 100° and 120° are all in use."
        work.note("CALLOUT-ANGLE-MISSING", Severity.ASK, sentence, element.span, "Write its angle.", f"{angle:g}°")
    if angle == OF_A_LEG and "INCL" not in work.callout.text.upper():
        sentence = f"{angle:g}° is the angle of a chamfer's leg; a countersink has its included angle: {2 * angle:g}°?"
        hint = f"Write {2 * angle:g}°, or {angle:g}° INCLUDED."
        work.note("CALLOUT-ANGLE-DOUBTFUL", Severity.ASK, sentence, element.span, hint, f"{2 * angle:g}°")
        angle *= 2
    if not 30 <= angle <= 150:
        sentence = f"{angle:g}° is no angle of a countersink."
        work.note("CHECK-ANGLE", Severity.REFUSED, sentence, element.span, "82°, 90°, 100° and 120° are in use.")
    depth = element.depth or Depth()
    if depth.through:
        sentence = "A countersink cannot go through: which hole does?"
        work.note("DEPTH-THROUGH", Severity.REFUSED, sentence, element.span, "Write THRU behind its hole.")
    return Feature(Kind.COUNTERSINK, diameter, depth, element.tolerance, angle, side=element.side, element=element)


def _of_thread(work: Completion, element: Element) -> Feature | None:
    """M8 angesenkt, M8 CSK BOTH SIDES: a countersink without its size on a thread is most likely its chamfer; asked."""
    tap = next((feature for feature in work.features if feature.kind is Kind.TAP), None)
    if tap is None or tap.thread is None:
        return None
    rim_mm = THREAD_CHAMFER * major_mm(tap)
    inch = tap.thread.tpi is not None
    shown = f"{rim_mm / MM_PER_INCH:.3f}".removeprefix("0") + " in" if inch else f"{rim_mm:.1f}"
    size = Size(round(rim_mm, 1 if not inch else 4), shown)
    angle = element.angle_deg or 90.0
    name = tap.thread.name
    sentence = f"A countersink on {name} without its diameter: the chamfer of the thread, or for the head of a screw?"
    hint = f"Write CSK Ø{shown} x {angle:g}°; for a screw CLEARANCE, its size and its head."
    work.note("CALLOUT-COUNTERSINK-OPEN", Severity.ASK, sentence, element.span, hint, f"Ø{shown} x {angle:g}°")
    return Feature(Kind.COUNTERSINK, size, element.depth or Depth(), None, angle, side=element.side, element=element)


def _chamfer(work: Completion, element: Element) -> Feature | None:
    """c x 45°: a 90 degree countersink, 2c wider than the hole or thread it stands on. Anything else is asked."""
    if element.chamfer_mm is None:
        sentence = "A chamfer is named, its size is not."
        work.note("CALLOUT-CHAMFER-OPEN", Severity.WATCH, sentence, element.span, "Write 0.5x45°, or the diameter.")
        return None
    base = max((f.diameter.mm for f in work.features if f.kind not in HEAD_KINDS), default=None)
    if base is None:
        sentence = "A chamfer, but the hole it belongs to is not in this callout."
        work.note("CHAMFER-WITHOUT-HOLE", Severity.REFUSED, sentence, element.span, "Write it with its hole.")
        return None
    if element.angle_deg is None or element.angle_deg != 90.0:
        sentence = "Only a chamfer of 45° has the same leg along and across the hole; which one is written here?"
        if element.angle_deg is None:
            sentence = "The chamfer has no angle."
        hint = "Write the countersink's diameter and included angle."
        work.note("CALLOUT-ANGLE-MISSING", Severity.ASK, sentence, element.span, hint, f"{element.chamfer_mm:g} x 45°")
    if element.chamfer_mm < NARROWEST_CHAMFER_MM:
        sentence = f"A chamfer {element.chamfer_mm:g} mm wide can hardly be cut: is the unit right?"
        work.note("CHECK-CHAMFER-NARROW", Severity.ASK, sentence, element.span, "Write it with its unit.", "as written")
    if 2 * element.chamfer_mm > base:
        sentence = f"A chamfer {element.chamfer_mm:g} mm wide on a hole of {base:g} mm: is the unit right?"
        work.note("CHECK-CHAMFER-WIDE", Severity.ASK, sentence, element.span, "Confirm it, with its unit.", "as written")
    mm = round(base + 2 * element.chamfer_mm, 6)
    size = Size(mm, f"{mm:.4f}".rstrip("0").rstrip("."))
    return Feature(Kind.COUNTERSINK, size, Depth(), None, 90.0, side=element.side, element=element)
