"""The stamp of a run."""

from __future__ import annotations

from datetime import date

import pytest

from holesched.reports import REPORTS
from holesched.reports.base import RunStamp


def test_the_date_can_be_given_from_outside(monkeypatch: pytest.MonkeyPatch) -> None:
    """SOURCE_DATE_EPOCH as reproducible builds set it: 1 767 312 000 is 2 January 2026, 0 h UTC."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1767312000")
    stamp = RunStamp.now("0.1.0")
    assert stamp.date == date(2026, 1, 2)
    assert stamp.epoch == 1_767_312_000


def test_a_senseless_date_from_outside_is_ignored(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    assert RunStamp.now("0.1.0").date == date.today()


def test_the_register_is_complete() -> None:
    assert [report.key for report in REPORTS] == ["process_sheet", "setup_sheet"]
    assert len({report.template for report in REPORTS}) == len(REPORTS)
