"""Feed per revolution: a tap's lead (a little less in a floating holder), a drill's from its table, others from theirs."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.cutting.clamp import sensible_feed
from holesched.cutting.corrections import HARDENS, Correction, product
from holesched.cutting.geometry import Cut
from holesched.cutting.lookup import CALCULATED, between
from holesched.cutting.speeds import OperationData, drill_column, drill_feed_mm_per_rev, feed_points, hss_feed_factor
from holesched.notes import COMMON_PRACTICE, Reason
from holesched.shop.model import Machine
from holesched.standards.materials import Material

SHARE_WITHIN = (0.7, 1.3)
"""The sub-group's feed factor is held within these for tools other than drills. Common practice, no source."""
HARD_SHARE = 0.5
"""What it is for these tools in hardened work. Common practice, no source."""

FLOATING_FEED = 0.97
"""Feed in a floating holder over the tap's lead: 0.95 to 0.98, so that the holder is drawn out and never pressed in. Common
practice, no source."""


def feed_share(material: Material) -> float:
    """A material's factor on the feed of tools other than drills, 1 in plain steel."""
    least, most = SHARE_WITHIN
    return HARD_SHARE if material.group == "H" else min(max(hss_feed_factor(material.subgroup), least), most)


def feed_of(
    cut: Cut, material: Material, data: OperationData | None, found: Sequence[Correction], machine: Machine
) -> tuple[float, Reason]:
    """The feed in mm/rev, as a person would program it, and why. `data` None for a tap."""
    if data is None and not machine.rigid_tapping:
        feed = FLOATING_FEED * cut.lead_mm
        because = f"{FLOATING_FEED:g} of the pitch {cut.lead_mm:.5g} mm: the tap draws the holder out, nothing presses it in"
        return feed, Reason(f"feed: {feed:.5g} mm/rev", because, "CUT-FEED-FLOATING", (COMMON_PRACTICE,))
    if data is None:
        because = "a tap advances its pitch in every turn, exactly"
        return cut.lead_mm, Reason(f"feed: {cut.lead_mm:.5g} mm/rev", because, "CUT-FEED-PITCH", (CALCULATED,))
    if data.feed.startswith("x"):
        column = drill_column(cut.step.tool)
        hardens = HARDENS in material.traits
        base, because, cites = drill_feed_mm_per_rev(cut.diameter_mm, column, material.subgroup, hardens=hardens)
        share = float(data.feed.removeprefix("x"))
        because += "" if share == 1 else f", x{share:g} for the {data.operation}"
    else:
        base, cites = between(feed_points(data.feed), cut.diameter_mm), (data.cite,)
        share = feed_share(material)
        because = f"{data.operation} of {cut.diameter_mm:.4g} mm: {base:.3f} mm/rev"
        because += "" if share == 1 else f", x{share:.2g} for {material.subgroup}"
    feed = sensible_feed(base * share * product(found)[1])
    of_case = [each for each in found if each.feed != 1]
    if of_case:
        because = "; ".join([because, *[f"x{each.feed:.2f} {each.because}" for each in of_case]])
        cites = tuple(dict.fromkeys([*cites, *[each.cite for each in of_case]]))
    return feed, Reason(f"feed: {feed:.3g} mm/rev", because, "CUT-FEED", cites)
