"""Pipe, trapezoidal, Acme, Whitworth, BA and insert designations as drawings write them: read, supplied, asked, refused."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from holesched.standards import threads
from holesched.standards.gauges import gauges_for
from holesched.standards.threads import Answer
from holesched.standards.threads.pipe_depths import STRAIGHT, TAPER_REAMED, pipe_depths, pipe_drill, small_end_minor_mm


def read(text: str) -> tuple[Answer, str, str]:
    """The answer, the key of the standard that gave it, and what is left of the text."""
    found = threads.recognise(text, 0, "mm")
    assert found is not None, text
    return threads.complete(found[0]), found[0].standard, text[found[1] :]


@pytest.mark.parametrize(
    ("text", "designation", "rest"),
    [
        ("1/4-18 NPT", "1/4-18 NPT", ""),
        ("1/4 NPT THRU", "1/4-18 NPT", " THRU"),
        ("NPT 1/4", "1/4-18 NPT", ""),
        ("NPT1/2-14", "1/2-14 NPT", ""),
        ("1/4 npt", "1/4-18 NPT", ""),
        ("1/4 N.P.T. THRU", "1/4-18 NPT", " THRU"),
        ('1/4" NPT', "1/4-18 NPT", ""),
        ("1/4 FNPT", "1/4-18 NPT", ""),
        ("1-11 1/2 NPT", "1-11.5 NPT", ""),
        ("1 1/4-11.5 NPT", "1 1/4-11.5 NPT", ""),
        ("1-1/4 NPT", "1 1/4-11.5 NPT", ""),
        ("3/4-14NPT-LH", "3/4-14 NPT-LH", ""),
        ("1/4 NPT-2 PLCS", "1/4-18 NPT", "-2 PLCS"),
        ("1/8-27 NPTF-1 ↧.40", "1/8-27 NPTF-1", " ↧.40"),
        ("1/8-27 NPTF-2 LH", "1/8-27 NPTF-2-LH", ""),
        ("1/8-27 NPSM", "1/8-27 NPSM", ""),
        ("NPSC 1/2", "1/2-14 NPSC", ""),
        ("G 1/4", "G 1/4", ""),
        ("G1/4", "G 1/4", ""),
        ('G 1/4"', "G 1/4", ""),
        ("G1/4x15", "G 1/4", "x15"),
        ("G 1 1/4 LH", "G 1 1/4 LH", ""),
        ("G1", "G 1", ""),
        ("G1/4 B/S", "G 1/4", " B/S"),
        ("Rc 1/4", "Rc 1/4", ""),
        ("RC1/4", "Rc 1/4", ""),
        ("Rp 3/8", "Rp 3/8", ""),
        ("Rc1/4深15", "Rc 1/4", "深15"),
        ("Tr20x4-7H", "Tr20x4-7H", ""),
        ("Tr 40 x 7 - 8H", "Tr40x7-8H", ""),
        ("TR20X4 7H", "Tr20x4-7H", ""),
        ("Tr40x14(P7)-7H", "Tr40x14(P7)-7H", ""),
        ("Tr40x14P7-7H", "Tr40x14(P7)-7H", ""),
        ("Tr40x7LH-7H", "Tr40x7-7H-LH", ""),
        ("Tr40x7-7H-LH", "Tr40x7-7H-LH", ""),
        ("Tr8x1,5-7H", "Tr8x1.5-7H", ""),
        ("3/4-6 ACME-2G", "3/4-6 ACME-2G", ""),
        (".750-6 ACME-2G-LH", "3/4-6 ACME-2G-LH", ""),
        ("0.750-6-2G-ACME", "3/4-6 ACME-2G", ""),
        ("1-5 ACME-3C", "1-5 ACME-3C", ""),
        ("3/4-6 ACME-2G 2 START", "3/4-6 ACME-2G 2 START", ""),
        ("3/4-6 ACME-2G (THREE STARTS) THRU", "3/4-6 ACME-2G 3 START", " THRU"),
        ("3/4-6 ACME-2GLH", "3/4-6 ACME-2G-LH", ""),
        ("1/8-27 DRYSEAL NPTF-1", "1/8-27 NPTF-1", ""),
        ("Tr40x14(P7)-7H (2 STARTS)", "Tr40x14(P7)-7H", ""),
        ("Tr40x7-7HLH", "Tr40x7-7H-LH", ""),
        ("1/4-20 BSW MEDIUM", "1/4-20 BSW medium", ""),
        ("1/4-26 BSF NORMAL LH", "1/4-26 BSF normal LH", ""),
        ("2BA", "2BA", ""),
        ("2 BA THRU", "2BA", " THRU"),
        ("BA 2", "2BA", ""),
        ("No. 2 BA", "2BA", ""),
        ("0BA LH", "0BA LH", ""),
        ("M8x1.25-6H STI", "M8x1.25-6H STI", ""),
        ("M8x1.25-6H, HELICAL COIL INSERT", "M8x1.25-6H STI", ""),
        ("EG M8x1.25-6H mod", "M8x1.25-6H STI", ""),
        ("1/4-20 UNC-2B STI ↧.55", "1/4-20 UNC-2B STI", " ↧.55"),
        ("#10-32 UNF-3B STI", "#10-32 UNF-3B STI", ""),
    ],
)
def test_complete_designations(text: str, designation: str, rest: str) -> None:
    """Nothing is supplied and nothing is asked."""
    answer, _, left = read(text)
    assert answer.spec is not None, answer.problem
    assert answer.spec.designation == designation
    assert left == rest
    assert answer.supplied == ()
    assert answer.questions == ()


@pytest.mark.parametrize(
    ("text", "designation", "codes"),
    [
        ("1/8 NPTF", "1/8-27 NPTF-1", ["THREAD-CLASS-ASSUMED"]),
        ("1/8 PTF-SAE SHORT", "1/8-27 PTF-SAE SHORT", ["THREAD-LIMITS-ASSUMED"]),
        ("PT 1/4", "Rc 1/4", ["THREAD-SERIES-ASSUMED"]),
        ("1/4 PT", "Rc 1/4", ["THREAD-SERIES-ASSUMED"]),
        ("PS 3/8", "Rp 3/8", ["THREAD-SERIES-ASSUMED"]),
        ("PF 1/2", "G 1/2", ["THREAD-SERIES-ASSUMED"]),
        ("1/4 BSPP", "G 1/4", ["THREAD-SERIES-ASSUMED"]),
        ("1/4-19 BSPT", "Rc 1/4", ["THREAD-SERIES-ASSUMED"]),
        ("1/4 BSP TAPER", "Rc 1/4", ["THREAD-SERIES-ASSUMED"]),
        ("Tr40x7 LH", "Tr40x7-7H-LH", ["THREAD-CLASS-ASSUMED"]),
        ("3/4 ACME", "3/4-6 ACME-2G", ["THREAD-PITCH-ASSUMED", "THREAD-CLASS-ASSUMED"]),
        ("ACME 1 1/2", "1 1/2-4 ACME-2G", ["THREAD-PITCH-ASSUMED", "THREAD-CLASS-ASSUMED"]),
        ("1/4 BSW", "1/4-20 BSW medium", ["THREAD-CLASS-ASSUMED"]),
        ("BSW 1/4-2 PLCS", "1/4-20 BSW medium", ["THREAD-CLASS-ASSUMED"]),
        ("1/4 in. - 20 B.S.W.", "1/4-20 BSW medium", ["THREAD-CLASS-ASSUMED"]),
        ('1/4" WHIT', "1/4-20 BSW medium", ["THREAD-SERIES-ASSUMED", "THREAD-CLASS-ASSUMED"]),
        ("M8x1.25 STI", "M8x1.25-5H STI", ["THREAD-CLASS-ASSUMED"]),
        ("STI M8", "M8x1.25-5H STI", ["THREAD-PITCH-ASSUMED", "THREAD-CLASS-ASSUMED"]),
        ("M6x1 EG", "M6x1-6H STI", ["THREAD-CLASS-ASSUMED"]),
        ("M8 HELICAL INSERT 1.5D", "M8x1.25-5H STI", ["THREAD-PITCH-ASSUMED", "THREAD-CLASS-ASSUMED"]),
        ("M10x1-LH STI", "M10x1-5H-LH STI", ["THREAD-CLASS-ASSUMED"]),
        ("10-32 WIRE INSERT", "#10-32 UNF-2B STI", ["THREAD-SERIES-ASSUMED", "THREAD-CLASS-ASSUMED"]),
        ("1/4-20 STI-2B", "1/4-20 UNC-2B STI", ["THREAD-SERIES-ASSUMED"]),
    ],
)
def test_what_is_supplied(text: str, designation: str, codes: list[str]) -> None:
    answer, _, _ = read(text)
    assert answer.spec is not None, answer.problem
    assert answer.spec.designation == designation
    assert [supplied.code for supplied in answer.supplied] == codes
    assert answer.questions == ()
    assert all(supplied.cite.standard for supplied in answer.supplied)


@pytest.mark.parametrize(
    ("text", "designation", "code", "suggestion"),
    [
        ("1/4 BSP", "G 1/4", "THREAD-SERIES-UNCLEAR", "G 1/4 or Rc 1/4?"),
        ("BSP 1/4", "G 1/4", "THREAD-SERIES-UNCLEAR", "G 1/4 or Rc 1/4?"),
        ("1/4 GAS", "G 1/4", "THREAD-SERIES-UNCLEAR", "G 1/4 or Rc 1/4?"),
        ("W 1/4", "1/4-20 BSW medium", "THREAD-SERIES-UNCLEAR", "1/4-20 BSW?"),
        ("W3/8-16", "3/8-16 BSW medium", "THREAD-SERIES-UNCLEAR", "3/8-16 BSW?"),
        ("Tr25x5-7H", "Tr25x5-7H", "THREAD-PITCH-SPECIAL", "Tr24x5 or Tr26x5?"),
        ("3/4-8 ACME-2G", "3/4-8 ACME-2G", "THREAD-PITCH-SPECIAL", "3/4-6 ACME?"),
        ("2.875-0.4P-0.8L-ACME-2G", "2 7/8-2.5 ACME-2G 2 START", "THREAD-PITCH-SPECIAL", "2 3/4-3 ACME or 3-2 ACME?"),
        ("M8x1.25-7H STI", "M8x1.25-7H STI", "THREAD-CLASS-UNUSUAL", "4H5H, 5H or 6H?"),
        (
            "M8x1.25x12-5H STI",
            "M8x1.25-5H STI",
            "THREAD-LENGTH-UNCLEAR",
            "Insert length 12, full thread 12 or drilling depth 12?",
        ),
    ],
)
def test_what_is_asked(text: str, designation: str, code: str, suggestion: str) -> None:
    """Planned meanwhile, to be confirmed."""
    answer, _, left = read(text)
    assert left == ""
    assert answer.spec is not None, answer.problem
    assert answer.spec.designation == designation
    assert [(question[0], question[2]) for question in answer.questions] == [(code, suggestion)]


@pytest.mark.parametrize(
    ("text", "key", "suggestion"),
    [
        ("4-1/4 NPT", "npt", "4X 1/4 NPT?"),
        ("1/4-20 NPT", "npt", "1/4-18 NPT?"),
        ("5/16 NPT", "npt", "1/4 NPT or 3/8 NPT?"),
        ("1/4 MNPT", "npt", "1/4 NPT?"),
        ("1/4 ANPTF", "npt", "1/4 ANPT or 1/4 NPTF?"),
        ("5/16 NPSM", "nps", "1/4 NPSM or 3/8 NPSM?"),
        ("1/4-20 NPSM", "nps", "1/4-18 NPSM?"),
        ("G1/2 A 15 DEEP", "iso-228", "G 1/2?"),
        ("G 1/2B", "iso-228", "G 1/2?"),
        ("G 1/4-14", "iso-228", "G 1/4?"),
        ("G 3/16", "iso-228", "G 1/8 or G 1/4?"),
        ("R 1/4 THRU", "iso-7", "Rc 1/4 or Rp 1/4?"),
        ("Rc 5/8", "iso-7", "Rc 1/2 or Rc 3/4?"),
        ("1/4-14 BSPT", "iso-7", "Rc 1/4?"),
        ("1/4 PIPE TAP", "not-held", "1/4 NPT, 1/4 NPTF, G 1/4 or Rc 1/4?"),
        ("1/4 PIPE", "not-held", "1/4 NPT, 1/4 NPTF, G 1/4 or Rc 1/4?"),
        ("1/2 NPS", "not-held", "1/2 NPSM, 1/2 NPSC or 1/2 NPT?"),
        ("8 NPSL", "nps", "5 NPSL or 6 NPSL?"),
        ("1/4 NPSH", "nps", "1/2 NPSH or 3/4 NPSH?"),
        ("2 NPSF", "nps", "3/4 NPSF or 1 NPSF?"),
        ("1/8 PTF-SAE", "not-held", "1/8 PTF-SAE SHORT, 1/8 NPTF or limits on the drawing?"),
        ("1/2 NPTR", "not-held", "1/2 NPT, 1/2 NPTF or limits on the drawing?"),
        ("3/4-8 STUB ACME", "stub-acme", "3/4-6 STUB ACME?"),
        ("11/32 STUB ACME", "stub-acme", "5/16-14 STUB ACME or 3/8-12 STUB ACME?"),
        ("Pg 11", "not-held", "Limits on the drawing or a metric conduit thread, for example M20x1.5?"),
        ("Tr40x14", "trapezoidal", "Tr40x7, Tr40x3, Tr40x10 or Tr40x14(P7)?"),
        ("Tr40x15(P7)", "trapezoidal", "Tr40x14(P7)?"),
        ("Tr40x14(P7) 3 STARTS", "trapezoidal", "Tr40x14(P7)?"),
        ("Tr40x14 (2 STARTS)", "trapezoidal", "Tr40x7, Tr40x3, Tr40x10 or Tr40x14(P7)?"),
        ("Tr40x7-7e", "trapezoidal", "7H, 8H or 9H?"),
        ("Tr40x7-6H", "trapezoidal", "7H, 8H or 9H?"),
        ("Tr5x1", "trapezoidal", "Tr8x1.5 and larger?"),
        ("11/32 ACME", "acme", "5/16-14 ACME or 3/8-12 ACME?"),
        ("3/4-20 ACME", "acme", "3/4-6 ACME?"),
        ("3/4-6 ACME-5G", "acme", "2G, 3G, 4G or limits on the drawing?"),
        ("2.875-.4P-.9L-ACME", "acme", "A lead of as many pitches as there are starts?"),
        ("2.875-.4P-.8L-ACME-3C (THREE START)", "acme", "A lead of as many pitches as there are starts?"),
        ("1/4-22 BSW", "whitworth", "1/4-20 BSW or 1/4-26 BSF?"),
        ("11/32 BSW", "whitworth", "5/16-18 BSW or 3/8-16 BSW?"),
        ("1/4 BSW FREE", "whitworth", "Medium or normal?"),
        ("17BA", "ba", "0BA to 16BA?"),
        ("MJ6 STI", "wire-insert", "M in place of MJ?"),
        ("M8x1.1 STI", "wire-insert", "M8x1.25 (coarse), M8x1 or M8x0.75 (fine)?"),
    ],
)
def test_what_is_refused(text: str, key: str, suggestion: str) -> None:
    """No thread is planned; the answer says what is wrong and what was probably meant."""
    answer, by, _ = read(text)
    assert by == key
    assert answer.spec is None
    assert answer.problem.endswith((".", "?", "M8"))
    assert answer.suggestion == suggestion


@pytest.mark.parametrize(
    "text",
    ["R5", "R 3/8.5", "G 1.5", "Rc 1.6", "HRC 60", "4 BAR", "1.250 BSC", "NPTX", "TRUE 8x2", "EG 8", "PG 2", "STI", "6G"],
)
def test_what_is_no_thread(text: str) -> None:
    found = threads.recognise(text, 0, "mm")
    assert found is None, found


def test_a_threaded_insert_is_no_wire_insert() -> None:
    _, key, left = read("M8x1.25 THREADED INSERT")
    assert (key, left) == ("iso-metric", " THREADED INSERT")


def test_unlisted_trapezoidal_thread_is_computed() -> None:
    """Tr25x5: TD2 = 1.7 x 90 x 5^0.4 x 31.75^0.1 = 412 um, nearest R40 number 422 (table value for Tr24x5: 400)."""
    answer, _, _ = read("Tr25x5.5-7H")
    assert answer.spec is not None
    shape = threads.geometry(answer.spec)
    assert shape.pitch.max_mm is not None
    assert shape.minor.max_mm is not None
    assert 0.4 < shape.pitch.max_mm - shape.pitch.min_mm < 0.45
    assert 0.45 < shape.minor.max_mm - shape.minor.min_mm < 0.5


def test_more_starts_more_tolerance() -> None:
    single, double = (read(text)[0].spec for text in ("Tr40x7-7H", "Tr40x14(P7)-7H"))
    assert single is not None
    assert double is not None
    assert (double.starts, double.pitch_mm) == (2, 7)
    one, two = threads.geometry(single).pitch, threads.geometry(double).pitch
    assert two.max_mm is not None
    assert one.max_mm is not None
    assert two.max_mm - two.min_mm == pytest.approx(1.12 * (one.max_mm - one.min_mm))
    assert any("2 starts" in note for note in threads.geometry(double).notes)


@pytest.mark.parametrize("text", ["1/4-18 NPT", "1/8-27 NPTF-1", "Rc 1/4"])
def test_taper_threads_say_stop_by_gauge(text: str) -> None:
    spec = read(text)[0].spec
    assert spec is not None
    shape = threads.geometry(spec)
    assert shape.taper == 1 / 16
    assert any("Tapped, the depth is the size: stop by gauge, not by dial" in note for note in shape.notes)
    assert any("Milled, the radius of the path is" in note for note in shape.notes)
    assert any("by hand, give or take" in note for note in shape.notes)
    depths = pipe_depths(spec)
    assert depths is not None
    assert depths.gauge_plane_mm < depths.full_thread_mm < depths.drill_least_mm
    straight, reamed = pipe_drill(spec, STRAIGHT), pipe_drill(spec, TAPER_REAMED)
    assert straight is not None
    assert reamed is not None
    assert reamed.drill.mm <= straight.drill.mm < shape.basic_minor_mm


def test_dryseal_drill_is_marked_as_that_of_npt() -> None:
    spec = read("1/4 NPTF")[0].spec
    assert spec is not None
    drill = pipe_drill(spec)
    assert drill is not None
    assert "dryseal sizes are to be confirmed" in str(drill.cite)
    depths = pipe_depths(spec)
    assert depths is not None
    assert "L3" in depths.gauge


def test_parallel_pipe_threads_have_no_gauge_plane() -> None:
    for text in ("G 1/4", "1/8-27 NPSM", "M8"):
        spec = read(text)[0].spec
        assert spec is not None
        assert pipe_depths(spec) is None
        assert pipe_drill(spec, TAPER_REAMED) is None
        with pytest.raises(KeyError):
            small_end_minor_mm(spec)


def test_every_module_of_the_folder_is_registered() -> None:
    """A module that exposes STANDARD is in the register, once, under a key of its own."""
    folder = Path(threads.__file__).parent
    with_standard = {
        path.stem
        for path in folder.glob("*.py")
        for node in ast.parse(path.read_text(encoding="utf-8")).body
        if isinstance(node, ast.Assign)
        and any(isinstance(name, ast.Name) and name.id == "STANDARD" for name in node.targets)
    }
    registered = {type(standard).__module__.rpartition(".")[2] for standard in threads.STANDARDS}
    assert registered == with_standard
    keys = [standard.key for standard in threads.STANDARDS]
    assert len(set(keys)) == len(keys)
    assert keys.index("wire-insert") < min(keys.index("iso-metric"), keys.index("unified"))


ONE_OF_EACH = [
    *("M300x8-6H", "M8x1.25-4H5H", "M8x1.25-7H-L", "M8x1.25-5H-S", "M8x1.25-6H-N", "MJ8x1.25-4H5H", "M16xPh4P2-6H"),
    *("#10-32 UNF-2B", "6-4 UN-2B", "6-16 UN-3B", "1/4-28 UNJF-3B", "1/4-22 UNS-2B", "3/8-16 UNC-1B"),
    *("1/4-18 NPT", "1/4-18 NPTF-1", "1/4-18 PTF-SAE SHORT", "1/4-18 NPSM", "1/4-18 NPSC", "G 1/4", "Rc 1/4", "Rp 1/4"),
    *("Tr20x4-7H", "Tr40x14(P7)-7H", "1-5 ACME-2G", "1-5 ACME-3C", "1/4-20 BSW medium", "1/4-26 BSF normal", "2BA"),
    *("1/2-14 ANPT", "1-5 STUB ACME-2G", "1/8-27 NPSF", "1/8-27 NPSI"),
    *("M8x1.25-5H STI", "M8x1.25-6H STI", "1/4-20 UNC-2B STI", "#10-32 UNF-3B STI"),
]


@pytest.mark.parametrize("text", ONE_OF_EACH)
def test_right_and_left_hand_of_every_family(text: str) -> None:
    """Each kind of thread, plain and left-hand: its own designation, the same limits, and gauges that say so."""
    shapes = []
    for written in (text, f"{text} LH"):
        found = threads.recognise(written, 0, "mm")
        assert found is not None
        assert found[1] == len(written), written
        spec = threads.complete(found[0]).spec
        assert spec is not None, written
        assert spec.left_hand == written.endswith("LH")
        shapes.append(threads.geometry(spec))
    plain, left = shapes
    assert plain.spec.designation == text
    assert "LH" in left.spec.designation
    assert (plain.minor, plain.pitch, plain.major) == (left.minor, left.pitch, left.major)
    assert all("left-hand gauge" in gauge.how for gauge in gauges_for(left) if "thread" in gauge.kind)
    assert not any("left-hand" in gauge.how for gauge in gauges_for(plain))


def test_one_of_each_covers_the_register() -> None:
    families = set()
    for text in ONE_OF_EACH:
        found = threads.recognise(text, 0, "mm")
        assert found is not None
        families.add(found[0].standard)
    assert families == {standard.key for standard in threads.STANDARDS} - {"not-held"}


def test_limits_from_memory_are_to_be_initialled() -> None:
    """Locknut, hose and short dryseal threads are not cut unaware: the note stands with the thread; NPSC has none."""
    code = ["THREAD-LIMITS-ASSUMED"]
    for text, designation, codes in (
        ("1/2 NPSL LH", "1/2-14 NPSL-LH", code),
        ("1-11.5 NPSH", "1-11.5 NPSH", code),
        ("NPSH 2 1/2", "2 1/2-8 NPSH", code),
        ("1/8-27 NPSF", "1/8-27 NPSF", code),
        ("1 NPSI LH", "1-11.5 NPSI-LH", code),
        ("1/2 ANPT", "1/2-14 ANPT", code),
        ("3/4 STUB ACME", "3/4-6 STUB ACME-2G", code),
        ("1/2-10 STUB ACME-2G-LH", "1/2-10 STUB ACME-2G-LH", code),
        ("1/4 DRYSEAL PTF SAE-SHORT LH", "1/4-18 PTF-SAE SHORT-LH", code),
        ("1/2 NPSC", "1/2-14 NPSC", []),
    ):
        answer, _, left = read(text)
        assert left == ""
        assert answer.spec is not None, answer.problem
        assert answer.spec.designation == designation
        assert read(designation)[0].spec == answer.spec
        assert [supplied.code for supplied in answer.supplied] == codes
        standing = "calculated" if "PTF" in text else "from memory"
        assert all(supplied.cite.standing.value == standing for supplied in answer.supplied)
