"""What is asked and watched where a hole is drilled into or out of a slanted face, or across a gap in its wall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import radians, tan

from holesched.callouts.model import Kind
from holesched.notes import COMMON_PRACTICE, Note, Severity
from holesched.resolve.model import ResolvedStep
from holesched.tooling.model import OPENING, StepKind, ToolStep
from holesched.tooling.rules import watch_note, watches
from holesched.tooling.setting import Setting, name_of
from holesched.tooling.surroundings import WHOLE

DRILLING = "drilling"
"""What the rules call it."""
_HOLES = (Kind.DRILL, Kind.REAM, Kind.BORE, Kind.TAP)
_EXAMPLE_DEG = 30.0


def wall_notes(drawn: Sequence[ResolvedStep], steps: Sequence[ToolStep], setting: Setting) -> list[Note]:
    """The rules' words for a drill that starts or breaks out on a slope or meets a gap, each once for the whole hole, and
    the question how far a slanted far face lies from where the part's thickness is measured."""
    if setting.case.wall == WHOLE:
        return []
    names = ", ".join(dict.fromkeys(name_of(step) for step in drawn if step.kind in _HOLES))
    opened = [step for step in steps if step.kind in OPENING]
    through = any(step.through for step in opened)
    case = replace(setting.case, hole="through" if through else "blind")
    given = frozenset((DRILLING,)) if any(step.kind is StepKind.DRILL for step in opened) else frozenset[str]()
    notes = [
        watch_note(rule, names) for rule in watches(case, given, setting.book) if any(of == "given" for of, _ in rule.words)
    ]
    if through and "slanted exit" in setting.case.wall:
        widest_mm = max(step.diameter_mm for step in steps if step.through)
        notes.append(_far_face(names, widest_mm, setting))
    elif setting.around.longest_mm is not None and (through or not any(step.through for step in drawn)):
        notes.append(_no_such_side(names, setting.around.longest_mm, through))
    return notes


def _no_such_side(names: str, longest_mm: float, through: bool) -> Note:
    """The question about a longest side of a blind hole, or of one of which only the near face is called slanted."""
    why = "only its near face is called slanted" if through else "it does not go through"
    message = f"{names}: its longest side is given as {longest_mm:.4g} mm, but {why}."
    suggestion = "Write SLANTED EXIT as well if the far face is slanted" if through else "Write THRU, or its depth"
    suggestion += ", or leave the longest side out."
    assumed = "Planned as if the far face were square." if through else "Planned blind, to the depth shown."
    return Note("HOLE-EXIT-LONGEST", Severity.ASK, message, suggestion, assumed)


def _far_face(names: str, widest_mm: float, setting: Setting) -> Note:
    """What is known, or to be asked, of the slant of the far face."""
    around, thickness_mm = setting.around, setting.thickness_mm
    as_square = "Planned as if the far face were square: the long side is not finished."
    if around.longest_mm is not None:
        if thickness_mm is not None and around.longest_mm < thickness_mm:
            message = f"{names}: its longest side is given as {around.longest_mm:.4g} mm in a part of {thickness_mm:.4g} mm."
            return Note("HOLE-EXIT-LONGEST", Severity.ASK, message, "Correct one of them.", as_square)
        message = (
            f"{names}: the far face is slanted, and every tool goes through to the longest side, {around.longest_mm:.4g} mm."
        )
        return Note("HOLE-EXIT-LONGEST", Severity.ASSUMED, message, cite=COMMON_PRACTICE)
    if around.exit_deg is not None:
        more_mm = widest_mm * tan(radians(around.exit_deg))
        message = (
            f"{names}: the far face is {around.exit_deg:g}° from square, and the part's thickness is taken at the short "
            f"side: every tool goes D x tan {around.exit_deg:g}° further, up to {more_mm:.1f} mm."
        )
        return Note("HOLE-EXIT-ANGLE", Severity.ASSUMED, message, cite=COMMON_PRACTICE)
    more_mm = widest_mm * tan(radians(_EXAMPLE_DEG))
    far = f"the tools must go further to be through on its long side (at {_EXAMPLE_DEG:g}° by {more_mm:.1f} mm)"
    suggestion = f"SLANTED EXIT with its angle ({_EXAMPLE_DEG:g}°), or LONGEST SIDE with its length"
    if around.which_face:
        message = f"{names}: a face is slanted, but which? A near face needs a flat to start on; of a far face {far}."
        return Note("HOLE-SLANTED-WHICH", Severity.ASK, message, f"Write SLANTED ENTRY, or {suggestion}.", as_square)
    return Note("HOLE-EXIT-ANGLE", Severity.ASK, f"{names}: the far face is slanted: how much? {far.capitalize()}.",
                f"Write {suggestion}.", as_square)  # fmt: skip
