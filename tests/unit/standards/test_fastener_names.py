"""What a fastener's name asks for, and what is left to a question."""

from __future__ import annotations

import pytest

from holesched.standards.heads import UnknownFastener, clearance, counterbore, countersink, fastener_hole

Read = tuple[str, str, str, str]


@pytest.mark.parametrize(
    ("text", "nominal", "fit", "hole", "head"),
    [
        ("M8", "M8", "medium", "9", ""),
        ("CLEARANCE FOR M8 SHCS", "M8", "medium", "9", "socket cap"),
        ("M8x1.25 socket head cap screw, close fit", "M8", "close", "8.4", "socket cap"),
        ("M3,5 DIN 912", "M3.5", "medium", "3.9", "socket cap"),
        ("M8 DIN 7984", "M8", "medium", "9", "low socket cap"),
        ("M6 FHCS", "M6", "medium", "6.6", "flat socket"),
        ("ISO 10642 M6", "M6", "medium", "6.6", "flat socket"),
        ("M6 ISO 7046", "M6", "medium", "6.6", "flat"),
        ("1/4-20 UNC SHCS", "1/4", "medium", "9/32", "socket cap"),
        ("#10 FHMS", "#10", "medium", "#2", "flat"),
        ("10-32 SHCS", "#10", "medium", "#2", "socket cap"),
        ("NO. 8 BOLT LOOSE FIT", "#8", "loose", "#3", ""),
        ("1-8 SHCS", "1 in", "medium", "1 3/32", "socket cap"),
        ("1-1/8 HEX BOLT", "1 1/8", "medium", "1 7/32", ""),
        ("C'BORE FOR M8 SHCS", "M8", "medium", "9", "socket cap"),
    ],
)
def test_read(text: str, nominal: str, fit: str, hole: str, head: str) -> None:
    found = fastener_hole(text)
    assert found is not None
    assert found.clearance is not None
    assert (found.nominal.label, found.fit, found.clearance.label, found.head) == (nominal, fit, hole, head)
    assert found.questions == ()
    assert found.fit_written == ("FIT" in text.upper())


@pytest.mark.parametrize("text", ["", "CLEARANCE HOLE", "M8 DOWEL", "3 SHCS", "M8 CLOSE OR FREE", "8 MM PIN", "1/0 SHCS"])
def test_not_a_fastener(text: str) -> None:
    assert fastener_hole(text) is None


def test_heads() -> None:
    socket = fastener_hole("M8 SHCS")
    flat = fastener_hole("#10 FHCS")
    assert socket is not None
    assert socket.counterbore is not None
    assert (socket.counterbore[0].mm, socket.counterbore[1]) == (15.0, 8.6)
    assert [cite.standard for cite in socket.cites] == ["ISO 273", "DIN 974-1"]
    assert flat is not None
    assert flat.countersink is not None
    assert (flat.countersink[0].label, flat.countersink[1]) == (".411 in", 82.0)


@pytest.mark.parametrize("text", ["M6 FLAT HEAD", "#10 FLAT HEAD", "M6 COUNTERSUNK SCREW"])
def test_a_flat_head_without_its_standard_is_asked(text: str) -> None:
    found = fastener_hole(text)
    assert found is not None
    assert [code for code, _, _ in found.questions] == ["FASTENER-HEAD-UNCLEAR"]
    assert found.countersink is not None


@pytest.mark.parametrize("text", ["M9 SHCS", "#12 SHCS", "M2 ISO 10642", "M150 SHCS"])
def test_a_size_the_tables_lack_is_asked(text: str) -> None:
    found = fastener_hole(text)
    assert found is not None
    assert [code for code, _, _ in found.questions] == ["FASTENER-SIZE-UNKNOWN"]


def test_unknown() -> None:
    with pytest.raises(UnknownFastener, match=r"ISO 273 lists no clearance hole for M9.*It lists M1"):
        clearance("M9")
    with pytest.raises(UnknownFastener, match="no fit"):
        clearance("M8", "tight")  # type: ignore[arg-type]
    with pytest.raises(KeyError):
        counterbore("M8", "flat")
    with pytest.raises(UnknownFastener, match="No low head"):
        counterbore("M30", "low socket cap")
    with pytest.raises(UnknownFastener, match="takes no countersink"):
        countersink("M8", "socket cap")
