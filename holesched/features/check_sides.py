"""Whether what is called from both faces of the part makes sense: one through, or two that meet."""

from __future__ import annotations

from collections.abc import Iterator

from holesched.callouts.model import Kind, Side
from holesched.features.completion import HEAD_KINDS
from holesched.features.findings import Finding, Part
from holesched.features.model import Feature, Hole
from holesched.notes import Severity


def through_from_both_sides(hole: Hole, part: Part) -> Iterator[Finding]:
    """A hole or thread that goes through and is called on both sides: one, or one from each face?"""
    for feature in hole.features:
        if feature.side is Side.BOTH and feature.depth.through and feature.kind not in HEAD_KINDS:
            sentence = "It goes through, and is called on both sides: one through, or one from each face?"
            hint = "Write THRU, or a depth for each side."
            yield Finding("CHECK-BOTH-SIDES", Severity.ASK, sentence, feature, hint, "one through")


def blind_from_both_sides(hole: Hole, part: Part) -> Iterator[Finding]:
    """Blind depths from the two faces that add up to the part's thickness: the holes, threads or seats meet inside it.

    Whether the points of the drills meet is asked where the drills are known.
    """
    near, far = _deepest(hole, Side.NEAR), _deepest(hole, Side.FAR)
    if part.thickness_mm is None or near is None or far is None:
        return
    deep = [feature.depth.mm or 0.0 for feature in (near, far)]
    if max(deep) >= part.thickness_mm - 1e-9 or sum(deep) < part.thickness_mm - 1e-9:
        return  # one that comes out by itself is asked about as such
    sentence = (
        f"{deep[0]:g} mm deep from the near side and {deep[1]:g} mm from the far side, in a part {part.thickness_mm:g} mm "
        "thick: they meet inside it."
    )
    hint = f"Write THRU, or depths that leave a wall between them: together less than {part.thickness_mm:g} mm."
    if any(feature.depth.through for feature in hole.features):
        hint = f"Correct the depths: together less than {part.thickness_mm:g} mm."
    yield Finding("CHECK-SIDES-MEET", Severity.ASK, sentence, far, hint, "made from each side to the depths written")


def head_over_no_hole(hole: Hole, part: Part) -> Iterator[Finding]:
    """A head on a face where no hole comes out, for it is blind from the other: is it through, or the head on that side?

    Depths that meet are asked about as such.
    """
    holes = [feature for feature in hole.features if feature.kind not in HEAD_KINDS]
    heads = [feature for feature in hole.features if feature.kind in HEAD_KINDS]
    sides = {feature.side for feature in holes}
    blind = [feature.depth.mm for feature in holes if feature.depth.mm is not None and not feature.depth.through]
    if len(sides) != 1 or Side.BOTH in sides or len(blind) < len(holes):
        return
    for head in heads:
        deep_mm = max(blind) + (head.depth.mm or 0.0)
        meets = part.thickness_mm is not None and deep_mm >= part.thickness_mm - 1e-9
        if head.side in sides or meets:
            continue
        ours, other = ("far", "near") if Side.NEAR in sides else ("near", "far")
        sentence = (
            f"The {head.kind.value} Ø{head.diameter.named} is on the {ours} side, where no hole comes out: it is blind, "
            f"{max(blind):g} mm deep from the {other} side."
        )
        hint = f"Write THRU for the hole, {other.upper()} SIDE for the {head.kind.value}, or confirm that it stands alone."
        yield Finding("CHECK-HEAD-NO-HOLE", Severity.ASK, sentence, head, hint, "made there by itself, in solid metal")


def _deepest(hole: Hole, side: Side) -> Feature | None:
    """The deepest blind hole, thread or seat from a face; a countersink's depth follows from its hole."""
    blind = (
        feature
        for feature in hole.features
        if feature.side in (side, Side.BOTH) and feature.kind is not Kind.COUNTERSINK and feature.depth.mm is not None
        if not feature.depth.through
    )
    return max(blind, key=lambda feature: feature.depth.mm or 0.0, default=None)
