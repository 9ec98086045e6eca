"""Whatever the thread: limits nest, the canonical designation is read back as the same thread, inch and mm agree."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from holesched.standards import iso261, iso965, threads, unified_series
from holesched.standards.threads import ThreadCall, ThreadGeometry, ThreadSpec, unified

METRIC = [(size.diameter_mm, pitch) for size in iso261.sizes().values() for pitch in size.pitches_mm]
INCH = [(size.name, tpi, series) for size in unified_series.sizes().values() for tpi, series in size.series.items()]
CLASSES = ("4H", "5H", "6H", "7H", "8H", "5G", "6G", "7G", "4H5H", "5H6H")


def spec_of(text: str) -> ThreadSpec | None:
    read = threads.recognise(text, 0, "mm")
    assert read is not None, text
    assert read[1] == len(text), text
    return threads.complete(read[0]).spec


def both(shape: ThreadGeometry) -> tuple[tuple[float, float], tuple[float, float]]:
    assert shape.pitch.max_mm is not None
    assert shape.minor.max_mm is not None
    return (shape.pitch.min_mm, shape.pitch.max_mm), (shape.minor.min_mm, shape.minor.max_mm)


@given(st.sampled_from(METRIC), st.sampled_from(CLASSES), st.sampled_from(["M", "MJ"]), st.booleans())
def test_metric_designation_is_read_back(thread: tuple[float, float], of_class: str, letters: str, left: bool) -> None:
    text = f"{letters}{thread[0]:g}x{thread[1]:g}-{of_class}" + ("-LH" if left else "")
    spec = spec_of(text)
    if spec is None:
        tolerance = iso965.thread_class(of_class)
        assert tolerance is not None
        assert not {tolerance.pitch_grade, tolerance.minor_grade} <= set(iso965.grades(*thread))
        return
    assert spec.designation == text
    assert spec_of(spec.designation) == spec


@given(st.sampled_from(METRIC), st.sampled_from(["H", "G"]), st.booleans())
def test_metric_grades_nest(thread: tuple[float, float], position: str, j_form: bool) -> None:
    """4H lies inside 5H inside 6H inside 7H inside 8H, from the same lower limit; limits stand in order."""
    previous = None
    for grade in iso965.grades(*thread):
        found = iso965.metric_limits(*thread, iso965.ThreadClass(grade, grade, position), j_form)
        assert found.minor_mm[0] < found.minor_mm[1]
        assert found.pitch_mm[0] < found.pitch_mm[1]
        assert found.minor_mm[0] < found.pitch_mm[0] < found.major_min_mm
        assert found.basic_minor_mm <= found.minor_mm[0]
        if previous is not None:
            assert found.minor_mm[0] == previous.minor_mm[0]
            assert found.pitch_mm[0] == previous.pitch_mm[0]
            assert found.minor_mm[1] > previous.minor_mm[1]
            assert found.pitch_mm[1] > previous.pitch_mm[1]
        previous = found
    assert previous is not None


@given(st.sampled_from(INCH), st.sampled_from(["1B", "2B", "3B"]), st.booleans(), st.booleans())
def test_unified_designation_is_read_back(thread: tuple[str, float, str], of_class: str, j_form: bool, left: bool) -> None:
    name, tpi, series = thread
    if j_form:
        series, of_class = series.replace("UN", "UNJ"), "3B"
    text = f"{name}-{tpi:g} {series}-{of_class}" + ("-LH" if left else "")
    spec = spec_of(text)
    assert spec is not None
    assert spec.designation == text
    assert spec_of(spec.designation) == spec


@given(st.sampled_from(INCH))
def test_unified_classes_nest(thread: tuple[str, float, str]) -> None:
    """3B lies inside 2B inside 1B on the pitch diameter; limits stand in order; the J form starts higher."""
    name, tpi, series = thread
    limits = {}
    for of_class in ("3B", "2B", "1B"):
        spec = spec_of(f"{name}-{tpi:g} {series}-{of_class}")
        assert spec is not None
        shape = threads.geometry(spec)
        limits[of_class] = both(shape)
        (pitch_min, pitch_max), (minor_min, minor_max) = limits[of_class]
        assert minor_min < minor_max < pitch_max
        assert minor_min < pitch_min < pitch_max
        assert pitch_min < shape.major.min_mm
    assert limits["3B"][0][0] == limits["2B"][0][0] == limits["1B"][0][0]
    assert limits["3B"][0][1] < limits["2B"][0][1] < limits["1B"][0][1]
    j_spec = spec_of(f"{name}-{tpi:g} {series.replace('UN', 'UNJ')}-3B")
    assert j_spec is not None
    assert limits["3B"][1][0] < threads.geometry(j_spec).minor.min_mm < limits["3B"][1][1]


@given(st.sampled_from(INCH))
def test_inch_size_by_name_and_by_decimals(thread: tuple[str, float, str]) -> None:
    """The decimal statement of a size is the same thread."""
    name, tpi, series = thread
    diameter = unified_series.sizes()[name].diameter_in
    assert spec_of(f"{diameter:.4f}-{tpi:g} {series}-2B") == spec_of(f"{name}-{tpi:g} {series}-2B")


@given(st.sampled_from(INCH), st.sampled_from(METRIC))
def test_the_drawings_unit_changes_no_thread(inch: tuple[str, float, str], metric: tuple[float, float]) -> None:
    """A designation names its own system: read on an inch or on a millimetre drawing it is the same thread and limits."""
    for text in (f"{inch[0]}-{inch[1]:g} {inch[2]}-2B", f"M{metric[0]:g}x{metric[1]:g}"):
        on_mm, on_inch = threads.recognise(text, 0, "mm"), threads.recognise(text, 0, "in")
        assert on_mm == on_inch


@given(st.sampled_from(INCH), st.sampled_from(["2B", "3B"]), st.floats(0.1, 6))
def test_more_engagement_never_tightens(thread: tuple[str, float, str], of_class: str, diameters: float) -> None:
    """ASME B1.1: the pitch diameter's tolerance grows with the length of engagement, the minor diameter's stays."""
    spec = spec_of(f"{thread[0]}-{thread[1]:g} {thread[2]}-{of_class}")
    assert spec is not None
    plain = threads.geometry(spec)
    shape = unified.limits_for_engagement(spec, diameters * spec.nominal.mm)
    longer = unified.limits_for_engagement(spec, 20 * spec.nominal.mm)
    assert (shape.minor, shape.pitch.min_mm) == (plain.minor, plain.pitch.min_mm)
    assert shape.pitch.max_mm is not None
    assert longer.pitch.max_mm is not None
    assert shape.pitch.max_mm <= longer.pitch.max_mm


@given(st.sampled_from(METRIC), st.floats(0.2, 8))
def test_engagement_groups_follow_each_other(thread: tuple[float, float], diameters: float) -> None:
    """ISO 965-1: S, then N, then L as the engagement grows."""
    groups = [iso965.engagement_group(*thread, share * thread[0]) for share in (0.001, diameters, 50)]
    assert groups[0] == "S"
    assert groups[2] == "L"
    assert groups == sorted(groups, key="SNL".index)


@given(st.text(alphabet='M0123456789xX.,-/ HGghUNCFJS#"LTPh()AB', max_size=24))
def test_any_text_is_read_or_left_alone(text: str) -> None:
    """No text raises; what is recognised is completed with a spec or a problem and a suggestion."""
    for place in range(len(text)):
        found = threads.recognise(text, place, "in")
        if found is None:
            continue
        call, end = found
        assert isinstance(call, ThreadCall)
        assert place < end <= len(text)
        if call.standard in ("iso-metric", "unified"):
            answer = threads.complete(call)
            if answer.spec is None:
                assert answer.problem
                assert answer.suggestion
            else:
                threads.geometry(answer.spec)
                assert spec_of(answer.spec.designation) == answer.spec
