"""Which gauges prove which hole."""

from __future__ import annotations

from dataclasses import replace

import pytest

from holesched.notes import Standing
from holesched.standards import threads
from holesched.standards.gauges import gauges_for, gauges_for_plain
from holesched.standards.sizes import Limits
from holesched.standards.threads import ThreadGeometry

FOUR = ["go thread plug", "not-go thread plug", "go plain plug", "not-go plain plug"]


def geometry_of(text: str, unit: str = "mm") -> ThreadGeometry:
    found = threads.recognise(text, 0, unit)
    assert found is not None
    spec = threads.complete(found[0]).spec
    assert spec is not None
    return threads.geometry(spec)


def test_metric() -> None:
    geometry = geometry_of("M8x1.25-6H")
    gauges = gauges_for(geometry)
    assert [gauge.kind for gauge in gauges] == FOUR
    assert {gauge.designation for gauge in gauges} == {"M8x1.25-6H"}
    assert [gauge.size_mm for gauge in gauges] == [7.188, 7.348, 6.647, 6.912]
    go, not_go, _, _ = gauges
    assert go.cite.standard == "ISO 1502"
    assert go.cite.standing is Standing.FROM_MEMORY
    assert "two turns" in not_go.how


def test_metric_gauge_limits() -> None:
    """ISO 1502 for M6-6H (TD2 = 150): go 5.362 +- 0.0055, worn 5.3445; not-go 5.5055 +- 0.0055, worn 5.494."""
    go, not_go, _, _ = gauges_for(geometry_of("M6-6H"))
    assert go.tolerance_mm == (5.3565, 5.3675)
    assert go.worn_mm == 5.3445
    assert (not_go.tolerance_mm, not_go.worn_mm) == ((5.5, 5.511), 5.494)


def test_unified() -> None:
    geometry = geometry_of("1/4-20 UNC-2B", "in")
    gauges = gauges_for(geometry)
    assert [gauge.kind for gauge in gauges] == FOUR
    go, not_go, plain, not_plain = gauges
    assert go.cite.standard == "ASME B1.2"
    assert "three turns" in not_go.how
    inches = [round(size / 25.4, 4) for gauge in (go, not_go) for size in gauge.tolerance_mm or ()]
    assert inches == [0.2175, 0.2178, 0.2221, 0.2224]  # X tolerance .0003 inward; limits of ASME B1.1
    assert plain.tolerance_mm is not None
    assert not_plain.tolerance_mm is not None
    assert plain.tolerance_mm[0] == plain.size_mm
    assert not_plain.tolerance_mm[1] == not_plain.size_mm


def test_left_hand_and_insert_are_said() -> None:
    geometry = geometry_of("M8x1.25-6H")
    left = replace(geometry, spec=replace(geometry.spec, left_hand=True, designation="M8x1.25-6H-LH"))
    assert all("left-hand gauge" in gauge.how for gauge in gauges_for(left)[:2])
    insert = replace(geometry, spec=replace(geometry.spec, series="STI-M", designation="M8x1.25 STI"))
    assert all("for the insert" in gauge.how for gauge in gauges_for(insert)[:2])


@pytest.mark.parametrize(
    ("text", "standard"),
    [
        ("1/4 NPT", "ASME B1.20.1"),
        ("1/4 NPTF", "ASME B1.20.5"),
        ("1/4 PTF-SAE SHORT", "ASME B1.20.3"),
        ("Rc 1/4", "ISO 7-2"),
        ("Rp 1/4", "ISO 7-2"),
        ("1/2 NPSC", "ASME B1.20.1"),
    ],
)
def test_jointing_pipe_threads_get_a_taper_plug(text: str, standard: str) -> None:
    geometry = geometry_of(text, "in")
    (gauge,) = gauges_for(geometry)
    assert gauge.kind == "taper thread plug"
    assert gauge.cite.standard == standard
    assert gauge.size_mm == geometry.basic_pitch_mm


def test_no_upper_limit_no_not_go() -> None:
    geometry = geometry_of("M8x1.25-6H")
    bare = replace(geometry, pitch=Limits(7.188, None), minor=Limits(6.647, None))
    assert [gauge.kind for gauge in gauges_for(bare)] == ["go thread plug", "go plain plug"]


def test_coarse_thread_outside_the_gauge_table_has_no_tolerance_and_says_so() -> None:
    geometry = replace(geometry_of("M8x1.25-6H"), pitch=Limits(7.188, 8.2))
    go = gauges_for(geometry)[0]
    assert go.tolerance_mm is None
    assert go.how.endswith("own tolerance by ISO 1502, not held here")


@pytest.mark.parametrize(
    ("text", "standard"),
    [
        *(("G 1/4", "ISO 228-2"), ("Tr20x4", "DIN 103-9"), ("1/2-10 ACME", "ASME B1.5"), ("1/2 NPSM", "ASME B1.20.1")),
        ("1/2 NPSH", "ASME B1.20.7"),
        *(("1/4 BSW", "BS 919-2"), ("1/4 BSF", "BS 919-2"), ("2BA", "BS 919-2"), ("M8", "ISO 1502"), ("MJ6", "ISO 1502")),
        *(("M8 STI", "ISO 1502"), ("1/4-20 UNC STI", "ASME B1.2"), ("1/4-28 UNJF", "ASME B1.2")),
    ],
)
def test_every_family_has_its_gauge_standard(text: str, standard: str) -> None:
    """Names of the gauge standards from memory. Each gauge gives its own limits or says that they are not held here."""
    gauges = gauges_for(geometry_of(text, "in"))
    assert [gauge.kind for gauge in gauges] == FOUR
    assert {gauge.cite.standard for gauge in gauges[:2]} == {standard}
    for gauge in gauges:
        assert (gauge.tolerance_mm is None) == ("not held here" in gauge.how)


def test_every_register_entry_has_gauges() -> None:
    """One thread of each series that a standard gives: none is left without a gauge."""
    for text in ("M8", "M8x1", "1/4 NPT", "3/8 NPTF", "1/2 NPSC", "Rc 1/4", "Rp 1/4", "10-32 STI", "1-32 UN", "1/4-24 UNS"):
        assert gauges_for(geometry_of(text, "in")), text


def test_npsl_has_no_largest_minor_diameter() -> None:
    gauges = gauges_for(geometry_of("1/2 NPSL", "in"))
    assert [gauge.kind for gauge in gauges] == FOUR[:3]
    assert {gauge.cite.standard for gauge in gauges[:2]} == {"ASME B1.20.1"}


def test_plain() -> None:
    go, not_go = gauges_for_plain(Limits(10.0, 10.015), "10 H7")
    assert (go.kind, go.size_mm, not_go.kind, not_go.size_mm) == ("go plain plug", 10.0, "not-go plain plug", 10.015)
    assert go.tolerance_mm is None


def test_plain_plugs_of_a_fit_have_their_own_limits() -> None:
    go, not_go = gauges_for_plain(Limits(10.0, 10.015), "10 H7", nominal_mm=10.0)
    assert (go.tolerance_mm, go.worn_mm) == ((10.0015, 10.0033), 10.0)
    assert not_go.tolerance_mm == (10.0132, 10.015)
    assert go.how.endswith("own limits by GB/T 1957")
    fine, _ = gauges_for_plain(Limits(10.0, 10.006), "10 H5", nominal_mm=10.0)
    assert fine.tolerance_mm is None
    (only_go,) = gauges_for_plain(Limits(10.0, None), "10 +", nominal_mm=10.0)
    assert only_go.tolerance_mm is None


def test_rp_is_not_proved_by_the_plugs_of_g() -> None:
    """ISO 7-2, from memory: Rp takes a taper external thread and is proved by the taper plug; G has go and not-go plugs."""
    (gauge,) = gauges_for(geometry_of("Rp 1/2"))
    assert "do not prove it" in gauge.how
    assert [gauge.kind for gauge in gauges_for(geometry_of("G 1/2"))] == FOUR
    (left,) = gauges_for(geometry_of("Rp 1/2 LH"))
    assert "left-hand gauge" in left.how
