"""Notes that change no size are kept as written: frames (ASME Y14.5, ISO 1101: the symbols), surface texture, other notes.

What drawings write in each place is common practice, no source.
"""

from __future__ import annotations

import time

import pytest

from holesched.callouts.model import Kind
from holesched.callouts.parse import read_callout
from holesched.notes import Severity
from holesched.units import LengthUnit

NOTES = (
    "⌖ Ø0.1 Ⓜ A B C", "⌖|Ø0.1(M)|A|B|C", "|⌖|Ø0.05|A|B Ⓜ|", "[⌖|Ø0.1|A]", "⌖ Ø0.1 Ⓟ 12 A", "⌖\nØ0.1\nA\nB",
    "⌖|Ø0.08|A|B|C|\n|Ø0.02|A|", "POS Ø.010 M A B C", "POS Ø0.1 (M) A B C", "TRUE POSITION .014 A|B|C",
    "T.P. .014 MMC A-B-C",
    "POSITION Ø0.1 A", "⟂ 0.05 A", "⏊ 0.05 A", "PERP .002 A", "PERP TO A WITHIN .002",
    "SQUARE TO A WITHIN 0.01", "CYL 0.01",
    "◎ Ø0.02 A", "CONC 0.02 TO A", "RUNOUT .002 TIR", "Ⓔ", "(E)", "⌰ 0.1 A", "⌭ 0.01", "○ 0.005", "⌯ 0.1 A", "⌰ ⌭ ○ ⌯",
    "// 0.02 A", "Positionstoleranz 0,1 A", "Rechtwinkligkeit 0.05 A", "位置度 0.1 A", "Ra 1.6", "Ra1,6",
    "Ra 1.6 MAX", "RA 1.6",
    "Ra ≤ 1.6 µm", "Ra 32 µin", "Ra 0.8-1.6", "Rz 6.3", "√1.6", "√Ra 1.6", "∇∇", "▽▽▽ 6.3S", "32 RMS",
    "125 RMS", "63√", "1.6 Ra",
    "32 µin", "NOTE 2", "SEE NOTE 4", "(NOTE 3)", "FLAG 5", "SEE NOTES 2 & 5", "siehe Anm. 3", "VOIR NOTE 1", "注記 3", "①",
    "Rechtwinkligkeit 0,02 zu A", "posizione 0.1 rispetto ad A", "SQ WITHIN .001", "25S", "63 FINISH", "rugosità Ra 3,2",
)  # fmt: skip


@pytest.mark.parametrize("note", NOTES)
@pytest.mark.parametrize(
    ("hole", "unit"), [("Ø8 H7 ↧20", "mm"), ("Ø8.5 THRU", "mm"), ("M8 ↧16", "mm"), ("Ø.257 THRU", "in")]
)
def test_a_note_is_kept_and_changes_nothing(hole: str, unit: LengthUnit, note: str) -> None:
    """The hole is the one without the note, nothing is asked, and the note stands among its remarks."""
    plain = read_callout(hole, unit).callout
    for text in (f"{hole} {note}", f"{hole}\n{note}", f"{hole}, {note}"):
        reading = read_callout(text, unit)
        assert plain is not None, text
        assert reading.callout is not None, text
        assert not [note.code for note in reading.notes if note.severity in (Severity.ASK, Severity.REFUSED)], text
        assert (reading.callout.elements, reading.callout.count) == (plain.elements, plain.count), text
        assert reading.callout.remarks, text


@pytest.mark.parametrize(
    "note", ["⌖ Ø0.1 Ⓜ A B C", "POS Ø0.1 A", "Ra 1.6", "Ra 1.6 MAX", "√1.6", "32 RMS", "NOTE 2,", "Rz 6.3 µm"]
)
def test_a_note_swallows_no_step_behind_it(note: str) -> None:
    """A step behind the note is read as without it."""
    reading = read_callout(f"Ø6.6 THRU {note} ⌴ Ø11 ↧6.8", "mm")
    assert reading.callout is not None
    assert reading.callout.elements == (read_callout("Ø6.6 THRU ⌴ Ø11 ↧6.8", "mm").callout or reading.callout).elements
    assert len(reading.callout.elements) == 2


@pytest.mark.parametrize(
    "text",
    [
        "M6 THRU ⌖ Ø8 ↧5",
        "M6 ○8",
        "M8 20√",
        "M8 NOTE 2X M6",
        "M6 POS 5",
        "M6 ↧12 POSITION 3",
        "M6 FLAG",
        "Ø8 THRU NOTES",
        "M8 PROF. 63√",
    ],
)
def test_what_may_be_a_size_is_never_taken_for_a_note(text: str) -> None:
    """It is asked, or refused."""
    assert [note.code for note in read_callout(text, "mm").notes if note.severity in (Severity.ASK, Severity.REFUSED)]


@pytest.mark.parametrize(
    ("text", "thread"),
    [("⌖ Ø0.1 A M 6 ↧12", "M 6"), ("⌖ 0.1 A G 1/4 THRU", "G 1/4"), ("NOTE 2 M6 ↧12", "M6")],
)
def test_a_note_before_the_hole_swallows_nothing_of_it(text: str, thread: str) -> None:
    """Neither the M of a thread as a modifier nor its size as a number of the note."""
    callout = read_callout(text, "mm").callout
    assert callout is not None
    assert [element.thread_text for element in callout.elements] == [thread]
    assert callout.count is None


@pytest.mark.parametrize("note", ["32 RMS", "63√", "NOTE 2", "NOTES 2 & 3", "PERP .002 A"])
@pytest.mark.parametrize("hole", ["Ø8 H7 REAM", "Ø8 H7 ↧15 REAM", "Ø8 H7 GERIEBEN"])
def test_a_note_behind_a_process_is_not_its_size(hole: str, note: str) -> None:
    """The process belongs to the size before it, whatever figure stands behind."""
    callout, plain = read_callout(f"{hole} {note}", "mm").callout, read_callout(hole, "mm").callout
    assert callout is not None
    assert plain is not None
    assert callout.elements == plain.elements


def test_a_list_of_notes_that_runs_into_a_fraction_is_refused() -> None:
    """NOTES 2 & 3 1/4-28: note 3, or a thread of 3 1/4?"""
    assert [note.severity for note in read_callout("NOTES 2 & 3 1/4-28 UNJF-3B ↧.50", "in").notes] == [Severity.REFUSED]


def test_a_note_may_end_where_a_quantity_begins() -> None:
    callout = read_callout("M12 ↧24 SEE NOTE 4 2X", "mm").callout
    assert callout is not None
    assert (callout.count, callout.remarks) == (2, ("SEE NOTE 4",))


def test_a_grade_of_roughness_apart_from_its_size_may_be_a_zone() -> None:
    """N7 is both, so it is asked; on its size it is the zone."""
    assert [note.code for note in read_callout("Ø8 THRU N7", "mm").notes] == ["CALLOUT-ZONE-DOUBTFUL"]
    assert not read_callout("Ø8 N7 THRU", "mm").notes


@pytest.mark.parametrize(
    "text",
    ["M6 ⌖" + " |" * 490, "M6 ⌖ 0.1" + " TO" * 320, "M6 POS" + " TOL" * 240 + "x", "M6 ⌖ 0.1" + "|Ø.1|A " * 140 + "!"],
)
def test_a_long_row_of_signs_is_read_at_once(text: str) -> None:
    """No pattern looks for its end in ever more ways: half a second is many times what it takes."""
    start = time.process_time()
    read_callout(text, "mm")
    assert time.process_time() - start < 0.5


def test_a_limit_of_texture_is_not_one_of_the_depth() -> None:
    """MAX behind Ra 1.6 says nothing of the depth before it."""
    callout = read_callout("Ø8 ↧20 Ra 1.6 MAX", "mm").callout
    assert callout is not None
    assert callout.elements[0].depth is not None
    assert not callout.elements[0].depth.most


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        (".2500 +.0005/-.0000 REAM .75 DEEP", "in", 6.35), (".531 DRILL THRU", "in", 13.4874),
        ("10.2 DRILL 25 DEEP", "mm", 10.2),
        ("8 H7", "mm", 8.0), (".3125 REAM", "in", 7.9375), ("DRILL .257", "in", 6.5278), ("1/2 DRILL THRU", "in", 12.7),
        ("8 +0.015/0 REAM 20 DEEP", "mm", 8.0), ("8 ±0.01 THRU", "mm", 8.0),
    ],
)  # fmt: skip
def test_a_size_that_usage_leaves_clear_is_not_asked(text: str, unit: LengthUnit, mm: float) -> None:
    """A process, a zone or a deviation beside a number makes it a diameter."""
    reading = read_callout(text, unit)
    assert reading.callout is not None
    assert reading.callout.elements[0].diameter is not None
    assert reading.callout.elements[0].diameter.mm == pytest.approx(mm)
    assert not [note.code for note in reading.notes if note.severity in (Severity.ASK, Severity.REFUSED)]


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_bare_number_is_asked(unit: LengthUnit) -> None:
    """5 alone may be anything."""
    assert [note.code for note in read_callout("5", unit).notes if note.severity is Severity.ASK]


@pytest.mark.parametrize("words", ["gesenkt", "flach gesenkt", "mit Senkung", "mit Flachsenkung"])
@pytest.mark.parametrize(
    ("screw", "kind"), [("M8 DIN 912", "counterbore"), ("M8 ISO 4762", "counterbore"), ("M8 ISO 10642", "countersink")]
)
@pytest.mark.parametrize("hole", ["Ø9 für", "Ø9 durch, für", "Durchgangsloch"])
def test_a_senkung_is_by_the_head_of_its_screw(hole: str, screw: str, kind: str, words: str) -> None:
    """Flat for a cylinder head, conical for a flat one; FLACH with a flat head is not made conical."""
    callout = read_callout(f"{hole} {screw} {words}", "mm").callout
    assert callout is not None
    kinds = [element.kind.value for element in callout.elements]
    assert kinds == ["drill", "counterbore" if "lach" in words else kind]
    assert screw.split(" ")[0] in (callout.elements[1].fastener or "")


@pytest.mark.parametrize(
    "text", ["Ø8 THRU, .5x45°", "M8 THRU .5x45°", "Ø8 H7 ↧20 .5 x 45°", "10.2 DRILL THRU, .5x45°", "Ø8 THRU CHAM .5"]
)
def test_a_chamfer_makes_no_inches_of_millimetres(text: str) -> None:
    """0.5 mm on a hole in mm; the hole keeps its size."""
    callout = read_callout(text, "mm").callout
    assert callout is not None
    assert callout.elements[1].chamfer_mm == 0.5
    assert callout.elements[0].diameter is None or callout.elements[0].diameter.mm < 20


def test_a_chamfer_beside_inches_is_in_inches() -> None:
    """Ø.257 has no zero before its point either."""
    callout = read_callout("Ø.257 THRU .03x45°", "mm").callout
    assert callout is not None
    assert callout.elements[1].chamfer_mm == pytest.approx(0.762)


@pytest.mark.parametrize(
    "text",
    [
        "M8 @ 30°",
        "M8 angled 15°",
        "Ø8 ↧20 AT 30°",
        "Ø8 ↧20 @ 120°",
        "Ø8 THRU unter 30°",
        "M8 ↧16 incliné à 15°",
        "M6 斜め穴 30°",
    ],
)
def test_an_angled_hole_is_refused_with_what_to_do(text: str) -> None:
    """Nothing is planned square that is drawn at an angle."""
    (note,) = read_callout(text, "mm").notes
    assert (note.code, note.severity) == ("HOLE-ANGLED", Severity.REFUSED)
    assert "not planned" in note.message
    assert "set-up square to it" in note.suggestion


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("M8 2D", "mm", 16), ("M8 x 2D", "mm", 16), ("M8 ↧2D", "mm", 16), ("M8-6H 2D DEEP", "mm", 16),
        ("M8x1.25x1.5D", "mm", 12),
        ("M8 2xD", "mm", 16), ("1/4-20 UNC-2B 2D", "in", 12.7), ("1/4-20 UNC-2B x 1.5D", "in", 9.525),
        ("10-24 UNC-2B x 2 DIA DEEP", "in", 9.652),
    ],
)  # fmt: skip
def test_diameters_behind_a_thread_are_a_length_and_asked(text: str, unit: LengthUnit, mm: float) -> None:
    """2D is twice the thread's nominal diameter, never a hole of 2 mm or 2 in; whose length it is, is asked."""
    reading = read_callout(text, unit)
    assert reading.callout is not None
    (element,) = reading.callout.elements
    assert element.kind is Kind.TAP
    assert element.depth is not None
    assert element.depth.mm == pytest.approx(mm)
    assert [note.code for note in reading.notes] == ["CALLOUT-DEPTH-DOUBTFUL"]


@pytest.mark.parametrize("text", ["M8 x 1.5D STI ↧20", "M8 1.5D HELICAL INSERT ↧20", "M8 x 1.5 D Gewindeeinsatz ↧20"])
def test_diameters_before_the_words_of_an_insert_are_its_length(text: str) -> None:
    """1.5D is the insert's, the depth written is another."""
    callout = read_callout(text, "mm").callout
    assert callout is not None
    (element,) = callout.elements
    assert element.insert_diameters == 1.5
    assert element.depth is not None
    assert element.depth.mm == 20


@pytest.mark.parametrize("text", ["2D M8", "3D"])
def test_diameters_before_everything_are_refused(text: str) -> None:
    """They may be a diameter as well."""
    assert read_callout(text, "mm").callout is None


def test_an_angle_beside_a_bolt_circle_is_asked() -> None:
    """The holes are planned, where the first one stands is open."""
    reading = read_callout("4X M6 ↧12 EQ SP ON Ø60 BC, 45°", "mm")
    assert reading.callout is not None
    assert [note.code for note in reading.notes] == ["PATTERN-ANGLE"]


def test_a_senkung_by_its_leg_is_a_chamfer() -> None:
    """0,5x45° leaves nothing open: it is conical."""
    callout = read_callout("Ø8 H7 ↧12, Senkung 0,5x45°", "mm").callout
    assert callout is not None
    assert [(each.kind.value, each.chamfer_mm) for each in callout.elements] == [("drill", None), ("countersink", 0.5)]
