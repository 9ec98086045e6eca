"""Settings of every test: hypothesis is repeatable in continuous integration."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

settings.register_profile("ci", derandomize=True, deadline=None)
settings.register_profile("hand", deadline=None)
settings.load_profile("ci" if os.environ.get("CI") else "hand")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update-golden", action="store_true", help="write the stored results of whole jobs anew")


@pytest.fixture
def update_golden(request: pytest.FixtureRequest) -> bool:
    return bool(request.config.getoption("--update-golden"))
