"""The unit that callouts show when nothing states one. Common practice, no source."""

from __future__ import annotations

import pytest

from holesched.schedule.table_units import shown_units


@pytest.mark.parametrize(
    ("callouts", "shown"),
    [
        (["1/4-20 UNC-2B ↧.50", "#10-32 THRU", "M6x1-6H ↧12 mm"], (0, 2)),  # the metric one needs its mm
        (["M6 ↧12", "Ø10,2 THRU", '1/4" DRILL'], (2, 0)),
        (["M6 ↧12 mm", "Ø10 mm"], (2, 0)),  # nothing else shows a unit
        (["M6 ↧12", "1/4-20 ↧.5"], (1, 1)),
        (["Ø10", "G 1/4"], (0, 0)),
    ],
)
def test_a_unit_beside_its_number_is_heard_only_where_the_others_show_nothing(
    callouts: list[str], shown: tuple[int, int]
) -> None:
    assert shown_units(callouts) == shown
