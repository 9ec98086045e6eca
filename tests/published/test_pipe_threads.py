"""Pipe threads against every printed value at hand, in the unit and at the precision of the print.

Sources, keyed beside this file: pipe_threads.csv (ASME B1.20.1 in public copies, ISO 228-1 in open CAD libraries, ISO 7-1 in
Mechanical Engineers' Pocket Book 3rd ed. 4.1.38), npt_handbook.csv, npt_make_up_handbook.csv and nps_handbook.csv
(Machinery's Handbook), pipe_threads_recalled.csv (from memory: hints, not proof). What disagrees is in DISAGREEMENTS.md.
"""

from __future__ import annotations

import math
import re

import pytest
from keyed_rows import keyed_rows
from written_threads import shape_of, spec_of

from holesched.standards import asme_b1_1, threads
from holesched.standards.threads import ThreadGeometry, iso_7, iso_228, nps, npt, pipe_depths
from holesched.units import MM_PER_INCH

SIXTEEN = ["1/16", "1/8", "1/4", "3/8", "1/2", "3/4", "1", "1 1/4", "1 1/2", "2", "2 1/2", "3", "3 1/2", "4", "5", "6"]


def printed(text: str, value: float) -> bool:
    """Whether a value rounds to the printed text at its own number of decimals."""
    return f"{value:.{len(text.partition('.')[2])}f}".lstrip("0") == text.lstrip("0")


def test_the_sixteen_sizes() -> None:
    assert len(SIXTEEN) == 16
    assert set(SIXTEEN) <= set(npt.rows())


def test_npt_rows_of_b1_20_1() -> None:
    """ASME B1.20.1 Table 2; K0 = E0 - 0.8 p was computed for the reference."""
    rows = [row for row in keyed_rows("pipe_threads.csv") if row["thread"] == "NPT"]
    assert len(rows) == 10
    for row in rows:
        ours = npt.rows()[row["size"]]
        for theirs, name in (("pitch_E1", "E1_in"), ("E0", "E0_in"), ("L2", "L2_in")):
            assert not row[theirs] or float(row[theirs]) == float(ours[name]), (row["size"], name)
        assert printed(row["L1"], float(ours["L1_in"]) + 1e-9), row["size"]  # 0.1615 is printed 0.162
        assert float(row["major_or_pipe_OD"]) == float(ours["outside_diameter_in"])
        assert float(row["tpi"]) == float(ours["threads_per_inch"])
        assert printed(row["minor_or_K0"], float(ours["E0_in"]) - 0.8 / float(row["tpi"])), row["size"]
        shape = shape_of(f"{row['size']} NPT")
        assert printed(f"0{row['pitch_E1']}".replace("00.", "0."), shape.basic_pitch_mm / MM_PER_INCH)
        assert shape.taper == 1 / 16


def test_every_row_of_iso_228_of_the_library() -> None:
    """PyPI bd_warehouse 0.4.0 data/iso_228_1.csv: basic sizes and tolerances of all 24 threads."""
    rows = keyed_rows("bd_warehouse_iso_228_1.csv")
    assert len(rows) == 24
    for row in rows:
        shape = shape_of(f"G {row['size'].replace('-', ' ')}")
        assert shape.spec.tpi == float(row["tpi"])
        basic = (shape.basic_major_mm, shape.basic_pitch_mm, shape.basic_minor_mm)
        assert basic == (float(row["major_diameter"]), float(row["pitch_diameter"]), float(row["minor_diameter"])), row
        assert shape.pitch.max_mm is not None
        assert shape.minor.max_mm is not None
        assert round(shape.pitch.max_mm - shape.pitch.min_mm, 3) == float(row["pitch_tolerance"]), row
        assert round(shape.minor.max_mm - shape.minor.min_mm, 3) == float(row["internal_minor_tolerance"]), row
    assert {row["size"].replace("-", " ") for row in rows} == set(iso_228.rows())


def test_npt_rows_of_the_handbook() -> None:
    """Machinery's Handbook 27th ed. Table 1a and 31st ed. Table 24a."""
    rows = keyed_rows("npt_handbook.csv")
    assert len(rows) == 12
    for row in rows:
        ours = npt.rows()[row["size"]]
        assert float(row["L1_tap_table"]) == float(ours["L1_in"]), row["size"]
        for theirs, name in (("E0", "E0_in"), ("E1", "E1_in"), ("L1", "L1_in"), ("L2", "L2_in")):
            assert not row[theirs] or float(row[theirs]) == float(ours[name]), (row["size"], name)
        drill = pipe_depths.pipe_drill(spec_of(f"{row['size']} NPT"))
        assert drill is not None
        assert not row["tap_drill"] or drill.drill.label == row["tap_drill"]


def test_npt_make_up_of_the_handbook() -> None:
    """L3 is 3 threads to size 2 and 2 above; E3 = E0 - L3/16; K0 = E0 - h: ours at the print's decimals."""
    rows = keyed_rows("npt_make_up_handbook.csv")
    assert len(rows) == 12
    for row in rows:
        spec = spec_of(f"{row['size']} NPT")
        depths, e0 = pipe_depths.pipe_depths(spec), float(npt.rows()[row["size"]]["E0_in"])
        assert depths is not None
        make_up_in = (depths.full_thread_mm - depths.gauge_plane_mm) / MM_PER_INCH
        height_in = npt.BASIC_HEIGHT * spec.pitch_mm / MM_PER_INCH
        ours = {"L3": make_up_in, "h": height_in, "K0": e0 - height_in}
        differing = {name: value for name, value in ours.items() if not printed(row[name], value)}
        assert not differing, (row, differing)
        assert abs(e0 - make_up_in / 16 - float(row["E3"])) < 1.2e-5, "five decimals, E0 and E3 both rounded"


@pytest.mark.parametrize("size", [*SIXTEEN, "8", "10", "12"])
def test_npt_formulas(size: str) -> None:
    """E0 = D - (0.05 D + 1.1) p, E1 = E0 + L1/16, L2 = (0.80 D + 6.8) p (ASME B1.20.1, from memory); every size."""
    row = npt.rows()[size]
    d, p = float(row["outside_diameter_in"]), 1 / float(row["threads_per_inch"])
    assert abs(d - (0.05 * d + 1.1) * p - float(row["E0_in"])) < 0.5e-5 + 1e-9  # 3 and 4 end in an exact half
    assert abs(float(row["E0_in"]) + float(row["L1_in"]) / 16 - float(row["E1_in"])) < 1.2e-5  # five decimals, both rounded
    assert round((0.80 * d + 6.8) * p, 4) == float(row["L2_in"])


def test_npt_limits_are_one_turn() -> None:
    """ASME B1.20.1: one turn is p along the axis and p/16 on the diameter; 1/4-18 NPT by hand."""
    shape = shape_of("1/4-18 NPT")
    assert shape.pitch.max_mm is not None
    assert shape.pitch.min_mm == pytest.approx((0.49163 - 1 / 18 / 16) * 25.4)
    assert shape.pitch.max_mm == pytest.approx((0.49163 + 1 / 18 / 16) * 25.4)
    assert shape.basic_minor_mm == pytest.approx((0.49163 - 0.8 / 18) * 25.4)


def test_nps_rows_of_the_handbook() -> None:
    """Machinery's Handbook 27th ed. Tables 4 and 5, in inches as printed."""
    rows = keyed_rows("nps_handbook.csv")
    assert len(rows) == 18
    for row in rows:
        shape = shape_of(f"{row['size']}-{row['threads_per_inch']} {row['series']}")
        limits = (("minor_min", shape.minor.min_mm), ("minor_max", shape.minor.max_mm),
                  ("pitch_min", shape.pitch.min_mm), ("pitch_max", shape.pitch.max_mm))  # fmt: skip
        for name, value in limits:
            assert (value is None) == (not row[name])
            assert value is None or round(value / MM_PER_INCH, 6) == float(row[name]), (row["size"], name)


RECALLED_SHORT = {"4", "6"}
"""NPSM sizes whose largest pitch diameter, from memory, is 0.0001 to 0.0002 in below the formula."""


OLD_L1 = {"1/8": 0.180, "1/4": 0.200}
"""L1 before ASME B1.20.1 changed it (from memory): the table of NPSL still rests on the pitch diameter there."""
HOSE = {14.0: (0.0075, 0.0070), 11.5: (0.0100, 0.0085), 8.0: (0.0120, 0.0111)}
"""Allowance and pitch diameter tolerance by threads per inch, from memory; those of 8 and that the minor diameter has twice
the tolerance are printed for NH threads in Machinery's Handbook 27th ed. pp. 1875 and 1876 (NFPA 1963-1993)."""


@pytest.mark.parametrize(("series", "size"), list(nps.rows()))
def test_nps_by_formula(series: str, size: str) -> None:
    """NPSC: E1 give or take 1 1/2 turns (ASME B1.20.1 clause 4.2.2); NPSM: E1 and the class 2B tolerance for 9 pitches.

    NPSL: E1 and 5 to 6 1/2 turns, NPSF and NPSI: within two turns of E1, NPSH: E1 and the allowance, all from memory. The
    rows from memory stand or fall here too.
    """
    row, e1 = nps.rows()[series, size], float(npt.rows()[size]["E1_in"])
    p = 1 / float(row["threads_per_inch"])
    low, high = float(row["pitch_min_in"]), float(row["pitch_max_in"])
    if series == "NPSC":
        assert abs(low - (e1 - 1.5 * p / 16)) < 1e-4
        assert abs(high - (e1 + 1.5 * p / 16)) < 1e-4
        return
    if series == "NPSL":
        e1 = float(npt.rows()[size]["E0_in"]) + OLD_L1[size] / 16 if size in OLD_L1 else e1
        assert abs(low - (e1 + 5 * p / 16)) < 1e-4
        assert abs(high - (e1 + 6.5 * p / 16)) < 1e-4
        assert abs(float(row["minor_min_in"]) - (low - nps.ROOT_HEIGHT * p)) < 0.0006
        return
    if series in ("NPSF", "NPSI"):  # from memory: E1 less 1 7/8 to 3/8 turns, NPSI a turn more; both to 0.0001 in
        turns = (-1.875, -0.375) if series == "NPSF" else (-0.875, 0.625)
        assert low == pytest.approx(e1 + turns[0] * p / 16, abs=1.1e-4)
        assert high == pytest.approx(e1 + turns[1] * p / 16, abs=1.1e-4)
        fuel = nps.rows()["NPSF", size]
        assert float(row["minor_min_in"]) - float(fuel["minor_min_in"]) == pytest.approx(
            (low - float(fuel["pitch_min_in"])), abs=1.1e-4
        )
        return
    if series == "NPSH":
        allowance, tolerance = HOSE[float(row["threads_per_inch"])]
        assert abs(low - (e1 + allowance)) < 1e-4
        assert round(high - low, 4) == tolerance
        assert abs(float(row["minor_min_in"]) - (low - nps.HOSE_HEIGHT * p)) < 1e-4
        assert round(float(row["minor_max_in"]) - float(row["minor_min_in"]), 4) == round(2 * tolerance, 4)
        _flats_of_hose_threads(shape_of(f"{size} NPSH"), tolerance * MM_PER_INCH)
        return
    d = float(npt.rows()[size]["outside_diameter_in"])
    assert abs(low - e1) < 1e-4
    off = abs(high - low - 1.3 * asme_b1_1.pitch_tolerance_2a_in(d, p, 9 * p)) > 1.05e-4
    assert off == (size in RECALLED_SHORT)


def _flats_of_hose_threads(shape: ThreadGeometry, tolerance_mm: float) -> None:
    """ASME B1.20.7:1991 (2018), tolerances and limits of the coupling swivel, read in a public excerpt: flats of P/8 at
    crest and root where the pitch diameter is least; tolerance of the minor diameter twice that of the pitch diameter, of
    the major diameter that of the pitch diameter and 2 h / 9. To the 0.0001 in of the table."""
    p, unit = shape.spec.pitch_mm, 1e-4 * MM_PER_INCH
    sharp = math.sqrt(3) / 2 * p
    assert shape.major.max_mm is not None
    assert shape.minor.max_mm is not None
    assert shape.major.min_mm == pytest.approx(shape.pitch.min_mm + sharp - sharp / 4, abs=1e-5)
    assert shape.minor.min_mm == pytest.approx(shape.pitch.min_mm - (sharp - sharp / 4), abs=unit)
    assert shape.minor.max_mm - shape.minor.min_mm == pytest.approx(2 * tolerance_mm, abs=unit / 2)
    assert shape.major.max_mm - shape.major.min_mm == pytest.approx(tolerance_mm + 2 / 9 * 0.75 * sharp, abs=1e-5)


@pytest.mark.parametrize("size", [size for size in npt.rows() if float(npt.rows()[size]["outside_diameter_in"]) < 4])
def test_short_dryseal_threads_lack_their_first_thread(size: str) -> None:
    """ASME B1.20.3:1976 (2018), 1.4.1.2, read in a public excerpt: internal threads of the type PTF-SAE SHORT conform in all
    respects with NPTF, but that one thread is eliminated from the large (entry) end."""
    long, short = spec_of(f"{size} NPTF"), spec_of(f"{size} PTF-SAE SHORT")
    one, other = npt.STANDARD.geometry(long), npt.STANDARD.geometry(short)
    pitch = long.pitch_mm
    assert other.basic_pitch_mm == pytest.approx(one.basic_pitch_mm - pitch / 16)
    for ours, theirs in ((other.pitch, one.pitch), (other.minor, one.minor)):
        assert ours.max_mm is not None
        assert theirs.max_mm is not None
        assert ours.max_mm - ours.min_mm == pytest.approx(theirs.max_mm - theirs.min_mm)
    depths, longer = pipe_depths.pipe_depths(short), pipe_depths.pipe_depths(long)
    assert depths is not None
    assert longer is not None
    assert depths.gauge_plane_mm == pytest.approx(longer.gauge_plane_mm - pitch)
    assert depths.full_thread_mm == pytest.approx(longer.full_thread_mm - pitch)
    assert pipe_depths.small_end_minor_mm(short) == pytest.approx(pipe_depths.small_end_minor_mm(long))
    assert pipe_depths.pipe_drill(short) == pipe_depths.pipe_drill(long)


def test_g_rows_of_iso_228() -> None:
    """ISO 228-1 Table 1, the rows at hand as printed."""
    rows = [row for row in keyed_rows("pipe_threads.csv") if row["thread"] == "G (ISO 228-1)"]
    assert len(rows) == 15
    for row in rows:
        shape = shape_of(f"G {row['size']}")
        assert shape.basic_major_mm == float(row["major_or_pipe_OD"])
        assert shape.basic_pitch_mm == float(row["pitch_E1"])
        assert shape.basic_minor_mm == float(row["minor_or_K0"])
        td2, td1 = (float(value) for value in re.findall(r"TD\d=([\d.]+)", row["note"]))
        assert shape.pitch.max_mm == pytest.approx(float(row["pitch_E1"]) + td2, abs=1e-9)
        assert shape.minor.max_mm == pytest.approx(float(row["minor_or_K0"]) + td1, abs=1e-9)


def test_g_by_profile() -> None:
    """All 24 sizes: D2 = D - h, D1 = D - 2 h with h = 0.640327 P rounded to 0.001 first."""
    assert len(iso_228.rows()) == 24
    for size in iso_228.rows():
        shape = shape_of(f"G {size}")
        h = round(0.640327 * shape.spec.pitch_mm, 3)
        assert shape.basic_pitch_mm == pytest.approx(shape.basic_major_mm - h, abs=1e-9), size
        assert shape.basic_minor_mm == pytest.approx(shape.basic_major_mm - 2 * h, abs=1e-9), size


def test_g_tap_drills() -> None:
    """Charted drills lie between the minor diameter's limits; sizes that ISO 228-1 does not have are refused."""
    held = refused = 0
    for row in keyed_rows("pipe_threads.csv"):
        if row["thread"] != "G tap drill":
            continue
        drill = float(row["note"].split()[2])
        size = row["size"].removeprefix("G")
        if size not in iso_228.rows():
            read = threads.recognise(f"G {size}", 0, "mm")
            assert read is None or threads.complete(read[0]).spec is None
            refused += 1
            continue
        spec = spec_of(f"G {size}")
        shape = threads.geometry(spec)
        assert shape.minor.max_mm is not None
        assert shape.minor.min_mm <= drill <= shape.minor.max_mm, row["size"]
        ours = pipe_depths.pipe_drill(spec)
        assert ours is not None
        assert shape.minor.min_mm <= ours.drill.mm <= shape.minor.max_mm
        held += 1
    assert (held, refused) == (20, 10)


def test_rc_rp_rows() -> None:
    """Mechanical Engineers' Pocket Book 3rd ed. 4.1.38: basic diameters at the gauge plane."""
    rows = [row for row in keyed_rows("pipe_threads.csv") if row["thread"].startswith("R/Rc/Rp")]
    assert len(rows) == 2
    for row in rows:
        for letters in ("Rc", "Rp"):
            shape = shape_of(f"{letters} {row['size']}")
            got = (shape.basic_major_mm, shape.basic_pitch_mm, shape.basic_minor_mm)
            assert got == (float(row["major_or_pipe_OD"]), float(row["pitch_E1"]), float(row["minor_or_K0"]))
            assert shape.taper == (1 / 16 if letters == "Rc" else 0)


@pytest.mark.parametrize("size", list(iso_7.rows()))
def test_rc_rp_tolerance_is_turns(size: str) -> None:
    """ISO 7-1: 1 1/4 turns (1 1/2 from size 2 1/2 on) on the taper of 1:16; the printed tolerances, from memory, agree."""
    row = iso_7.rows()[size]
    turns = 1.5 if float(row["major_mm"]) > 70 else 1.25
    pitch = 25.4 / float(row["threads_per_inch"])
    assert abs(turns * pitch / 16 - float(row["diameter_tolerance_mm"])) < 0.6e-3
    assert abs(turns * pitch - float(row["gauge_plane_tolerance_mm"])) < 0.06


RECALLED_OTHERWISE = {("NPT tap drill, no taper reaming", "3/8"): "9/16"}
"""What the handbook prints where recollection has another value (37/64)."""


def test_recalled_rows() -> None:
    """Recollection against recollection (ISO 7-1) and against the handbook (NPT drills): hints, not proof."""
    counted: dict[str, int] = {}
    for row in keyed_rows("pipe_threads_recalled.csv"):
        counted[row["thread"]] = counted.get(row["thread"], 0) + 1
        if row["thread"].startswith("R/Rc/Rp"):
            ours = iso_7.rows()[row["size"]]
            length, either_way = re.findall(r"[\d.]+", row["value"])
            assert float(row["major_gauge_plane_mm"]) == float(ours["major_mm"])
            assert float(length) == float(ours["gauge_length_mm"])
            assert float(either_way) == float(ours["gauge_length_tolerance_mm"])
            continue
        series = row["thread"].split()[0]
        drill = pipe_depths.pipe_drill(spec_of(f"NPT {row['size']}" if series == "NPT" else f"Rc {row['size']}"))
        assert drill is not None
        expected = RECALLED_OTHERWISE.get((row["thread"], row["size"]), row["value"])
        if series == "NPT":
            assert drill.drill.label in expected.split()[0] or expected == drill.drill.label, row["size"]
        else:
            assert drill.drill.mm == float(expected)
    assert sorted(counted.values()) == [10, 10, 15]


def test_gauge_plane_of_a_hole() -> None:
    """ISO 7-1:1994, 3.3: half a pitch behind the face; ASME B1.20.1: at the face. Rc 1/2 (18.631, 14 an inch) by hand."""
    assert pipe_depths.face_minor_mm(spec_of("Rc 1/2")) == pytest.approx(18.631 + 25.4 / 14 / 32)
    assert pipe_depths.small_end_minor_mm(spec_of("Rc 1/2")) == pytest.approx(18.631 + 25.4 / 14 / 32 - (13.2 + 1.8) / 16)
    assert pipe_depths.face_minor_mm(spec_of("1/4 NPT")) == pytest.approx((0.49163 - 0.8 / 18) * 25.4)
    for parallel in ("Rp 1/2", "G 1/2"):
        with pytest.raises(KeyError):
            pipe_depths.face_minor_mm(spec_of(parallel))


@pytest.mark.parametrize("size", ["1/8", "1/4", "3/8", "1/2", "3/4", "1"])
def test_drill_before_taper_reaming(size: str) -> None:
    """General charts (from memory) sit within 1/64 in of the minor diameter at the inner end of the full thread."""
    spec = spec_of(f"{size} NPT")
    drill = pipe_depths.pipe_drill(spec, pipe_depths.TAPER_REAMED)
    assert drill is not None
    assert abs(drill.drill.mm - pipe_depths.small_end_minor_mm(spec)) < 25.4 / 64
    straight = pipe_depths.pipe_drill(spec)
    assert straight is not None
    assert drill.drill.mm <= straight.drill.mm
