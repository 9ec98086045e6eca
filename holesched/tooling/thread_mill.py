"""A thread milled instead of tapped: which cutter, why, and what the shop must look at."""

from __future__ import annotations

from holesched.notes import COMMON_PRACTICE, Reason
from holesched.standards.thread_mills import ThreadMill, milled_major_mm, thread_mill
from holesched.standards.threads.base import ThreadGeometry
from holesched.tooling.case import HoleCase
from holesched.tooling.model import StepKind, Tool
from holesched.tooling.reach import reaches
from holesched.tooling.rules import RuleBook, decide, watch_note, watches
from holesched.tooling.tap import ThreadChoice

THREAD_MILL = "thread mill"
END_P = 1.0
"""What a thread mill needs under the full thread, in pitches: half a tooth, and the rise of its entry. Geometry, rounded
up: 0.5 + 0.25."""


def mill_tool(geometry: ThreadGeometry, mill: ThreadMill, treatment: str) -> Tool:
    """The cutter for a thread as a tool: its pitch and the angle of its teeth are part of it."""
    spec = geometry.spec
    pitch = f"P{spec.pitch_mm:g}" if spec.tpi is None else f"{spec.tpi:g} TPI"
    if geometry.taper:
        pitch = f"{pitch} {spec.series}"
    taper = "1:16 taper " if geometry.taper else ""
    angle = "" if geometry.profile in ("60deg", "J") else f"{geometry.profile.removesuffix('deg')} degree "
    return Tool(
        kind=StepKind.THREAD_MILL,
        diameter_mm=mill.diameter_mm,
        size=f"{mill.diameter_mm:g} x {pitch}",
        material="carbide",
        treatment=treatment,
        flutes=mill.teeth,
        pitch_mm=spec.pitch_mm,
        name=f"{'one-tooth ' if mill.one_tooth else ''}{angle}{taper}thread mill{' with inserts' if mill.inserts else ''}",
    )


def _teeth(mill: ThreadMill) -> str:
    if mill.one_tooth:
        return "one tooth high, ground to this thread's profile and lead angle: it goes round once for each pitch"
    return f"many teeth along its length of {mill.length_mm:.0f} mm"


def mill_of(geometry: ThreadGeometry) -> ThreadMill | None:
    """The cutter for a thread; None below the smallest one."""
    return thread_mill(milled_major_mm(geometry), geometry.minor.min_mm, geometry.profile, geometry.spec.pitch_mm)


def mill_reaches(geometry: ThreadGeometry, length_mm: float) -> bool:
    """Whether a usual cutter goes into a thread and as deep as it is long."""
    mill = mill_of(geometry)
    return mill is not None and reaches(StepKind.THREAD_MILL, length_mm, mill.diameter_mm)


def choose_mill(case: HoleCase, geometry: ThreadGeometry, book: RuleBook) -> ThreadChoice | None:
    """The thread mill for a case, with its reasons and notes; None below the smallest cutter."""
    given = frozenset((THREAD_MILL,))
    mill = mill_of(geometry)
    if mill is None:
        return None
    treatment = decide("thread mill treatment", case, given, book)
    tool = mill_tool(geometry, mill, treatment.value)
    cutter = Reason(
        f"thread mill: {tool.sized}",
        f"{tool.diameter_mm / geometry.basic_major_mm:.2f} of the thread's diameter: it goes into the hole and leaves the "
        f"flanks whole; {_teeth(mill)}",
        "THREAD-MILL-SIZE",
        (mill.cite,),
    )
    made = (
        "above about 20 mm a steel body with carbide inserts" if mill.inserts else "thread mills of these sizes are carbide"
    )
    material = Reason("thread mill material: carbide", made, "THREAD-MILL-MATERIAL", (COMMON_PRACTICE,))
    notes = tuple(watch_note(rule, geometry.spec.designation) for rule in watches(case, given, book))
    return ThreadChoice(tool, 0.0, END_P, (cutter, material, treatment.reason), notes)
