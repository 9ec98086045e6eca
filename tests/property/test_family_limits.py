"""Every thread of every family's tables: read back from its designation as the same thread, limits in order and nested."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.standards import iso261, threads, unified_series
from holesched.standards.threads import (
    ThreadGeometry,
    ThreadSpec,
    acme,
    ba,
    iso_7,
    iso_228,
    nps,
    npt,
    trapezoidal,
    whitworth,
)

WRITTEN = [
    *(f"{size} NPT" for size in npt.rows()),
    *(f"{size} NPTF-{of}" for size in npt.rows() for of in "12"),
    *(f"{size} {series}" for series, size in nps.rows()),
    *(f"G {size}" for size in iso_228.rows()),
    *(f"{series} {size}" for size in iso_7.rows() for series in ("Rc", "Rp")),
    *(f"Tr{d:g}x{p:g}-{c}" for d, own in trapezoidal.pitches().items() for p in own for c in ("7H", "8H", "9H")),
    *(f"Tr{d:g}x{2 * own[0]:g}(P{own[0]:g})-7H" for d, own in trapezoidal.pitches().items()),
    *(f"{size}-{tpi:g} ACME-{c}" for size, tpi in acme.sizes().items() for c in ("2G", "3G", "4G", "2C", "3C", "4C")),
    *(f"{size}-{tpi:g} {series} {c}" for (series, size), tpi in whitworth.sizes().items() for c in whitworth.CLASSES),
    *(f"{number}BA" for number in ba.rows()),
    *(
        f"M{size.diameter_mm:g}x{size.pitches_mm[0]:g}-{c} STI"
        for size in iso261.sizes().values()
        for c in ("5H", "6H")
        if 2 <= size.diameter_mm <= 39
    ),
    *(
        f"{size.name}-{tpi:g} {series}-{c} STI"
        for size in unified_series.sizes().values()
        for tpi, series in size.series.items()
        if series in ("UNC", "UNF")
        for c in ("2B", "3B")
    ),
]
NESTED = [
    *([f"Tr{d:g}x{own[0]:g}-{c}" for c in ("7H", "8H", "9H")] for d, own in trapezoidal.pitches().items()),
    *([f"{size}-{tpi:g} ACME-{c}" for c in ("4G", "3G", "2G")] for size, tpi in acme.sizes().items()),
    *([f"{size} {series} {c}" for c in ("close", "medium", "normal")] for series, size in whitworth.sizes()),
    *([f"M{d}-{c} STI" for c in ("4H5H", "5H", "6H")] for d in (5, 6, 8, 10, 12, 16, 20, 24)),
    *([f"{name} STI-{c}" for c in ("3B", "2B")] for name in ("#6-32", "#10-32", "1/4-20", "3/8-24", "1/2-13", "1-8")),
]


def spec_of(text: str) -> ThreadSpec:
    read = threads.recognise(text, 0, "mm")
    assert read is not None, text
    assert read[1] == len(text), text
    answer = threads.complete(read[0])
    assert answer.spec is not None, (text, answer.problem)
    return answer.spec


@given(st.sampled_from(WRITTEN), st.booleans())
def test_designation_is_read_back(text: str, left: bool) -> None:
    spec = spec_of(text if not left else f"{text} LH")
    assert spec.left_hand == left
    again = spec_of(spec.designation)
    assert again == spec


@pytest.mark.parametrize("text", WRITTEN)
def test_limits_stand_in_order(text: str) -> None:
    shape = threads.geometry(spec_of(text))
    limits = (shape.minor, shape.pitch, shape.major)
    for limit in limits:
        assert limit.max_mm is None or limit.min_mm < limit.max_mm
    assert shape.minor.min_mm < shape.pitch.min_mm < shape.major.min_mm
    assert shape.basic_minor_mm < shape.basic_pitch_mm < shape.basic_major_mm
    assert shape.pitch.max_mm is not None
    assert shape.minor.max_mm is None or shape.minor.max_mm < shape.pitch.max_mm or shape.profile in ("30deg", "29deg")
    assert shape.spec.pitch_mm * (shape.spec.tpi or 25.4 / shape.spec.pitch_mm) == pytest.approx(25.4)
    assert shape.cites


def inside(tight: ThreadGeometry, wide: ThreadGeometry) -> bool:
    pairs = ((tight.pitch, wide.pitch), (tight.minor, wide.minor))
    return all(outer.min_mm <= inner.min_mm and (inner.max_mm or 0) <= (outer.max_mm or 0) + 1e-9 for inner, outer in pairs)


@pytest.mark.parametrize("family", NESTED, ids=lambda family: str(family[0]))
def test_classes_nest(family: list[str]) -> None:
    shapes = [threads.geometry(spec_of(text)) for text in family]
    for tight, wide in pairwise(shapes):
        assert inside(tight, wide), (tight.spec.designation, wide.spec.designation)
        assert (tight.pitch.max_mm or 0) < (wide.pitch.max_mm or 0)


@given(st.text(alphabet="0123456789/.-x #GRTMNPACBSEWIcpr\"'", max_size=16))
def test_nothing_written_breaks_the_reader(text: str) -> None:
    """Reading and completing never raise, and a spec always has limits."""
    read = threads.recognise(text, 0, "in")
    if read is None:
        return
    answer = threads.complete(read[0])
    assert (answer.spec is None) == bool(answer.problem)
    if answer.spec is not None:
        assert threads.geometry(answer.spec).pitch.min_mm > 0
