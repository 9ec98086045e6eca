"""`holesched.standards` as other people's programs use it."""

from __future__ import annotations

import subprocess
import sys

import pytest

from holesched import standards
from holesched.standards import _MODULE_OF


def test_every_listed_name_is_there() -> None:
    assert sorted(standards.__all__) == sorted(_MODULE_OF)
    for name in standards.__all__:
        assert getattr(standards, name) is not None


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'thread'"):
        _ = standards.thread


def test_the_example_of_the_docstring() -> None:
    call = standards.read_thread("M8x1.25-6H")
    assert call is not None
    answer = standards.complete(call)
    assert answer.spec is not None
    thread = standards.geometry(answer.spec)
    assert (round(thread.minor.min_mm, 3), round(thread.minor.max_mm or 0, 3)) == (6.647, 6.912)  # ISO 965-2 table
    assert len(standards.gauges_for(thread)) >= 4
    assert round(standards.hole_limits(8.0, "H7").max_mm or 0, 3) == 8.015  # ISO 286-2
    assert standards.read_thread("M8 and more") is None


def test_the_standards_load_nothing_heavy() -> None:
    """A fresh process that resolves a thread has neither pandas nor any other library of the later stages."""
    code = (
        "import sys; from holesched import standards as s; s.geometry(s.complete(s.read_thread('M8')).spec);"
        "print([n for n in ('pandas', 'numpy', 'pint', 'openpyxl', 'weasyprint', 'jinja2') if n in sys.modules])"
    )
    found = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert found.stdout.strip() == "[]"


def test_engagement_as_other_programs_ask_for_it() -> None:
    """The front's own words: thread, grade, work; group; special length; pipe and insert depths."""
    call = standards.read_thread("1/4-20 UNC-2B")
    assert call is not None
    spec = standards.complete(call).spec
    assert spec is not None
    thread = standards.geometry(spec)
    assert standards.needed_engagement(thread, "SAE 5", 400).least_mm < 12
    assert standards.limits_for_engagement(spec, 20).pitch.max_mm != thread.pitch.max_mm
    assert standards.engagement_group(8, 1.25, 16) == "L"
    assert standards.pipe_depths(spec) is None
