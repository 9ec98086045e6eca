"""The invented jobs, as fixtures."""

from __future__ import annotations

from datetime import date

import pytest
import sample_job

from holesched.reports.base import RunStamp
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop


@pytest.fixture(scope="session")
def job() -> JobPlan:
    return sample_job.sample_job()


@pytest.fixture(scope="session")
def inch_job() -> JobPlan:
    return sample_job.inch_job()


@pytest.fixture(scope="session")
def shop() -> Shop:
    return Shop()


@pytest.fixture(scope="session")
def stamp() -> RunStamp:
    return RunStamp(date(2026, 1, 2), "0.1.0")
