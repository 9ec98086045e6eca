"""Published standards: threads, drill sizes, fits, fastener holes, gauges, strength, materials.

Knows nothing of schedules, shops or sheets, and can be used alone. Lengths are mm, strengths MPa. What a standard supplies
where a callout is silent stands in `Answer.supplied`, what it cannot answer in `problem` and `suggestion`; every limit
carries its source.

    >>> from holesched import standards
    >>> answer = standards.complete(standards.read_thread("M8x1.25"))
    >>> answer.supplied[0].text
    'M8x1.25: class 6H'
    >>> thread = standards.geometry(answer.spec)
    >>> thread.minor
    Limits(min_mm=6.647, max_mm=6.912)
    >>> str(thread.cites[1])
    'ISO 965-1:2013, Table 3'
    >>> [drill.label for drill in standards.in_window(6.647, 6.912, standards.series("metric"))]
    ['6.7', '6.75', '6.8', '6.9']
    >>> [(gauge.kind, gauge.size_mm) for gauge in standards.gauges_for(thread)][1]
    ('not-go thread plug', 7.348)
    >>> round(standards.needed_engagement(thread, "8.8", work_tensile=310).least_mm, 1)  # in aluminium of 310 MPa
    11.2
    >>> standards.complete(standards.read_thread("M8x1.1")).suggestion
    'M8x1.25 (coarse), M8x1 or M8x0.75 (fine)?'
    >>> standards.hole_limits(8.0, "H7")
    Limits(min_mm=8.0, max_mm=8.015)
    >>> standards.fastener_hole("M8 SHCS").clearance
    Size(mm=9.0, label='9')

Each name is loaded when it is first used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from holesched.standards.drill_sizes import by_label, in_window, nearest, next_down, next_up, oversize, series
    from holesched.standards.fits import hole_limits, largest_reamer_mm, ream_allowance, reamer_limits
    from holesched.standards.gauges import Gauge, gauges_for, gauges_for_plain
    from holesched.standards.heads import clearance, counterbore, countersink, fastener_hole
    from holesched.standards.iso965 import engagement_group
    from holesched.standards.materials import Material, find_material
    from holesched.standards.sizes import Limits, Size
    from holesched.standards.strength import least_engagement, mating_screw, needed_engagement
    from holesched.standards.thread_percent import cut_percent, forming_percent
    from holesched.standards.thread_window import engagement_window, forming_window, minor_window
    from holesched.standards.threads import ThreadCall, ThreadGeometry, ThreadSpec, complete, geometry, read_thread
    from holesched.standards.threads.insert_depths import insert_depths
    from holesched.standards.threads.pipe_depths import pipe_depths, pipe_drill
    from holesched.standards.threads.unified import limits_for_engagement

_HOME = {
    "drill_sizes": ("by_label", "in_window", "nearest", "next_down", "next_up", "oversize", "series"),
    "fits": ("hole_limits", "largest_reamer_mm", "ream_allowance", "reamer_limits"),
    "gauges": ("Gauge", "gauges_for", "gauges_for_plain"),
    "heads": ("clearance", "counterbore", "countersink", "fastener_hole"),
    "iso965": ("engagement_group",),
    "materials": ("Material", "find_material"),
    "sizes": ("Limits", "Size"),
    "strength": ("least_engagement", "mating_screw", "needed_engagement"),
    "thread_percent": ("cut_percent", "forming_percent"),
    "thread_window": ("engagement_window", "forming_window", "minor_window"),
    "threads": ("ThreadCall", "ThreadGeometry", "ThreadSpec", "complete", "geometry", "read_thread"),
    "threads.insert_depths": ("insert_depths",),
    "threads.pipe_depths": ("pipe_depths", "pipe_drill"),
    "threads.unified": ("limits_for_engagement",),
}
_MODULE_OF = {name: module for module, names in _HOME.items() for name in names}

__all__ = [
    "Gauge",
    "Limits",
    "Material",
    "Size",
    "ThreadCall",
    "ThreadGeometry",
    "ThreadSpec",
    "by_label",
    "clearance",
    "complete",
    "counterbore",
    "countersink",
    "cut_percent",
    "engagement_group",
    "engagement_window",
    "fastener_hole",
    "find_material",
    "forming_percent",
    "forming_window",
    "gauges_for",
    "gauges_for_plain",
    "geometry",
    "hole_limits",
    "in_window",
    "insert_depths",
    "largest_reamer_mm",
    "least_engagement",
    "limits_for_engagement",
    "mating_screw",
    "minor_window",
    "nearest",
    "needed_engagement",
    "next_down",
    "next_up",
    "oversize",
    "pipe_depths",
    "pipe_drill",
    "read_thread",
    "ream_allowance",
    "reamer_limits",
    "series",
]


def __getattr__(name: str) -> Any:
    if name not in _MODULE_OF:
        raise AttributeError(f"module 'holesched.standards' has no attribute '{name}'")
    value = getattr(import_module(f"holesched.standards.{_MODULE_OF[name]}"), name)
    globals()[name] = value
    return value
