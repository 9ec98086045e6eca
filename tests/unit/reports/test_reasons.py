"""Reasons are all on the sheet, each once: before the cards, on a card, or behind."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest

from holesched.cutting.model import CutStep
from holesched.notes import Reason, Rejected
from holesched.pipeline import plan_file, read_options
from holesched.reports import process_sheet
from holesched.reports.base import RunStamp
from holesched.reports.process_sheet import ProcessSheet
from holesched.reports.reasons_section import LOST_SHOWN, NOT_ASKED_FOR
from holesched.reports.shared_reasons import by_steps, plainly, shared_reasons, type_steps
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.shop.model import Shop

INPUTS = Path(__file__).parents[3] / "example_inputs"
JOBS = ("manifold_block.xlsx", "sensor_plate.ods")
"""In mm, where a reason is printed as it stands."""


@pytest.fixture(scope="module", params=JOBS)
def planned(request: pytest.FixtureRequest, shop: Shop) -> JobPlan:
    return plan_file(INPUTS / request.param, shop, read_options(shop))


@pytest.fixture(scope="module")
def sheet(planned: JobPlan, shop: Shop, stamp: RunStamp) -> ProcessSheet:
    return process_sheet.build(planned, shop, stamp)


def without_marks(text: str) -> str:
    return re.sub(r" \[[\d, ]+\]$", "", unescape(text))


def printed(sheet: ProcessSheet) -> Counter[tuple[str, str]]:
    """Every reason on the sheet, with how often it stands there."""
    said = [pair for _, why in sheet.for_all for pair in why]
    said += [pair for card in sheet.cards for pair in card.why]
    said += [pair for line in sheet.reasons for pair in line.figures]
    return Counter((decision, without_marks(because)) for decision, because in said)


def cuts(job: JobPlan) -> list[CutStep]:
    return [cut for hole in job.holes if hole.cut_plan is not None for cut in hole.cut_plan.cuts]


def test_no_reason_is_lost(planned: JobPlan, sheet: ProcessSheet) -> None:
    found = printed(sheet)
    for cut in cuts(planned):
        for reason in (*cut.step.reasons, *cut.clamps, *cut.reasons):
            assert found[reason.decision, plainly(reason.because)] >= 1, reason


def test_what_all_say_is_said_once(planned: JobPlan, sheet: ProcessSheet) -> None:
    found = printed(sheet)
    kinds = {cut.step.kind for cut in cuts(planned)}
    for kind in kinds:
        alike = [cut for cut in cuts(planned) if cut.step.kind is kind]
        everywhere = set.intersection(*({(r.decision, r.because) for r in cut.reasons} for cut in alike))
        for pair in everywhere:
            among = sum(pair in {(r.decision, r.because) for r in cut.reasons} for cut in cuts(planned))
            assert found[pair] == 1 or among > len(alike), pair


def test_who_lost_and_why_is_kept(planned: JobPlan, sheet: ProcessSheet) -> None:
    """The last LOST_SHOWN of every decision stand on the sheet; of a longer list it says how many more there are."""
    text = " ".join(lost for line in sheet.reasons for lost in line.not_chosen)
    for cut in cuts(planned):
        for reason in cut.step.reasons:
            real = [lost for lost in reason.rejected if not lost.because.startswith(NOT_ASKED_FOR)]
            for lost in real[-LOST_SHOWN:]:
                assert f"{lost.candidate}, {lost.because}" in text
            if len(real) > LOST_SHOWN:
                assert f"{len(real) - LOST_SHOWN} more for the " in text


def test_a_shared_line_names_its_hole_types(planned: JobPlan) -> None:
    steps = type_steps(planned)
    for name, kind, reasons in shared_reasons(planned).groups:
        letters = list(dict.fromkeys(step.letter for step in steps if step.kind is kind))
        if name.startswith("All "):
            assert len(letters) >= 2
        else:
            named = name.partition(" ")[2].replace(",", "").split()
            assert len([letter for letter in named if letter in letters]) >= 3
        assert reasons


def test_sentences_by_the_steps_that_say_them(job: JobPlan) -> None:
    steps = type_steps(job)
    groups = by_steps(steps, lambda cut: [cut.step.kind.value, "always"])
    for found, sentences in groups.items():
        kinds = {steps[index].kind for index in found}
        assert len(kinds) == 1, "sentences of different work are never drawn together"
        assert sentences == [next(iter(kinds)).value, "always"]
    assert sorted(index for found in groups for index in found) == list(range(len(steps)))


def many_reasons(hole: PlannedHole, number: int) -> PlannedHole:
    """The hole with `number` long reasons for its last step: first a material, then the tap drill."""
    assert hole.cut_plan is not None
    *before, last = hole.cut_plan.cuts
    lost = Rejected("other", "R", "worse")
    reasons = tuple(
        Reason(f"{'tap material' if n == 0 else 'tap drill'}: {n}", f"why {n} " + "because " * 15, "R", (), (lost,))
        for n in range(number)
    )
    last = replace(last, step=replace(last.step, reasons=reasons))
    return replace(hole, cut_plan=replace(hole.cut_plan, cuts=(*before, last)))


def test_reasons_without_room_on_the_card_stand_behind(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    full = replace(job, holes=(many_reasons(job.holes[0], 20), *job.holes[1:]))
    sheet = process_sheet.build(full, shop, stamp)
    card = sheet.cards[0]
    assert card.more_why
    assert not any(each.more_why for each in sheet.cards[1:])
    kept = [decision for decision, _ in card.why]
    assert "tap drill: 1" in kept
    assert "tap material: 0" not in kept, "material and treatment leave the card first"
    behind = [decision for line in sheet.reasons for decision, _ in line.figures]
    assert "tap material: 0" in behind
    for number in range(1, 20):
        assert [*kept, *behind].count(f"tap drill: {number}") == 1
