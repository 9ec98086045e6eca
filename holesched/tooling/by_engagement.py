"""The hole before the tap by the length of thread: the handbook's window, and for a long thread a drill over the class."""

from __future__ import annotations

from holesched.notes import Cite, Reason, Rejected, Standing
from holesched.shop.model import Shop
from holesched.standards import drill_sizes, iso965
from holesched.standards.sizes import Limits, Size
from holesched.standards.thread_window import ENGAGEMENT_CITE, engagement_window
from holesched.standards.threads.base import ThreadGeometry
from holesched.tooling.model import TapDrillFit
from holesched.tooling.tap_drill import percent_of_thread, preferred_series

LONG_D = 1.5
"""Longer than this the handbook's window reaches beyond the class. Machinery's Handbook, 31st edition, p. 2170."""
CLOSE_MM = 1e-6
BELOW_MM = 0.5
"""No drill cuts further than this over its size."""
LONG_CITE = Cite("ISO 965-1", place="recommended classes: 7H for long engagement", standing=Standing.FROM_MEMORY)
_PROFILES = ("60deg", "J")


def by_engagement(
    geometry: ThreadGeometry, length_mm: float | None, fit: TapDrillFit, drill_material: str, shop: Shop
) -> tuple[Reason, ...]:
    """How the hole sits in the handbook's window for its length of thread, and for a long thread the larger drill that the
    drawing's owner could allow.

    Nothing for a thread without upper minor limit, of another profile than 60 degrees, or of unknown length.
    """
    limits = geometry.minor
    if length_mm is None or length_mm <= 0 or limits.max_mm is None or geometry.profile not in _PROFILES:
        return ()
    window = engagement_window(geometry, length_mm)
    diameters = length_mm / geometry.basic_major_mm
    rejected: tuple[Rejected, ...] = ()
    wider = _wider_drill(geometry, window, fit, drill_material, shop) if diameters > LONG_D + 1e-9 else None
    if wider is not None:
        hole_mm = wider.mm + shop.oversize(wider.mm, drill_material).expected_mm
        percent = percent_of_thread(geometry, hole_mm)
        makes = f"a hole of about {hole_mm:.3f} mm, {percent:.0f} % of thread"
        because = f"{makes}: over the class's {limits.max_mm:.3f} mm, only with the consent of the drawing's owner"
        long_max_mm = _long_class_max_mm(geometry)
        if long_max_mm is not None:
            because = f"{because}; class 7H, meant for long engagement, reaches {long_max_mm:.3f} mm"
        rejected = (Rejected(wider.label, "TAP-DRILL-ENGAGEMENT", because),)
    reason = Reason(
        f"hole for {diameters:.2g} D of thread: {_span(window)} mm",
        f"the handbook's window for this length; the hole of {fit.hole_mm:.3f} mm is {_place(fit.hole_mm, window, limits)}",
        "TAP-DRILL-ENGAGEMENT",
        (ENGAGEMENT_CITE, LONG_CITE) if rejected else (ENGAGEMENT_CITE,),
        rejected,
    )
    return (reason,)


def _place(hole_mm: float, window: Limits, limits: Limits) -> str:
    high_mm = window.max_mm or hole_mm
    if hole_mm > high_mm + CLOSE_MM:
        return "over it: the thread is short, and so much height is lost"
    if hole_mm >= window.min_mm - CLOSE_MM:
        return "inside it"
    if high_mm > (limits.max_mm or high_mm):
        return f"under it, but the class ends at {limits.max_mm:.3f} mm"
    return "under it: more height and more torque than the length needs"


def _wider_drill(geometry: ThreadGeometry, window: Limits, fit: TapDrillFit, drill_material: str, shop: Shop) -> Size | None:
    """The largest usual drill whose expected hole is over the class and inside the handbook's window."""
    class_max_mm, high_mm = fit.window_mm[1], window.max_mm or 0.0
    if high_mm <= class_max_mm:
        return None
    usual = drill_sizes.series(*preferred_series(geometry)[0])
    fitting = [
        size
        for size in drill_sizes.in_window(class_max_mm - BELOW_MM, high_mm, usual)
        if class_max_mm < size.mm + shop.oversize(size.mm, drill_material).expected_mm <= high_mm + CLOSE_MM
    ]
    return max(fitting, key=lambda size: size.mm, default=None)


def _long_class_max_mm(geometry: ThreadGeometry) -> float | None:
    """The largest minor diameter of class 7H, which ISO 965-1 recommends for long engagement, for a thread of class 6H."""
    spec = geometry.spec
    if spec.series not in ("M", "MF") or spec.thread_class != "6H":
        return None
    tolerance = iso965.thread_class("7H")
    try:
        return iso965.metric_limits(spec.nominal.mm, spec.pitch_mm, tolerance).minor_mm[1] if tolerance else None
    except KeyError:
        return None


def _span(limits: Limits) -> str:
    return f"{limits.min_mm:.3f} to {limits.max_mm or limits.min_mm:.3f}"
