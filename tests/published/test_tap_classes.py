"""ISO 2857 (DIN EN 22857): pitch diameters of ground taps of class 2, for threads 6H.

Printed limits: UNI 4535-64, flank diameter of taps for coarse threads 6H, M1.6 to M18, as read in a public copy and keyed
here. The zone of class 2 lies from 0.3 to 0.5 of TD2 of grade 5 (ISO 2857, 3.4; the shares from a public drawing of the
zones).
"""

from __future__ import annotations

import pytest

from holesched.standards import threads
from holesched.tooling.tap_classes import inside, iso_classes

PRINTED = {
    "M1.6": (1.393, 1.407), "M1.8": (1.593, 1.607), "M2": (1.761, 1.776), "M2.2": (1.931, 1.946), "M2.5": (2.231, 2.246),
    "M3": (2.699, 2.715), "M3.5": (3.137, 3.155), "M4": (3.574, 3.593), "M5": (4.510, 4.530), "M6": (5.385, 5.409),
    "M7": (6.385, 6.409), "M8": (7.226, 7.251), "M9": (8.226, 8.251), "M10": (9.068, 9.096), "M11": (10.068, 10.096),
    "M12": (10.911, 10.943), "M14": (12.752, 12.786), "M16": (14.752, 14.786), "M18": (16.430, 16.466),
}  # fmt: skip


def geometry_of(text: str) -> threads.base.ThreadGeometry:
    found = threads.recognise(text, 0, "mm")
    assert found is not None
    spec = threads.complete(found[0]).spec
    assert spec is not None
    return threads.geometry(spec)


@pytest.mark.parametrize("thread", PRINTED)
def test_uni_4535_limits_of_class_2(thread: str) -> None:
    shape = geometry_of(thread)
    tap = next(each for each in iso_classes(shape) if each.name == "ISO 2")
    made = round(shape.basic_pitch_mm + tap.low_mm, 3), round(shape.basic_pitch_mm + tap.high_mm, 3)
    assert made == PRINTED[thread]


@pytest.mark.parametrize(
    ("class_of_thread", "tap"),
    [("4H", "ISO 1"), ("5H", "ISO 1"), ("5G", "ISO 2"), ("6H", "ISO 2"), ("6G", "ISO 3"), ("7H", "ISO 3"), ("8H", "ISO 3")],
)
@pytest.mark.parametrize("thread", ["M5x0.8", "M8x1.25", "M12x1.75", "M20x2.5"])
def test_each_class_cuts_inside_the_threads_it_is_for(class_of_thread: str, tap: str, thread: str) -> None:
    """ISO 2857, 3.3: class 1 for 4H and 5H, class 2 for 6H, 4G and 5G, class 3 for 6G, 7H and 8H."""
    shape = geometry_of(f"{thread}-{class_of_thread}")
    [zone] = [each for each in iso_classes(shape) if each.name == tap]
    assert inside(zone.low_mm, zone.high_mm, shape)
