"""What the loads of a plan teach the next plan of the same hole: another process for a thread, steps for a drill."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from holesched.cutting.lookup import tap_load
from holesched.cutting.model import Loaded
from holesched.cutting.trial import Trial
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.tooling.model import StepKind
from holesched.tooling.opening import MOST_HALVINGS, MOST_STEPS, TOO_HEAVY
from holesched.tooling.reckoned import Reckoned
from holesched.tooling.rules import RuleBook

_FLATS = (StepKind.COUNTERBORE, StepKind.SPOTFACE)


def reckon(trial: Trial, known: Reckoned, book: RuleBook) -> Reckoned:
    """What is known after a plan has been tried; `known` itself when the plan stands.

    The taps first: where they call for another plan, nothing else of this one counts. Threads are told of once or twice,
    drills, counterbores and bars only so often, so that planning ends.
    """
    machine, material, taps = trial.shop.machine, trial.material, trial.loads(StepKind.TAP)
    torque = _tap_torque(taps, material, book)
    if known.tap_torque:  # told once, and once more where another hole makes it more than all of the torque
        torque = {name: share for name, share in torque.items() if share >= 1 > known.tap_torque.get(name, 0.0)}
    breaking = _tap_breaking(taps, material, known, book)
    by_hand = _too_heavy_by_hand(taps) - known.too_heavy_by_hand
    if torque or breaking or by_hand:
        return replace(
            known,
            tap_torque={**known.tap_torque, **torque},
            tap_breaking={**known.tap_breaking, **breaking},
            too_heavy_by_hand=known.too_heavy_by_hand | by_hand,
        )
    drills, flats = trial.loads(StepKind.DRILL), trial.loads(*_FLATS)
    heavy = _heavy_drills(drills, known, machine) | {cut.step.diameter_mm: MOST_STEPS for cut in flats if cut.overload}
    lighter = _lighter_passes(trial, known)
    both_heavy = any(cut.step.also and _too_heavy(cut, machine) for cut in drills)
    spot = not known.heavy_spot and any(_too_heavy(cut, machine) for cut in trial.loads(StepKind.SPOT))
    if not (heavy or lighter or both_heavy or spot):
        return known
    return replace(
        known,
        heavy={**known.heavy, **heavy},
        lighter_from={**known.lighter_from, **lighter},
        step_drill=known.step_drill or (TOO_HEAVY if both_heavy else ""),
        heavy_spot=known.heavy_spot or spot,
    )


def _too_heavy_by_hand(taps: Sequence[Loaded]) -> frozenset[str]:
    """Designations of the threads whose hand set nobody turns."""
    heavy = (cut.step.step for cut in taps if cut.step.tool.by_hand and _beyond_a_person(cut))
    return frozenset(step.thread.spec.designation for step in heavy if step is not None and step.thread is not None)


def _tap_torque(taps: Sequence[Loaded], material: Material, book: RuleBook) -> dict[str, float]:
    """What a cutting tap would take of the spindle's torque, by its thread's designation, where some rule asks for it; a
    forming tap takes a known multiple of a cutting tap's. Of a hand set likewise the share of what a person turns."""
    shares: dict[str, float] = {}
    for cut in taps:
        thread, share = cut.step.step.thread if cut.step.step else None, _share(cut)
        if thread is None or share is None:
            continue
        name = thread.spec.designation
        cutting = share / tap_load("forming")[0] if cut.step.process == "form" else share
        if book.asks_for("torque", cutting, cut.step.process, material):
            shares[name] = max(shares.get(name, 0.0), cutting)
    return shares


def _tap_breaking(
    taps: Sequence[Loaded], material: Material, known: Reckoned, book: RuleBook
) -> dict[str, tuple[float, ...]]:
    """What a cutting tap would take of the torque that breaks it, by its thread's designation, where some rule asks for it:
    once, and once more where a rule asks for another process although the larger drill has been taken."""
    shares: dict[str, tuple[float, ...]] = {}
    for cut in taps:
        thread, share = cut.step.step.thread if cut.step.step else None, cut.breaking_share
        if share is None or thread is None:
            continue
        name = thread.spec.designation
        if cut.step.process == "form":
            share *= tap_load("forming-core")[0] / tap_load("forming")[0]
        before = known.tap_breaking.get(name, ())
        wanted = "process" if before else ""
        if len(before) < 2 and name not in shares and book.asks_for("breaking", share, cut.step.process, material, wanted):
            shares[name] = (*before, share)
    return shares


def _share(cut: Loaded) -> float | None:
    """A tap's torque over what turns it gives; None where there is no figure. A hand set that a person turns is left as it
    is: the spindle, of which the rules speak, has no part in it."""
    if not cut.step.tool.by_hand:
        return cut.torque_share
    return _beyond_a_person(cut)


def _beyond_a_person(cut: Loaded) -> float | None:
    """A hand tap's torque over what a person gives, where that is more; else None."""
    if cut.step.limit is None or cut.torque_nm is None or cut.torque_nm <= cut.step.limit.value:
        return None
    return cut.torque_nm / cut.step.limit.value


def _heavy_drills(cuts: Sequence[Loaded], known: Reckoned, machine: Machine) -> dict[float, int]:
    """Diameters of the holes of which a drill, or one of the smaller drills before it, takes more than the machine gives, or
    more of it than the rules allow (once less often), each with one step more than known.

    Of drills with one diameter: a step drill that is too heavy first gives way to two of them.
    """
    drills = [cut for cut in cuts if cut.step.kind is StepKind.DRILL and cut.step.also is None]
    too_heavy = [(cut, MOST_STEPS) for cut in drills if cut.overload]
    nearly = [(cut, MOST_STEPS - 1) for cut in drills if _over_limit(cut, machine)]
    found: dict[float, int] = {}
    for cut, most in too_heavy + nearly:
        size = _hole_mm(cut, drills)
        if known.heavy.get(size, 0) < most:
            found[size] = known.heavy.get(size, 0) + 1
    return found


def _too_heavy(cut: Loaded, machine: Machine) -> bool:
    """Whether a step is more than the machine, or the rules, allow."""
    return bool(cut.overload) or _over_limit(cut, machine)


def _over_limit(cut: Loaded, machine: Machine) -> bool:
    """Whether a step asks more of the machine's torque or thrust than the rules allow it."""
    share = cut.step.limit.value if cut.step.limit is not None else 1.0
    shares = ((cut.torque_nm or 0.0) / machine.spindle_torque_nm, (cut.thrust_n or 0.0) / machine.axis_thrust_n)
    return max(shares) > share + 1e-9


def _lighter_passes(trial: Trial, known: Reckoned) -> dict[float, tuple[float, ...]]:
    """Features of which a boring pass is too heavy: the diameters from which on passes are halved, one more than known."""
    found: dict[float, tuple[float, ...]] = {}
    for index, step in enumerate(trial.steps):
        feature = step.step
        if step.kind is not StepKind.BORE or feature is None or feature.diameter.mm in found:
            continue
        so_far = known.lighter_from.get(feature.diameter.mm, ())
        if len(so_far) < MOST_HALVINGS and _too_heavy(trial.load(index), trial.shop.machine):
            before_mm = trial.steps[index - 1].diameter_mm if index > 0 else 0.0
            found[feature.diameter.mm] = (*so_far, max((before_mm, *so_far)))
    return found


def _hole_mm(drill: Loaded, drills: Iterable[Loaded]) -> float:
    """The largest diameter drilled in the hole that a drill helps to make."""
    return max(cut.step.diameter_mm for cut in drills if cut.step.step is drill.step.step)
