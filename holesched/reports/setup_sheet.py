"""The set-up sheet: what goes into which pot, how far it must stick out, and what to touch off and check."""

from __future__ import annotations

from dataclasses import dataclass

from holesched.reports.base import Report, RunStamp
from holesched.reports.below_the_part import Below, below
from holesched.reports.cautions import cautions
from holesched.reports.job_header import Heading, heading
from holesched.reports.lists import GaugeSet, GaugeUse, ToolRow, gauge_sets, gauge_uses, tool_rows
from holesched.reports.naming import show_of
from holesched.reports.open_points import OpenPoints, Remark, held, open_points
from holesched.reports.operations import Times, place_of, times
from holesched.reports.overloads import Overload, overloads
from holesched.reports.process_sheet import pots_note
from holesched.reports.show import Show, count
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop


@dataclass(frozen=True, slots=True)
class SetupSheet:
    """Everything the set-up sheet shows, as text."""

    head: Heading
    show: Show
    points: OpenPoints
    tools: tuple[ToolRow, ...]
    second_loading: tuple[ToolRow, ...]
    """Tools for which the carousel has no pot."""
    overloads: tuple[Overload, ...]
    held: tuple[tuple[str, str], ...]
    pots_note: str
    stick_out_note: str
    gauges: tuple[GaugeSet, ...]
    gauge_uses: tuple[GaugeUse, ...]
    watch: tuple[Remark, ...]
    times: Times
    set_ups: tuple[str, ...]
    below: Below
    limits: str
    cautions: tuple[str, ...]


def build(job: JobPlan, shop: Shop, stamp: RunStamp) -> SetupSheet:
    """The set-up sheet of a job."""
    show = show_of(job, shop)
    points = open_points(job, show)
    rows = tool_rows(job, show)
    return SetupSheet(
        head=heading(job, shop, stamp, REPORT.title, show),
        show=show,
        points=points,
        overloads=overloads(job, show),
        held=held(job, points),
        tools=tuple(row for row in rows if row.in_pot),
        second_loading=tuple(row for row in rows if not row.in_pot),
        pots_note=pots_note(job, shop),
        stick_out_note=_stick_out_note(job, shop, show),
        gauges=gauge_sets(job, show),
        gauge_uses=gauge_uses(job, show),
        watch=points.watch,
        times=times(job.time, show),
        set_ups=_set_ups(job),
        below=below(job, show),
        limits=_limits(shop, show),
        cautions=cautions(job),
    )


def _stick_out_note(job: JobPlan, shop: Shop, show: Show) -> str:
    clear = f"{show.short(shop.preferences.stickout_clearance_mm)} {show.length_unit}"
    note = f"Stick-out needed: from the holder's face to the tool's tip, for the deepest hole it serves and {clear} clear."
    if any(loaded.stick_out_mm is None and not loaded.tool.by_hand for loaded in job.loading):
        note += " – : the part's thickness is not given; measure before loading."
    return note


def _set_ups(job: JobPlan) -> tuple[str, ...]:
    """One line a face, and one for the bench, with its operations."""
    tools = {loaded.number: loaded.tool for loaded in job.loading}
    places: dict[str, list[int]] = {}
    for operation in job.operations:
        places.setdefault(place_of(operation, tools[operation.tool_number]), []).append(operation.number)
    return tuple(
        f"{place}: " + (f"operation {numbers[0]}" if len(numbers) == 1 else f"operations {numbers[0]} to {numbers[-1]}")
        for place, numbers in places.items()
    )


def _limits(shop: Shop, show: Show) -> str:
    """The machine and those of its limits that the sheet was planned with."""
    machine = shop.machine
    parts = (
        f"spindle {show.rpm(machine.spindle_min_rpm)} to {show.rpm(machine.spindle_max_rpm)} rev/min",
        show.running(f"{machine.spindle_power_kw:g} kW, {machine.spindle_torque_nm:g} N·m"),
        f"tapping to {show.rpm(machine.tapping_max_rpm)} rev/min, {'rigid' if machine.rigid_tapping else 'floating holder'}",
        f"feed to {show.feed(machine.feed_max_mm_per_min, False)} {show.feed_unit}",
        count(machine.pots, "pot") if machine.has_changer else "tools changed by hand",
        f"{'coolant' if machine.through_tool_coolant else 'no coolant'} through the tool",
    )
    return f"{machine.name}: {'; '.join(parts)}."


REPORT = Report("setup_sheet", "Set-up sheet", "setup_sheet.html.j2", build, ("pdf",), instead=("html",))
