"""Tools in the carousel: numbered once, in order of first use; how far each must stick out, and in which holder."""

from __future__ import annotations

from collections.abc import Sequence

from holesched.notes import Note, Severity
from holesched.sequence.model import LoadedTool, Operation, Target
from holesched.shop.model import Machine, Shop
from holesched.tooling.model import StepKind, Tool


def number_tools(tools: Sequence[Tool]) -> dict[Tool, int]:
    """Tool numbers by first use, those turned by hand behind the others; a tool used twice keeps its number."""
    numbers: dict[Tool, int] = {}
    for tool in sorted(tools, key=lambda tool: tool.by_hand):
        numbers.setdefault(tool, len(numbers) + 1)
    return numbers


def load_carousel(
    numbers: dict[Tool, int], operations: Sequence[Operation], shop: Shop
) -> tuple[tuple[LoadedTool, ...], tuple[Note, ...]]:
    """One LoadedTool per tool number, and a WATCH note for every reason why they do not all fit. Without a changer all of
    them go into the spindle, one after another."""
    loaded = tuple(_load(tool, number, operations, shop) for tool, number in numbers.items())
    if not shop.machine.has_changer:
        return loaded, ()
    notes = []
    in_spindle = [tool for tool in loaded if not tool.tool.by_hand]
    surplus = len(in_spindle) - shop.machine.pots
    if surplus > 0:
        notes.append(
            Note(
                "CAROUSEL-FULL",
                Severity.WATCH,
                f"{len(in_spindle)} tools for {shop.machine.pots} pots: T{shop.machine.pots + 1} and up have no pot.",
                suggestion=f"Load the last {surplus} in a second loading, or let two holes share a drill.",
            )
        )
    for tool in in_spindle:
        if tool.tool.widest_mm > shop.machine.max_tool_diameter_mm:
            notes.append(
                Note(
                    "CAROUSEL-TOO-LARGE",
                    Severity.WATCH,
                    f"T{tool.number} ({tool.tool.called}) is larger than the carousel takes "
                    f"({shop.machine.max_tool_diameter_mm:g} mm).",
                    suggestion="Leave the neighbouring pots empty if the machine's builder allows it, or load it by hand.",
                )
            )
    return loaded, tuple(notes)


def holder_for(tool: Tool, shop: Shop) -> str:
    """The kind of holder the trade puts this tool in (common practice, no source)."""
    if tool.by_hand:
        return "tap wrench, by hand"
    if tool.kind is StepKind.TAP:
        return "rigid tapping holder" if shop.machine.rigid_tapping else "tension-compression tapping holder"
    if tool.kind is StepKind.THREAD_MILL:
        return "hydraulic or shrink-fit holder, run-out checked"
    if tool.kind in (StepKind.COUNTERBORE, StepKind.SPOTFACE, StepKind.MILL):
        return "end-mill holder"
    if tool.kind is StepKind.BORE:
        return "boring head"
    if tool.kind is StepKind.REAM:
        return "collet holder, run-out checked"
    return "collet holder" if tool.widest_mm <= 16 else "drill holder"


def _load(tool: Tool, number: int, operations: Sequence[Operation], shop: Shop) -> LoadedTool:
    mine = [operation for operation in operations if operation.tool_number == number]
    targets = [target for operation in mine for target in operation.targets]
    tips = [target.cut.step.tip_mm for target in targets]
    known = [tip for tip in tips if tip is not None and not tool.by_hand]
    return LoadedTool(
        number=number,
        pot=_pot(tool, number, shop.machine),
        tool=tool,
        holder=holder_for(tool, shop),
        stick_out_mm=max(known) + shop.preferences.stickout_clearance_mm if len(known) == len(tips) and known else None,
        operations=tuple(operation.number for operation in mine),
        letters=tuple(dict.fromkeys(target.letter for target in targets)),
        holes=sum(target.quantity for target in targets),
        life_holes=_life(targets),
    )


def _pot(tool: Tool, number: int, machine: Machine) -> int | None:
    if tool.by_hand:
        return None
    if not machine.has_changer:
        return 1
    return number if number <= machine.pots else None


def _life(targets: Sequence[Target]) -> tuple[float, float] | None:
    """Holes one tool makes over all its hole types, low and high: each hole wears away its own share of the tool, so the
    shares are added. None where no life is stated."""
    lives = [(target.quantity, target.cut.tool_life_holes) for target in targets if target.cut.tool_life_holes is not None]
    if len({life for _, life in lives}) < 2:
        return lives[0][1] if lives else None
    holes = sum(quantity for quantity, _ in lives)
    low, high = (holes / sum(quantity / life[end] for quantity, life in lives) for end in (0, 1))
    return low, high
