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
    reason: Reason, geometry: ThreadGeometry, length_mm: float | None, fit: TapDrillFit, drill_material: str, shop: Shop
) -> Reason:
    """The tap drill's reason with how its hole sits in the handbook's window for its length of thread, and for a long thread
    with the larger drill that the drawing's owner could allow.

    As it is for a thread without upper minor limit, of another profile than 60 degrees, or of unknown length.
    """
    limits = geometry.minor
    if length_mm is None or length_mm <= 0 or limits.max_mm is None or geometry.profile not in _PROFILES:
        return reason
    window = engagement_window(geometry, length_mm)
    diameters = length_mm / geometry.basic_major_mm
    because = f"{reason.because}; handbook for {diameters:.2g} D: {_span(window)} mm"
    cites = (*reason.cites, ENGAGEMENT_CITE)
    wider = _wider_drill(geometry, window, fit, drill_material, shop) if diameters > LONG_D + 1e-9 else None
    if wider is None:
        return reason._replace(because=because, cites=cites)
    beaten = [lost for lost in reason.rejected if lost.candidate != wider.named]
    lost = Rejected(wider.named, "TAP-DRILL-ENGAGEMENT", _only_with_consent(geometry, wider, drill_material, shop))
    cites = cites if _long_class_max_mm(geometry) is None else (*cites, LONG_CITE)
    return reason._replace(because=because, cites=cites, rejected=(*beaten, lost))


def _only_with_consent(geometry: ThreadGeometry, wider: Size, drill_material: str, shop: Shop) -> str:
    hole_mm = wider.mm + shop.oversize(wider.mm, drill_material).expected_mm
    percent = percent_of_thread(geometry, hole_mm)
    because = (
        f"a hole of about {hole_mm:.3f} mm, {percent:.0f} % of thread, would suit the length, but is over the class's "
        f"{geometry.minor.max_mm:.3f} mm: only with the consent of the drawing's owner"
    )
    long_max_mm = _long_class_max_mm(geometry)
    if long_max_mm is None:
        return because
    return f"{because}; class 7H, meant for long engagement, reaches {long_max_mm:.3f} mm"


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
