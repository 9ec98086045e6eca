"""The risk that a tap breaks, and what lowers it, cheapest first."""

from __future__ import annotations

from holesched.cutting.geometry import Cut
from holesched.cutting.loads import Loads, how_good
from holesched.cutting.lookup import figure
from holesched.cutting.model import CHANGE, TAP_BREAKS, TapRisk
from holesched.cutting.remedies import breaking_torque, mill_reaches, remedies_of
from holesched.notes import Cite, Note, Reason, Severity
from holesched.shop.model import Shop
from holesched.standards.materials import Material
from holesched.tables import cite_of

WATCH_FROM, CHANGE_FROM = 0.25, 0.5
"""Torque over breaking torque: below 0.25 calm, above 0.5 something should be changed; half of that where the torque may be
twice the estimate, as the rules have it too. From memory."""
BREAKS_FROM = 1.0
"""From here a worn tap breaks: the step is not to be run as it stands."""
HELD_FROM, HELD_FROM_DOUBTED = 0.8, 0.5
"""From here a thread that is tapped by hand is a question: the estimate is good to 40 %, and the rules mill it where a shop
can. Common practice, no source."""
ELSEWHERE, LARGER = "Or have the thread milled where that is done, or ask for a larger one.", "Or ask for a larger thread."


def tap_risk(cut: Cut, material: Material, load: Loads, shop: Shop) -> TapRisk:
    """The tap's risk with its factors and remedies."""
    breaking, parts = breaking_torque(cut)
    index = breaking_share(cut, load)
    doubt, told = how_good(material)
    at_worst = index * doubt
    band = "calm" if at_worst < WATCH_FROM else "watch" if at_worst <= CHANGE_FROM else CHANGE
    takes = f"takes {figure(load.torque_nm)} N·m worn, breaks at about {figure(breaking)} N·m"
    twice = told if doubt > 1 else ""
    factors = (takes, *parts, *_circumstances(cut, material), *([twice] if twice else []))
    remedies = () if band == "calm" else remedies_of(cut, material, shop, index)
    return TapRisk(index, band, breaking, factors, remedies, twice)


def breaking_share(cut: Cut, load: Loads) -> float:
    """A tap's torque over the torque that breaks it."""
    return load.torque_nm / breaking_torque(cut)[0]


def risk_reason(risk: TapRisk) -> Reason:
    """The risk as a reason to print."""
    because = "; ".join(risk.factors)
    return Reason(f"risk of breaking the tap: {risk.index:.2f}, {risk.band}", because, "TAP-RISK", (_cite(),))


def risk_note(risk: TapRisk, cut: Cut) -> Note | None:
    """What to watch, with the cheapest remedy first; None when calm. Of a tap that would break, that it is not to be run; of
    a hand set near to it, whether another thread will do."""
    if risk.band == "calm":
        return None
    size, remedies = cut.step.tool.size, " ".join(risk.remedies)
    elsewhere = ELSEWHERE if mill_reaches(cut) else LARGER
    takes = f"when worn, the tap takes about {risk.index * 100:.0f} % of the torque that breaks it"
    takes += f"; {risk.may_be_twice}" if risk.may_be_twice else ""
    if risk.index >= BREAKS_FROM:
        message = f"{size}: {takes}: not to be run as it stands."
        return Note(TAP_BREAKS, Severity.WATCH, message, f"{remedies} {elsewhere}", cite=_cite())
    if cut.step.tool.by_hand and risk.index >= (HELD_FROM_DOUBTED if risk.may_be_twice else HELD_FROM):
        takes += "" if risk.may_be_twice else ", and the estimate is good to 40 %"
        message = f"{size}, by hand, is near to breaking its tap: {takes}."
        assumed = "Tapped by hand, with new taps."
        return Note("TAP-RISK-BY-HAND", Severity.ASK, message, f"{remedies} {elsewhere}", assumed, cite=_cite())
    takes += "; change something before it goes into a part of value" if risk.band == CHANGE else ""
    return Note("TAP-RISK", Severity.WATCH, f"{size}: {takes}.", remedies, cite=_cite())


def _circumstances(cut: Cut, material: Material) -> list[str]:
    """What makes the torque: percentage of thread, depth, the way out, chips."""
    step, found = cut.step, []
    if cut.fit is not None:
        found.append(f"{cut.fit.percent:.0f} % of thread")
    if cut.depth_ratio is not None:
        found.append(f"{cut.depth_ratio:.1f} D deep")
    found.append("blind" if cut.is_blind else "through")
    if step.tool.every_other_tooth:
        found.append("every other tooth")
    if step.tool.flute_form != "forming":
        found.append(f"{material.chip} chips")
    return found


def _cite() -> Cite:
    return cite_of("cutting_tap_load.csv")
