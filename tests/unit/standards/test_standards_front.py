"""`holesched.standards` as other people's programs use it."""

from __future__ import annotations

import doctest
import inspect
import re
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
    """Its figures: M8-6H of ISO 965-2, 8 H7 of ISO 286-2, M8 medium of ISO 273, as the tests of the tables compare them."""
    result = doctest.testmod(standards)
    assert (result.failed, result.attempted) == (0, 12)


def test_every_public_function_states_units_errors_and_source() -> None:
    """The docstring of a function of lengths names their unit; of one that can raise, the error."""
    for name in standards.__all__:
        public = getattr(standards, name)
        if inspect.isclass(public):
            continue
        says, source = inspect.getdoc(public) or "", inspect.getsource(inspect.unwrap(public))
        if re.search(r"_mm: float|-> Limits|-> ThreadGeometry", source):
            assert re.search(r"(\b|_)mm\b|one unit", says), name
        if re.search(r"^ +raise (Value|Key)Error", source, re.MULTILINE):
            assert "Raises" in says, name


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
