"""Acme threads.

Sources: acme_sizes_open_data.csv (an open CAD library); Machinery's Handbook 27th ed. p. 1837, Table 8a (ASME B1.5-1988),
read in a public copy: centralizing internal threads have pitch diameter at least D - P/2 and minor diameter at least
D - 0.9 P. The limits of 3/4-6 ACME-2G are from memory of the handbook's table.
"""

from __future__ import annotations

import pytest
from keyed_rows import keyed_rows
from written_threads import shape_of

from holesched.standards.threads import acme
from holesched.units import MM_PER_INCH


def test_sizes() -> None:
    rows = keyed_rows("acme_sizes_open_data.csv")
    assert len(rows) == 14
    assert len(acme.sizes()) == 23
    for row in rows:
        assert acme.sizes()[row["size"]] == float(row["threads_per_inch"])


@pytest.mark.parametrize("size", list(acme.sizes()))
@pytest.mark.parametrize("thread_class", ["2C", "3C", "4C"])
def test_centralizing_formulas(size: str, thread_class: str) -> None:
    shape = shape_of(f"{size}-{acme.sizes()[size]:g} ACME-{thread_class}")
    d, p = shape.spec.nominal.mm / MM_PER_INCH, 1 / acme.sizes()[size]
    assert round(shape.pitch.min_mm / MM_PER_INCH, 6) == round(d - p / 2, 4)
    assert round(shape.minor.min_mm / MM_PER_INCH, 6) == round(d - 0.9 * p, 4)


def test_limits_from_memory() -> None:
    """3/4-6 ACME-2G, internal, from memory of Machinery's Handbook: inches."""
    shape = shape_of("3/4-6 ACME-2G")
    got = [shape.major.min_mm, shape.major.max_mm, shape.pitch.min_mm, shape.pitch.max_mm, shape.minor.min_mm]
    assert [round((value or 0) / MM_PER_INCH, 5) for value in got] == [0.77, 0.79, 0.6667, 0.6841, 0.5833]
    assert shape.minor.max_mm is not None
    assert round(shape.minor.max_mm / MM_PER_INCH, 4) == 0.5916
