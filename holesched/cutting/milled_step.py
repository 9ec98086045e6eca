"""The parameters of a thread-milling step: speed, both feeds, path, load, time and edge life, each with its reason."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from holesched.cutting import formulas, tap_formulas
from holesched.cutting.clamp import Running, Wanted, clamp
from holesched.cutting.corrections import Correction, product
from holesched.cutting.geometry import Cut
from holesched.cutting.life import edge_life
from holesched.cutting.loads import WEAR, Loads
from holesched.cutting.lookup import CALCULATED, subgroup_data
from holesched.cutting.model import CutStep, ThreadMilling
from holesched.cutting.reasons import mean_torque_reason
from holesched.cutting.run_step import SpeedRange, run_step
from holesched.cutting.speeds import Speeds
from holesched.cutting.thread_mill import (
    DEEPER_MM,
    Milled,
    centre_feed_mm_per_min,
    milled_volume_mm3,
    milling_at,
    milling_power_kw,
    passes_of,
    tooth_feed_mm,
    wanted_speeds,
)
from holesched.cutting.time import StepTime
from holesched.notes import COMMON_PRACTICE, Cite, Note, Reason, Standing
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.standards.thread_mills import ThreadMill, milled_major_mm

POWER_CITE = Cite("mean power of milling the groove away, kc V / t", standing=Standing.CALCULATED)


def milled_of(cut: Cut) -> Milled:
    """The thread that a step mills."""
    thread = cut.step.step.thread if cut.step.step else None
    starts = thread.spec.starts if thread is not None else 1
    depth = cut.step.depth_mm
    return Milled(
        major_mm=cut.diameter_mm if thread is None else milled_major_mm(thread),
        pitch_mm=cut.lead_mm / starts,
        minor_mm=thread.minor.min_mm if thread is not None else cut.hole_mm,
        length_mm=None if depth is None else max(depth - cut.step.start_mm, 0.0),
        left_hand=thread is not None and thread.spec.left_hand,
        taper=thread.taper if thread is not None else 0.0,
        hole_mm=cut.hole_mm,
        profile=cut.profile,
        starts=starts,
    )


def milled_step(cut: Cut, material: Material, machine: Machine) -> tuple[CutStep, list[Note]]:
    """The step's parameters. Raises ValueError for a thread that no rule would have milled."""
    thread = milled_of(cut)
    wanted, mill = wanted_speeds(thread, material, machine), thread.cutter
    if wanted is None or mill is None:
        raise ValueError(f"{cut.step.tool.size} is not milled in {material.subgroup}.")
    speeds, found = wanted
    factor, _ = product(found)
    advised = (speeds.low * factor, speeds.start * factor, speeds.high * factor)
    running = _running(cut, thread, mill, material, machine, advised)
    centre = formulas.feed_rate_mm_per_min(running.rpm, running.feed_mm_per_rev)
    milling = milling_at(thread, mill, material, running.rpm, centre, (speeds.cite, mill.cite))
    time = _time(cut, milling, machine)
    life, life_reason = edge_life(material, mill.diameter_mm, milling.time_min)
    reasons = [
        _speed_reason(speeds, found, advised, material),
        _feed_reason(thread, milling),
        _path_reason(thread, milling),
        _passes_reason(thread, milling, mill, material),
        *mean_torque_reason(running),
        *cut.step.coolant_reasons,
        *([_time_reason(time, milling, mill)] if time else []),
        life_reason,
    ]
    made = run_step(
        cut.step,
        advised,
        running,
        machine,
        cutter_mm=mill.diameter_mm,
        chip_load_mm=milling.tooth_feed_mm,
        time=time,
        life=life,
        reasons=reasons,
        milling=milling,
    )
    return made, list(running.notes)


def _running(
    cut: Cut, thread: Milled, mill: ThreadMill, material: Material, machine: Machine, advised: SpeedRange
) -> Running:
    """Speed and feed of the cutter's centre inside the machine's limits."""
    _, start, high = advised
    edge_per_rev = tooth_feed_mm(mill, material) * mill.teeth
    wanted = Wanted(
        cut.step.tool.called,
        formulas.spindle_rpm(start, mill.diameter_mm),
        centre_feed_mm_per_min(edge_per_rev, thread.major_mm, mill.diameter_mm),
        rigid_feed=False,
        high_rpm=formulas.spindle_rpm(high, mill.diameter_mm),
        remedy="Mill it in more passes",
    )
    return clamp(wanted, machine, lambda feed: _loads(thread, mill, material, feed))


def _speed_reason(speeds: Speeds, found: Sequence[Correction], advised: SpeedRange, material: Material) -> Reason:
    slowed = [each for each in found if each.speed != 1]
    why = "; ".join(
        [
            f"carbide thread mill in {material.subgroup} ({subgroup_data(material.subgroup).title}): {speeds.low:.3g} to "
            f"{speeds.high:.3g}, start {speeds.start:.3g} m/min, at the cutter's own diameter",
            *(f"x{each.speed:.2f} {each.because}" for each in slowed),
        ]
    )
    cites = tuple(dict.fromkeys((speeds.cite, *(each.cite for each in slowed))))
    return Reason(f"cutting speed: {advised[1]:.3g} m/min", why, "CUT-SPEED", cites)


def _loads(thread: Milled, mill: ThreadMill, material: Material, centre_feed_mm_per_rev: float) -> Loads:
    """Mean torque while the full circle of one pass is cut, worn; it does not depend on the speed."""
    groove = tap_formulas.groove_mm2(thread.profile, thread.height_mm, thread.pitch_mm)
    length = mill.length_mm if thread.length_mm is None else min(thread.length_mm, mill.length_mm)
    volume = milled_volume_mm3(groove, thread.height_mm, thread.pitch_mm, thread.major_mm, length)
    volume /= passes_of(thread, mill, material)
    turn = pi * (thread.major_mm - mill.diameter_mm) / centre_feed_mm_per_rev
    tooth = centre_feed_mm_per_rev * thread.major_mm / (thread.major_mm - mill.diameter_mm) / mill.teeth
    kc = formulas.specific_force_n_per_mm2(material.kc11_n_per_mm2, material.mc, tooth)
    torque = WEAR * formulas.torque_at_power_nm(milling_power_kw(kc, volume, turn), 1.0)
    because = f"{volume:.0f} mm3 in a turn at kc {kc:.0f} N/mm2, normal wear {WEAR:g}; the mean, a tooth's peak is higher"
    return Loads(torque, None, because, (POWER_CITE, *material.cites))


def _time(cut: Cut, milling: ThreadMilling, machine: Machine) -> StepTime | None:
    travel = cut.step.travel_mm
    if travel is None:
        return None
    rapid_s = (travel + cut.step.start_mm) / (machine.rapid_mm_per_min / 60)
    return StepTime(60 * milling.time_min, retract_s=2 * rapid_s)


def _time_reason(time: StepTime, milling: ThreadMilling, mill: ThreadMill) -> Reason:
    turns = milling.passes * milling.levels
    each = "one entry and exit a pass" if mill.one_tooth else "with entry and exit"
    because = f"{time.told()}; {turns} turn{'s' if turns > 1 else ''} {each}"
    return Reason(f"time: {time.minutes * 60:.1f} s a hole", because, "CUT-TIME", (CALCULATED,))


def _feed_reason(thread: Milled, milling: ThreadMilling) -> Reason:
    because = (
        f"the edge is fed {milling.edge_feed_mm_per_min:.0f} mm/min ({milling.tooth_feed_mm:.3f} mm a tooth, "
        f"{milling.teeth} teeth); the centre runs on the smaller circle, "
        f"x{1 - milling.cutter_mm / thread.major_mm:.3f}, the thread's diameter less the cutter's over the thread's. "
        "Find out which of the two the control takes"
    )
    decision = f"feed of the cutter's centre: {milling.centre_feed_mm_per_min:.0f} mm/min"
    return Reason(decision, because, "CUT-THREAD-MILL-FEED", milling.cites[1:] or (CALCULATED,))


def _path_reason(thread: Milled, milling: ThreadMilling) -> Reason:
    way = "down from the top" if milling.downwards else "up from the bottom"
    hand = "left" if milling.downwards else "right"
    starts = f", each of the {thread.starts} starts for itself" if thread.starts > 1 else ""
    because = (
        f"in and out on half circles of radius {milling.arc_radius_mm:.3f} mm, a quarter of the pitch each; "
        f"{milling.rise_mm:.5g} mm a turn{starts}, counter-clockwise {way}: a {hand}-hand thread, climb milled by a "
        "right-hand cutter"
    )
    if thread.taper:
        wider = thread.taper * thread.pitch_mm / 2
        because += (
            f". At the face; the radius {'shrinks' if milling.downwards else 'grows'} by {wider:.3f} mm in the turn, half "
            f"of 1:{1 / thread.taper:.0f} of the pitch: on a plain helix the ends miss each other by as much"
        )
    decision = f"path of the cutter's centre: radius {milling.centre_radius_mm:.3f} mm"
    return Reason(decision, because, "CUT-THREAD-MILL-PATH", (CALCULATED, COMMON_PRACTICE))


def _passes_reason(thread: Milled, milling: ThreadMilling, mill: ThreadMill, material: Material) -> Reason:
    if mill.one_tooth:
        because = (
            f"one tooth high: a turn for each pitch of {thread.pitch_mm:.4g} mm; {thread.height_mm:.2f} mm deep, at most "
            f"{DEEPER_MM:g} mm a pass"
        )
        decision = f"passes: {milling.passes} x {milling.levels} turns"
        return Reason(decision, because, "CUT-THREAD-MILL-PASSES", (COMMON_PRACTICE,))
    levels = "1 level" if milling.levels == 1 else f"{milling.levels} levels"
    passes = "1 pass" if milling.passes == 1 else f"{milling.passes} passes"
    length = "" if thread.length_mm is None else f"{thread.length_mm:.4g} mm of thread, "
    because = (
        f"{length}cutter {milling.length_mm:.0f} mm long: {levels}; in {material.subgroup} at a pitch of "
        f"{thread.pitch_mm:.4g} mm: {passes}"
    )
    return Reason(f"passes: {milling.passes} x {milling.levels}", because, "CUT-THREAD-MILL-PASSES", (COMMON_PRACTICE,))
