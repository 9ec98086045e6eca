"""The risk that a tap breaks, and what lowers it, cheapest first."""

from __future__ import annotations

from holesched.cutting import tap_formulas
from holesched.cutting.geometry import Cut
from holesched.cutting.loads import Loads, how_good, tap_loads
from holesched.cutting.lookup import figure, life_holes, tap_load
from holesched.cutting.milled_step import milled_of
from holesched.cutting.model import CHANGE, TAP_BREAKS, TapRisk
from holesched.cutting.thread_mill import mill_thread
from holesched.notes import Cite, Note, Reason, Severity
from holesched.shop.model import Machine
from holesched.standards.materials import Material
from holesched.tables import cite_of

WATCH_FROM, CHANGE_FROM = 0.25, 0.5
"""Torque over breaking torque: below 0.25 calm, above 0.5 something should be changed; half of that where the torque may be
twice the estimate, as the rules have it too. From memory."""
BREAKS_FROM = 1.0
"""From here a worn tap breaks: the step is not to be run as it stands."""
HELD_FROM = 0.8
"""From here a thread that is tapped by hand is a question: the estimate is good to 40 %, and the rules mill it where a shop
can. Common practice, no source."""
ELSEWHERE = "Or have the thread milled where that is done, or ask for a larger one."
_WORTH = 0.05
"""A drill that saves less than this share of the torque is no remedy."""


def tap_risk(cut: Cut, material: Material, load: Loads, machine: Machine) -> TapRisk:
    """The tap's risk with its factors and remedies."""
    breaking, parts = _breaking(cut)
    index = breaking_share(cut, load)
    doubt, told = how_good(material)
    at_worst = index * doubt
    band = "calm" if at_worst < WATCH_FROM else "watch" if at_worst <= CHANGE_FROM else CHANGE
    takes = f"takes {figure(load.torque_nm)} N·m worn, breaks at about {figure(breaking)} N·m"
    twice = told if doubt > 1 else ""
    factors = (takes, *parts, *_circumstances(cut, material), *([twice] if twice else []))
    remedies = () if band == "calm" else _remedies(cut, material, load, machine)
    return TapRisk(index, band, breaking, factors, remedies, twice)


def breaking_share(cut: Cut, load: Loads) -> float:
    """A tap's torque over the torque that breaks it."""
    return load.torque_nm / _breaking(cut)[0]


def risk_reason(risk: TapRisk) -> Reason:
    """The risk as a reason to print."""
    because = "; ".join(risk.factors)
    return Reason(f"risk of breaking the tap: {risk.index:.2f}, {risk.band}", because, "TAP-RISK", (_cite(),))


def risk_note(risk: TapRisk, cut: Cut) -> Note | None:
    """What to watch, with the cheapest remedy first; None when calm. Of a tap that would break, that it is not to be run; of
    a hand set near to it, whether another thread will do."""
    if risk.band == "calm":
        return None
    share = f"{risk.index * 100:.0f} %"
    message = f"{cut.step.tool.size}: when worn, the tap takes about {share} of the torque that breaks it"
    message += f"; {risk.may_be_twice}" if risk.may_be_twice else ""
    if risk.index >= BREAKS_FROM:
        remedies = " ".join((*risk.remedies, ELSEWHERE))
        return Note(TAP_BREAKS, Severity.WATCH, f"{message}: not to be run as it stands.", remedies, cite=_cite())
    if cut.step.tool.by_hand and risk.index * (2 if risk.may_be_twice else 1) >= HELD_FROM:
        message += "" if risk.may_be_twice else ", and the estimate is good to 40 %"
        remedies = " ".join((*risk.remedies, ELSEWHERE))
        return Note(
            "TAP-RISK-BY-HAND", Severity.ASK, f"{message}.", remedies, "Tapped by hand, with new taps.", cite=_cite()
        )
    if risk.band == CHANGE:
        message += "; change something before it goes into a part of value"
    return Note("TAP-RISK", Severity.WATCH, f"{message}.", " ".join(risk.remedies), cite=_cite())


def _circumstances(cut: Cut, material: Material) -> list[str]:
    """What makes the torque: percentage of thread, depth, the way out, chips."""
    step, found = cut.step, []
    if cut.fit is not None:
        found.append(f"{cut.fit.percent:.0f} % of thread")
    if cut.depth_ratio is not None:
        found.append(f"{cut.depth_ratio:.1f} D deep")
    found.append("blind" if cut.is_blind else "through")
    if step.tool.flute_form != "forming":
        found.append(f"{material.chip} chips")
    return found


def _breaking(cut: Cut) -> tuple[float, list[str]]:
    tool = cut.step.tool
    strength, _ = tap_load("strength_nm_per_mm3")
    core_mm = tap_formulas.tap_core_mm(cut.diameter_mm, tool.pitch_mm or cut.lead_mm)
    breaking, parts = tap_formulas.tap_breaking_torque_nm(core_mm, strength), [f"core of {core_mm:.3g} mm"]
    for name, applies in (("forming-core", tool.flute_form == "forming"), ("carbide-core", tool.material == "carbide")):
        if applies:
            value, why = tap_load(name)
            breaking *= value
            parts.append(f"x{value:g} {why}")
    return breaking, parts


def _remedies(cut: Cut, material: Material, load: Loads, machine: Machine) -> tuple[str, ...]:
    """Cheapest first: another drill, less thread, a longer chamfer, a forming tap, a thread mill; never one that a rule
    strikes for this hole, nor for a thread tapped by hand one that needs the machine."""
    step, found = cut.step, []
    by_hand = step.tool.by_hand
    forming = step.tool.flute_form == "forming"
    if cut.fit is not None and not forming:
        largest = cut.fit.window_mm[1]
        saved = 1 - tap_loads(cut, material, largest).torque_nm / load.torque_nm if largest < cut.diameter_mm else 0.0
        if saved >= _WORTH:
            found.append(
                f"Open the hole: up to {largest:.3f} mm is inside the limits and takes {saved * 100:.0f} % off the torque."
            )
    if cut.depth_ratio is not None and cut.depth_ratio > 1.5 and not cut.is_taper:
        found.append(f"Ask whether {1.5 * cut.diameter_mm:.0f} mm of full thread (1.5 D) is enough.")
    if cut.is_taper:
        found.append("Back the tap off to break its chips, and make the last turns by hand to the gauge.")
    chamfer = step.tool.chamfer
    if chamfer is not None and chamfer.threads < 3.5 and step.through and not forming and not by_hand:
        found.append("Take a plug chamfer (form B or D): less load on each tooth.")
    if (
        not forming
        and not by_hand
        and cut.is_blind
        and _may_form(cut, material)
        and life_holes(material.subgroup, "forming")
    ):
        found.append("A forming tap makes no chips; it needs its own, larger hole.")
    millable = not by_hand and cut.is_millable and machine.thread_milling and not _struck(cut, "thread mill")
    mill = mill_thread(milled_of(cut), material, machine) if millable else None
    if mill is not None:
        seconds = f"about {figure(60 * mill.time_min)} s in the cut"
        found.append(
            f"A thread mill of {mill.cutter_mm:g} mm ({seconds}) is smaller than the hole and lifts out if it breaks."
        )
    return tuple(found)


def _may_form(cut: Cut, material: Material) -> bool:
    """Whether a forming tap is a remedy: the metal flows, the thread is parallel, and no rule strikes it."""
    flows = material.chip == "long" and "brittle" not in material.traits
    return flows and not cut.is_taper and not _struck(cut, "form")


def _struck(cut: Cut, process: str) -> bool:
    """Whether a row of the rules strikes a process for this thread: it lost to another row than the winner's."""
    reason = next((reason for reason in cut.step.reasons if reason.decision.startswith("process: ")), None)
    lost = reason.rejected if reason is not None else ()
    return any(each.candidate == process and reason is not None and each.rule != reason.rule for each in lost)


def _cite() -> Cite:
    return cite_of("cutting_tap_load.csv")
