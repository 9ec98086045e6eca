"""The tap's limit that a drawing states is compared with the one that the rules choose, and with the thread's own limits."""

from __future__ import annotations

import pytest

from holesched.notes import Note, Severity
from holesched.pipeline import explain
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Shop


def stated(text: str) -> Note:
    job = explain(text, Shop(), ReadOptions(material="C45", thickness_mm=30.0))
    (note,) = [note for hole in job.holes for note in hole.notes if note.code == "TAP-LIMIT-STATED"]
    return note


@pytest.mark.parametrize(
    ("text", "severity", "said"),
    [
        ("1/4-20 UNC-2B H3 ↧13", Severity.WATCH, "0.038 mm over the basic pitch diameter at most; the rules choose H5"),
        ("1/4-20 UNC-2B GH5 ↧13", Severity.TOLD, "the tap chosen has it"),
        ("M8x1.25 H4 ↧16", Severity.WATCH, "0.051 mm over the basic pitch diameter at most; the rules choose ISO 2 (6H)"),
        ("M8x1.25 D5 LIMIT ↧16", Severity.WATCH, "0.065 mm over the basic pitch diameter at most"),
        ("M30x2 H5 ↧20", Severity.WATCH, "it is milled"),
    ],
)
def test_a_stated_limit_is_compared(text: str, severity: Severity, said: str) -> None:
    """Machinery's Handbook 31, p. 972: H n ends n x 0.0005 in over basic, 0.0015 in = 0.038 mm, 0.0020 in = 0.051 mm; D n
    ends n x 0.013 mm over it, from memory of ASME B94.9."""
    note = stated(text)
    assert note.severity is severity
    assert said in note.message


def test_a_limit_outside_the_thread_is_asked() -> None:
    """ASME B1.1, Table 2: 1/4-20 UNC-2B has pitch diameters of 0.2175 to 0.2224 in, 0.0049 in apart; H14 ends
    0.0070 in over basic."""
    note = stated("1/4-20 UNC-2B H14 ↧13")
    assert note.severity is Severity.ASK
    assert "0.178 mm" in note.message
    assert "0.000 to 0.124 mm" in note.message
    assert note.assumed == "Planned with a tap of H5."
