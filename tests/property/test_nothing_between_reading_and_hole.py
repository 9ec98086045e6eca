"""What a callout that nobody is asked about says of its steps is in the hole: depths, angles, tolerances, sides, THRU."""

from __future__ import annotations

from hypothesis import example, given, settings
from hypothesis import strategies as st

from holesched.callouts.model import Callout, Kind
from holesched.callouts.parse import read_callout
from holesched.features.build import build_callout
from holesched.features.complete import is_open_pilot
from holesched.features.model import Hole

STEPS = (
    "M8-6H",
    "M8 x 16",
    "Ø8 H7",
    "Ø6.8",
    "TAP DRILL Ø6.8",
    "REAM Ø8 H7",
    "⌴ Ø11",
    "CSK Ø9 x 90°",
    "SF Ø20",
    "下穴φ6.8",
    "沉孔 φ11",
)
EDGES = ("C1", "1x45°", "CHAM 0.5x45°", "фаска 1x45°", "⌵ Ø9 x 90°")
DEEP = ("↧12", "12 TIEF", "x 12", "THRU", "durch", "通し", "DRILL DEPTH 20", "HOLE ↧20", "孔深20", "BLIND 15", "(max. 15)")
SAID = (
    "FAR SIDE",
    "BOTH SIDES",
    "beidseitig",
    "裏面",
    "LH",
    "左旋",
    "4X",
    "4 отв.",
    "±0.1",
    "EQ SP ON Ø60 BC",
    "FLAT BOTTOM",
)
phrases = st.lists(st.sampled_from((*STEPS, *EDGES, *DEEP, *SAID)), min_size=2, max_size=5, unique=True)


@given(phrases, st.sampled_from((" ", ", ", "\n")))
@settings(max_examples=400)
@example(["M8-6H", "C1", "↧12"], " ")
@example(["M8-6H", "↧12", "DRILL DEPTH 20", "FAR SIDE"], " ")
@example(["THRU", "M8 x 16"], " ")
def test_what_was_read_is_in_the_hole(parts: list[str], gap: str) -> None:
    text = gap.join(parts)
    callout = read_callout(text, "mm").callout
    hole, notes, _ = build_callout(text, "mm", 60.0)
    if callout is None or hole is None or any(note.is_question for note in notes):
        return
    assert lost(callout, hole) == [], text


def lost(callout: Callout, hole: Hole) -> list[str]:
    """What stands in the callout's steps and in none of the hole's."""
    made = hole.features
    depths = [depth for feature in made for depth in (feature.depth, feature.pilot_depth) if depth is not None]
    missing = []
    for element in callout.elements:
        depth = element.depth
        if depth is not None and depth.mm is not None and depth.mm not in [each.mm for each in depths]:
            missing.append(f"{depth.mm:g} deep")
        if depth is not None and depth.through and not any(each.through for each in depths):
            missing.append("through")
        if element.angle_deg is not None and element.angle_deg not in [feature.angle_deg for feature in made]:
            missing.append(f"{element.angle_deg:g}°")
        if element.tolerance is not None and element.tolerance not in [feature.tolerance for feature in made]:
            missing.append(f"{element.tolerance}")
        if not is_open_pilot(element, callout) and element.side not in [feature.side for feature in made]:
            missing.append(element.side.value)
        if element.kind is Kind.TAP and element.thread is not None and element.thread.left_hand:
            missing += (
                [] if any(feature.thread is not None and feature.thread.left_hand for feature in made) else ["left hand"]
            )
    return missing
