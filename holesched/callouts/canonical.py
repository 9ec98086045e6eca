"""A Callout as text in one spelling: read again in millimetres it gives the same Callout."""

from __future__ import annotations

from holesched.callouts.model import WALLS_WRITTEN, Callout, Depth, Element, Kind, Side, Tolerance
from holesched.standards import threads
from holesched.standards.sizes import Size
from holesched.standards.threads.base import ThreadCall

_PROCESS = {
    Kind.DRILL: "DRILL",
    Kind.REAM: "REAM",
    Kind.BORE: "BORE",
    Kind.TAP: "TAP",
    Kind.COUNTERBORE: "CBORE",
    Kind.COUNTERSINK: "CSK",
    Kind.SPOTFACE: "SF",
}
_SIDES = {Side.NEAR: "", Side.FAR: "FAR SIDE", Side.BOTH: "BOTH SIDES"}
_USES = {"pilot hole": "", "chamfer": "", "flat bottom": "FLAT BOTTOM", "blind": "BLIND", "at assembly": "AT ASSEMBLY"}
"""Our own words for a use, and how they are written; "pilot hole" and "chamfer" show in the process word."""


def canonical(callout: Callout) -> str:
    """The callout in one spelling, one step a line: 4X Ø6.6 THRU / CBORE Ø11 ↧6.4."""
    remarks = list(callout.remarks)
    walls = [remark for remark in remarks if remark.upper().startswith(WALLS_WRITTEN)]
    lines = []
    for element in callout.elements:
        wall = walls.pop(0) if walls and element.depth is not None and element.depth.through else ""
        if wall:
            remarks.remove(wall)
        lines.append(_element(element, wall))
    if callout.count is not None and lines:
        lines[0] = f"{callout.count}X {lines[0]}"
    if callout.circle is not None:
        spaced = "EQ SP ON" if callout.circle.equal else "ON"
        lines.append(f"{spaced} Ø{_number(callout.circle.diameter_mm)} mm BC")
    if callout.typical:
        lines.append("TYP")
    if callout.coating is not None:
        lines.append(callout.coating.text)
    return "\n".join([*lines, *remarks]) if lines else callout.text


def _element(element: Element, wall: str) -> str:
    """One step: process, size or thread, tolerance, depth, angle, side, uses."""
    words = [_process(element), _size(element), f"{element.tap_limit} LIMIT" if element.tap_limit else ""]
    if element.tolerance is not None and element.diameter is not None:
        words.append(_tolerance(element.tolerance, element.diameter))
    if element.angle_deg is not None and not _is_leg(element):
        angle = element.angle_deg / 2 if element.chamfer_mm is not None else element.angle_deg
        words.append(f"{'x ' if element.chamfer_mm is not None else ''}{_number(angle)}°")
    if element.depth is not None and _depth_in_thread(element):
        words.append(wall or "THRU" if element.depth.through else "")
    elif element.depth is not None:
        words.append(_depth(element.depth, wall))
    words.append(_SIDES[element.side])
    words += [_use(use) for use in element.uses]
    return " ".join(word for word in words if word)


def _process(element: Element) -> str:
    if "pilot hole" in element.uses:
        return "TAP DRILL"
    if "chamfer" in element.uses:
        return "CHAM"
    if _is_leg(element):
        return ""
    if element.fastener is not None and not element.stated:
        return "CLEARANCE"
    if element.kind is Kind.TAP and element.thread is not None and not element.stated:
        return ""
    return _PROCESS[element.kind] if element.stated or element.kind is not Kind.DRILL else ""


def _is_leg(element: Element) -> bool:
    """Whether the step is a chamfer by its leg alone: 1 x 45°, C1."""
    return element.chamfer_mm is not None and element.angle_deg == 90.0 and "chamfer" not in element.uses


def _size(element: Element) -> str:
    if element.thread is not None:
        return _thread(element)
    if element.chamfer_mm is not None:
        return f"{_number(element.chamfer_mm)} mm{' x 45°' if _is_leg(element) else ''}"
    if element.fastener is not None:
        return f"FOR {element.fastener}"
    return _diameter(element.diameter) if element.diameter is not None else ""


def _diameter(size: Size) -> str:
    """Ø6.8 mm, Ø0.25 in, Ø1/4, Ø#7, LETTER Q."""
    label = size.label
    if len(label) == 1 and label.isalpha():
        return f"LETTER {label}"
    if label[0] == "#" or "/" in label or label.endswith("in"):
        return f"Ø0{label}" if label[0] == "." else f"Ø{label}"
    return f"Ø{label} mm"


def _thread(element: Element) -> str:
    """The designation as written, with what stood apart from it (hand, class)."""
    call = element.thread
    if call is None:
        return ""
    text = element.thread_text or designation(call)
    found = threads.recognise(text, 0, "mm")
    read = found[0] if found is not None else call
    words = [text]
    if call.series is not None and read.series is None:
        words.append(call.series)
    if call.left_hand and not read.left_hand:
        words.append("LH")
    if call.thread_class is not None and read.thread_class is None:
        words.append(call.thread_class)
    if call.gauging is not None and read.gauging is None:
        words.append(f"({call.gauging})")
    return " ".join(words)


def designation(call: ThreadCall) -> str:
    """A thread call that was never written, as the metric and unified standards would read it."""
    if call.tpi is not None:
        series = f" {call.series}" if call.series else ""
        text = f"{call.nominal.label}-{_number(call.tpi)}{series}"
    else:
        letters = call.series if call.series and not call.nominal.label.startswith(call.series) else ""
        pitch = f"x{_number(call.pitch_mm)}" if call.pitch_mm is not None else ""
        length = f"x{_number(call.length_mm)}" if call.length_mm is not None else ""
        text = f"{letters[:-1] if letters.endswith('M') else letters}{call.nominal.label}{pitch}{length}"
    text += f"-{call.thread_class}" if call.thread_class else ""
    return f"{text} LH" if call.left_hand else text


def _depth_in_thread(element: Element) -> bool:
    """Whether the depth is the length in the thread's own designation (M12x16)."""
    length = element.thread.length_mm if element.thread is not None else None
    return length is not None and element.depth in (Depth(length), Depth(length, through=True))


def _depth(depth: Depth, wall: str) -> str:
    if depth.through:
        through = wall or "THRU"
        return through if depth.mm is None else f"{through} {_depth(depth._replace(through=False), '')}"
    if depth.leaving_mm is not None:
        return f"TO LEAVE {_number(depth.leaving_mm)} mm"
    if depth.mm is None:
        return ""
    words = [f"↧{_number(depth.mm)} mm", "MIN" if depth.least else "", "MAX" if depth.most else ""]
    if depth.tolerance_mm is not None:
        words.append(_deviations(*depth.tolerance_mm))
    return " ".join(word for word in words if word)


def _tolerance(tolerance: Tolerance, size: Size) -> str:
    zone = tolerance.zone or ""
    words = [f"({zone})" if zone.startswith("M") else zone]  # M8 alone would be a thread
    if tolerance.low_mm is not None and tolerance.high_mm is not None:
        words.append(_deviations(round(tolerance.low_mm - size.mm, 6), round(tolerance.high_mm - size.mm, 6)))
    return " ".join(word for word in words if word)


def _deviations(low_mm: float, high_mm: float) -> str:
    return f"{high_mm:+.6f}/{low_mm:+.6f} mm"


def _use(use: str) -> str:
    return _USES.get(use, use.removesuffix(" point"))


def _number(value: float) -> str:
    """The shortest text that reads back as the same number, without an exponent."""
    text = repr(value)
    return f"{value:.6f}" if "e" in text or len(text.partition(".")[2]) > 6 else text.removesuffix(".0")
