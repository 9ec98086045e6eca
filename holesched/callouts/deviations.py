"""Rules of the grammar about deviations: what they belong to, and the limits that they make."""

from __future__ import annotations

import re

from holesched.callouts.draft import Draft, Reading
from holesched.callouts.model import Depth, Tolerance
from holesched.units import MM_PER_INCH

LARGEST_DEVIATION = 0.25
"""Of the size: beyond, and from half a millimetre, a deviation is asked about. Common practice, no source."""


def deviation(r: Reading) -> bool:
    """deviation := (± number | signed [/] signed | + number) [mm | in]; of the depth just read, else of the diameter."""
    t = r.tokens
    start = t.position
    if t.take("±"):
        number = t.consume("decimal")
        if number is None:
            raise t.fail("expected a deviation after ±", start)
        if t.take("°") or t.words("degree"):
            r.remarks.append(t.text[start : t.end_of_last])
            return True
        _apply_deviation(r, -float(number[0]), float(number[0]), start)
        return True
    first = t.check("signed")
    if first is None or (first["zero"] and not _BEFORE_SIGNED.match(t.text, first.end())):
        return False
    between = _BETWEEN.match(t.text, first.end())
    second = t.check("signed", between.end()) if between else None
    draft = r.current
    if second is None and (first["zero"] or (first["sign"] == "-" and not _single_minus(draft, first))):
        return False
    long = draft is not None and draft.thread is not None and draft.thread.length_mm is not None and draft.last == "thread"
    if second is None and not (draft is not None and (draft.diameter is not None or draft.last == "depth" or long)):
        return False
    values = [_signed(each) for each in (first, second) if each is not None]
    t.move((second or first).end())
    values += [0.0] if second is None else []
    _apply_deviation(r, min(values), max(values), start)
    if second is None:
        shown = t.text[start : t.end_of_last].strip()
        sentence = f"{shown} is the only deviation written: is the other one zero?"
        r.ask("CALLOUT-DEVIATION-DOUBTFUL", sentence, start, t.end_of_last, f"Write {shown}/0.", f"{shown}/0")
    return True


def out_of_scale(deviation: float, size: float, inch: bool) -> bool:
    """Whether a deviation is so large for its size that it is in micrometres, or has lost its point: +15/0 behind Ø8."""
    return deviation > LARGEST_DEVIATION * size and deviation * (MM_PER_INCH if inch else 1.0) >= 0.5


def _single_minus(draft: Draft | None, match: re.Match[str]) -> bool:
    """Whether -0.1 alone is a deviation and no dash before a number: signed tightly, and small beside its size."""
    if draft is None or draft.diameter is None or draft.last != "size" or " " in match[0]:
        return False
    return float(match["value"]) < 0.1 * draft.diameter.mm


_BEFORE_SIGNED = re.compile(r" ?[/^]? ?[+-]\.?[0-9]")
_BETWEEN = re.compile(r" ?[/^] ?| ?(?=[+-]\.?[0-9]|[+-] [.0])| (?=0(?:\.0+)?(?:[ )]|$))")


def _signed(match: re.Match[str]) -> float:
    if match["zero"]:
        return 0.0
    return float(match["value"]) * (-1 if match["sign"] == "-" else 1)


def _apply_deviation(r: Reading, low: float, high: float, start: int) -> None:
    """To the depth read last, to the diameter, or to the size that is still to come; in its own unit, or the size's."""
    draft = r.current
    t = r.tokens
    length_mm = draft.thread.length_mm if draft is not None and draft.thread is not None and not r.fresh else None
    if draft is not None and draft.depth is None and length_mm is not None:
        draft.depth = Depth(length_mm)  # M6 x 12+2
        r.touch(draft, "depth")
    unit = "mm" if t.consume("mm") else "in" if t.consume("inch") else None
    if draft is not None and draft.last == "depth" and draft.depth is not None and draft.depth.mm is not None:
        factor = MM_PER_INCH if (unit or t.unit) == "in" else 1.0
        draft.depth = draft.depth._replace(tolerance_mm=(round(low * factor, 6), round(high * factor, 6)))
        r.touch(draft)
        return
    if draft is None or draft.diameter is None or r.fresh:
        r.for_later().deviation = (low, high)
        return
    if draft.tolerance is not None and draft.tolerance.low_mm is not None:
        raise t.fail("a second tolerance for one size", start, t.end_of_last)
    inch = draft.inch if unit is None else unit == "in"
    in_scale(r, draft, low, high, inch, start)
    limits_by_deviation(draft, low, high, inch)
    r.touch(draft)


def in_scale(r: Reading, draft: Draft, low: float, high: float, inch: bool, start: int) -> None:
    """Refuses deviations that are out of scale for the size of their step."""
    widest, nominal_mm = max(-low, high), draft.diameter.mm if draft.diameter is not None else 0.0
    if draft.diameter is not None and out_of_scale(widest, nominal_mm / (MM_PER_INCH if inch else 1.0), inch):
        shown = f"{widest:g} {'in' if inch else 'mm'} at {draft.diameter.label}"
        problem = f"a deviation of {shown}: micrometres, or a lost point?"
        hint = "Write it in the unit of the size, as +0.015/0."
        raise r.tokens.fail(problem, start, r.tokens.end_of_last, hint, "SIZE-DEVIATION")


def limits_by_deviation(draft: Draft, low: float, high: float, inch: bool) -> None:
    """Limits of size: the diameter with its deviations, in the diameter's own unit."""
    if draft.diameter is None:
        return
    zone = draft.tolerance.zone if draft.tolerance is not None else None
    draft.tolerance = limits_of_size(draft.diameter.mm, low, high, inch, zone)


def limits_of_size(nominal_mm: float, low: float, high: float, inch: bool, zone: str | None = None) -> Tolerance:
    """Limits in mm of a size with deviations in inches or mm."""
    factor = MM_PER_INCH if inch else 1.0
    return Tolerance(zone, round(nominal_mm + low * factor, 6), round(nominal_mm + high * factor, 6))
