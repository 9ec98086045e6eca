"""The usual cautions of a shop's sheets: short, true, and only those that the job calls for. Common practice, no source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from holesched.sequence.model import JobPlan
from holesched.standards.materials import Material, find_material
from holesched.tooling.model import StepKind, ToolStep

LONG_DRILL = 8.0
"""Deeper than so many diameters a drill is a long one. Common practice, no source."""
MAGNESIUM, REINFORCED = "N7", "N10"
"""Sub-groups of materials.csv: magnesium, and thermosets and reinforced plastics."""


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution, and when it is printed."""

    text: str
    when: Callable[[JobPlan], bool]


def _steps(job: JobPlan) -> list[ToolStep]:
    return [cut.step for hole in job.holes if hole.cut_plan is not None for cut in hole.cut_plan.cuts]


def _always(job: JobPlan) -> bool:
    return True


def _through(job: JobPlan) -> bool:
    return any(step.through for step in _steps(job))


def _blind(job: JobPlan) -> bool:
    return any(not step.through and step.kind is StepKind.DRILL for step in _steps(job))


def _blind_thread(job: JobPlan) -> bool:
    return any(not step.through and step.kind.makes_thread for step in _steps(job))


def _taps(job: JobPlan) -> bool:
    return any(step.kind is StepKind.TAP and not step.tool.by_hand for step in _steps(job))


def _long_drill(job: JobPlan) -> bool:
    drills = [step for step in _steps(job) if step.kind is StepKind.DRILL and step.tip_mm is not None]
    return any((step.tip_mm or 0.0) > LONG_DRILL * step.diameter_mm for step in drills)


def _carbide(job: JobPlan) -> bool:
    return any(step.tool.material == "carbide" for step in _steps(job))


def _oil(job: JobPlan) -> bool:
    return any("oil" in coolant for coolant in _coolants(job))


def _left_hand(job: JobPlan) -> bool:
    return any(step.tool.left_hand for step in _steps(job))


def _open(job: JobPlan) -> bool:
    return any(note.is_question for note in job.notes)


def _two_faces(job: JobPlan) -> bool:
    return any(operation.set_up > 1 for operation in job.operations)


def _materials(job: JobPlan) -> set[Material]:
    """The title block's material and those that rows have of their own: one magnesium row makes a magnesium job."""
    texts = {hole.type.material for hole in job.holes if hole.type.material.strip()}
    found = {job.material, *(find_material(text).material for text in texts)}
    return {material for material in found if material is not None}


def _magnesium(job: JobPlan) -> bool:
    return any(material.subgroup == MAGNESIUM for material in _materials(job))


def _wet_magnesium(job: JobPlan) -> bool:
    return _magnesium(job) and any("emulsion" in coolant for coolant in _coolants(job))


def _other_fire(job: JobPlan) -> bool:
    return any("fire" in material.traits and material.subgroup != MAGNESIUM for material in _materials(job))


def _dust(job: JobPlan) -> bool:
    """Reinforced plastics, beryllium copper, and iron cut dry."""
    materials = _materials(job)
    dry = any(material.group == "K" for material in materials) and any("dry" in coolant for coolant in _coolants(job))
    return dry or any(material.subgroup == REINFORCED or "beryllium" in material.name.lower() for material in materials)


def _coolants(job: JobPlan) -> set[str]:
    return {target.cut.coolant for operation in job.operations for target in operation.targets}


CAUTIONS = (
    Caution(
        "The drawing governs. Limits of the machine, holder and tool makers, local rules and licensed practice stand above "
        "this sheet.",
        _always,
    ),
    Caution("HOLD: do not cut before the question is answered in writing.", _open),
    Caution(
        "Starting values. Prove out clear of the part, then at reduced override, first hole of each tool in single block; "
        "stop if the load rises.",
        _always,
    ),
    Caution(
        "Magnesium burns: no water in coolant, sharp tools, no dwell; chips dry in a covered can; sand or powder for metal "
        "fires at hand, never water or foam.",
        _magnesium,
    ),
    Caution(
        "Magnesium and wet coolant in one job: coolant off, table and chip tray clean and dry before magnesium is cut; wet "
        "magnesium chips give off hydrogen.",
        _wet_magnesium,
    ),
    Caution(
        "Chips of this material can burn: sharp tools, no dwell, chips cleared often; an extinguisher for metal fires at "
        "hand, never water or foam on burning chips.",
        _other_fire,
    ),
    Caution("Left-hand taps: check before the first hole that the cycle turns the other way.", _left_hand),
    Caution("Two faces: set zero, clearance and clamps again after turning the part.", _two_faces),
    Caution("Through holes: clearance under the part; it may lift as the tool breaks through.", _through),
    Caution("Blind holes: cover them to clear chips before tapping; air at low pressure only.", _blind),
    Caution("Blind threads: no fluid left under tap or screw; it locks them.", _blind_thread),
    Caution("Taps reverse by themselves: hands off; lock the machine out to free a jammed tap.", _taps),
    Caution("Long drills: enter the started hole slowly; never at speed outside it.", _long_drill),
    Caution("Carbide breaks without bending: look for cracks and chipped edges before use.", _carbide),
    Caution("Cutting oil smokes and can burn on hot chips: extraction on, an extinguisher for oil fires at hand.", _oil),
    Caution("Dust of this material is harmful: extraction, and the local rules.", _dust),
    Caution(
        "Eye protection. No gloves or loose cloth near a turning spindle. Chips by hook or brush, never by hand.", _always
    ),
    Caution("A broken tap or drill is under stress: face shield. Fluids: follow their safety data sheets.", _always),
)


def cautions(job: JobPlan) -> tuple[str, ...]:
    """The cautions that this job calls for, most important first."""
    return tuple(caution.text for caution in CAUTIONS if caution.when(job))
