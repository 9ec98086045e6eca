"""What stands at the head of every sheet: part, revision, material, source, date, the ledger."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import PurePath

from holesched.reports.base import RunStamp
from holesched.reports.overloads import TOO_MUCH, bound
from holesched.reports.show import Show, count
from holesched.sequence.model import JobPlan, Ledger
from holesched.shop.model import Shop

NOT_GIVEN = "not given"


@dataclass(frozen=True, slots=True)
class Heading:
    """The title block's fields as text, and what runs along the foot of every page."""

    document: str
    shop_name: str
    part: str
    revision: str
    name: str
    drawing: str
    material: str
    material_group: str
    thickness: str
    units: str
    units_how: str
    lot: str
    machine: str
    other: tuple[tuple[str, str], ...]
    source: str
    sheet: str
    fingerprint: str
    date: str
    version: str
    rows: str
    holes: str
    paper: str
    status: str
    """Whether the sheet may be worked from: what is open, else that nothing is."""

    @property
    def title(self) -> str:
        """Part and revision as every page's foot has them."""
        part = self.part if self.part != NOT_GIVEN else f"part {NOT_GIVEN}"
        return f"{part} revision {self.revision}"

    @property
    def foot_title(self) -> str:
        """The same for two lines at the foot of a page, a very long one cut in its middle."""
        return self.title if len(self.title) <= 72 else f"{self.title[:36]}…{self.title[-35:]}"

    @property
    def foot_source(self) -> str:
        """The file's name, cut in the middle where it is too long for the foot of a page."""
        return self.source if len(self.source) <= 24 else f"{self.source[:12]}…{self.source[-11:]}"


def heading(job: JobPlan, shop: Shop, stamp: RunStamp, document: str, show: Show) -> Heading:
    """The head of one document."""
    header = job.header
    material, group = header.material or NOT_GIVEN, ""
    if job.material is not None:
        low, high = job.material.hardness_hb
        hardness = f"{low:.0f} to {high:.0f} HB" if high > low else f"{low:.0f} HB"
        group = f"{job.material.name}; ISO 513 group {job.material.group}, {hardness}, {job.material.chip} chip"
    thickness = f"{show.short(header.thickness_mm)} {show.length_unit}" if header.thickness_mm is not None else NOT_GIVEN
    return Heading(
        document=document,
        shop_name=shop.report.shop_name,
        part=header.part_number or NOT_GIVEN,
        revision=header.revision or NOT_GIVEN,
        name=header.part_name,
        drawing=header.drawing,
        material=material,
        material_group=group,
        thickness=thickness,
        units="mm" if show.unit == "mm" else "inch",
        units_how="" if header.unit_stated else "assumed",
        lot=str(header.lot) if header.lot is not None else "",
        machine=shop.machine.name,
        other=header.other,
        source=PurePath(job.source).name,
        sheet=job.sheet,
        fingerprint=job.sha256[:12],
        date=stamp.date.isoformat(),
        version=stamp.version,
        rows=rows_line(job.ledger),
        holes=holes_line(job.ledger),
        paper=shop.report.paper,
        status=_status(job),
    )


def _status(job: JobPlan) -> str:
    questions = sum(note.is_question for note in job.notes)
    found = [count(questions, "open question")] if questions else []
    targets = (target for operation in job.operations for target in operation.targets)
    heavy = Counter(bound(target.cut.overload) for target in targets if target.cut.overload)
    found += [f"{count(heavy[over], what)} {than}" for over, (what, than) in TOO_MUCH.items() if heavy[over]]
    return f"{', '.join(found)}: not released" if found else "No open questions"


def rows_line(ledger: Ledger) -> str:
    """The rows' census: table = planned + in question + set aside."""
    rows = ledger.rows
    parts = f"{rows.planned} planned + {rows.in_question} in question + {rows.set_aside} set aside"
    return f"{count(rows.read, 'row')} in the table = {parts}"


def holes_line(ledger: Ledger) -> str:
    """The holes' census: table = planned + in question."""
    holes = ledger.holes
    return f"{count(holes.read, 'hole')} in the table = {holes.planned} planned + {holes.in_question} in question"
