"""What every report is: a name, a template, and a function from the job to the values that the template shows."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime

from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop


@dataclass(frozen=True, slots=True)
class RunStamp:
    """When and by what a document was made. It comes in from outside, so that equal inputs give equal documents.

    `input_sha256` is the hash of all inputs together; a job's own file hash stands in the job.
    """

    date: date
    version: str
    input_sha256: str = ""

    @classmethod
    def now(cls, version: str, input_sha256: str = "") -> RunStamp:
        """Today's stamp; SOURCE_DATE_EPOCH (seconds since 1970, as reproducible builds set it) comes before the clock."""
        epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
        day = datetime.fromtimestamp(int(epoch), UTC).date() if epoch.isdigit() else date.today()
        return cls(day, version, input_sha256)

    @property
    def epoch(self) -> int:
        """Midnight UTC of the date, in seconds since 1970: the one time that stands inside files."""
        return int(datetime(self.date.year, self.date.month, self.date.day, tzinfo=UTC).timestamp())


@dataclass(frozen=True, slots=True)
class Report:
    """One report: `key` is the file's stem, `build` makes the frozen value that `template` shows.

    `formats` are those it is written in; `instead` those that replace a PDF which cannot be made.
    """

    key: str
    title: str
    template: str
    build: Callable[[JobPlan, Shop, RunStamp], object]
    formats: tuple[str, ...]
    instead: tuple[str, ...] = ()
