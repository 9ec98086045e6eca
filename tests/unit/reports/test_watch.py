"""What to watch: ranked, merged, in inches for an inch job, and never crowding the operations off page 1."""

from __future__ import annotations

from dataclasses import replace

import pytest
import sample_job

from holesched.cutting.model import CHANGE, TapRisk
from holesched.notes import Note, Severity
from holesched.reports import process_sheet
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.open_points import open_points
from holesched.reports.show import Show
from holesched.sequence.model import JobPlan, PlannedHole
from holesched.shop.model import Shop
from holesched.tooling.model import StepKind

DEEP = Note("HOLE-DEEP", Severity.WATCH, "Drill 5: 9 diameters deep.", "Use a long drill.", ref=sample_job.ref(8))


def risky(hole: PlannedHole, index: float) -> PlannedHole:
    """The hole with a tap of this risk, its note, and the note's cheapest remedy first."""
    assert hole.cut_plan is not None
    remedies = ("Open the hole.", "Ask for less thread.", "Mill the thread.")
    risk = TapRisk(index, CHANGE if index > 0.5 else "watch", 10.0, (), remedies)
    cuts = tuple(replace(cut, risk=risk) if cut.step.kind is StepKind.TAP else cut for cut in hole.cut_plan.cuts)
    note = Note("TAP-RISK", Severity.WATCH, f"tap at {index:.0%}.", " ".join(risk.remedies))
    return replace(hole, cut_plan=replace(hole.cut_plan, cuts=cuts), notes=(*hole.notes, note))


@pytest.fixture
def watched(job: JobPlan) -> JobPlan:
    """A tapped at 30 %, D at 60 %, E at 45 %, and a note on a drill that was left first."""
    risks = {"A": 0.3, "D": 0.6, "E": 0.45}
    holes = tuple(risky(h, risks[h.type.letter]) if h.type.letter in risks else h for h in job.holes)
    notes = (DEEP, *job.notes, *(note for hole in holes for note in hole.notes if note.code == "TAP-RISK"))
    return replace(job, holes=holes, notes=notes)


def test_the_tap_nearest_to_breaking_comes_first(watched: JobPlan) -> None:
    found = [(remark.types, remark.text) for remark in open_points(watched).watch]
    assert found[:3] == [("D", "tap at 60%."), ("E", "tap at 45%."), ("A", "tap at 30%.")]
    assert found[3] == ("A", "Drill 5: 9 diameters deep.")


def test_the_cheapest_remedy_is_said_and_the_card_has_them_all(watched: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    """Of a tap near to breaking the surest one too: the cheapest may leave it there."""
    near, others = open_points(watched).watch[0], open_points(watched).watch[1:3]
    assert near.suggestion == "Open the hole. Mill the thread."
    assert [remark.suggestion for remark in others] == ["Open the hole."] * 2
    (card,) = [card for card in process_sheet.build(watched, shop, stamp).cards if card.letter == "D"]
    said = dict(card.facts)["Tap"]
    assert said.startswith("worn, it takes about 60 % of the torque that breaks it.")
    assert said.endswith("Cheapest remedy first: Open the hole. Ask for less thread. Mill the thread.")


def test_the_same_of_several_types_is_one_line(job: JobPlan) -> None:
    again = replace(DEEP, ref=sample_job.ref(31))
    remarks = [each for each in open_points(replace(job, notes=(*job.notes, DEEP, again))).watch if "deep" in each.text]
    assert [each.types for each in remarks] == ["A, E"]


def test_a_long_list_goes_on_behind_the_operations(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    """Twelve lines on page 1: nine notes of two lines each are six there, or fewer, and the rest behind."""
    notes = [replace(DEEP, message=f"{number} " + "words " * 20) for number in range(9)]
    sheet = process_sheet.build(replace(job, notes=(*job.notes, *notes)), shop, stamp)
    numbers = [[remark.text[0] for remark in part if "words" in remark.text] for part in (sheet.watch, sheet.watch_more)]
    assert [*numbers[0], *numbers[1]] == list("012345678")
    assert 4 <= len(numbers[0]) <= 6
    page = render(process_sheet.REPORT.template, sheet, stamp)
    assert page.index('class="operations"') < page.index("Watch, continued") < page.index('id="holes"')


def test_two_lines_too_many_are_no_section(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    one = open_points(job).watch
    sheet = process_sheet.build(job, shop, stamp)
    assert (sheet.watch, sheet.watch_more) == (one, ())


def test_notes_of_an_inch_job_have_inches(inch_job: JobPlan) -> None:
    cell = "Ø6 mm ↧12 mm"
    note = Note(
        "X",
        Severity.ASK,
        f"{cell}: its tip is at 15.24 mm:\n{cell}\n ~~~~",
        "Make it 2.54 mm shallower.",
        assumed="12.7 mm deep.",
        text=cell,
        ref=sample_job.ref(8),
    )
    (question,) = open_points(replace(inch_job, notes=(note,), unread=()), Show("in")).questions
    assert question.problem == f"{cell}: its tip is at 0.600 in (15.24 mm):"
    assert question.suggestion == "Make it 0.100 in (2.54 mm) shallower."
    assert question.assumed == "0.500 in (12.7 mm) deep"
    assert question.marked == ("Ø", "6 mm", " ↧12 mm"), "the cell's own text stays as it is"
    assert question.text == cell


def test_threads_that_look_alike_stand_before_the_questions(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    text = "Look-alike threads: M5x0.8 (holes A) and #10-32 UNF (holes D): a screw of one jams in the other."
    alike = Note("CHECK-LOOKALIKE", Severity.WATCH, text, "Mark the tools.", ref=sample_job.ref(8))
    sheet = process_sheet.build(replace(job, notes=(*job.notes, alike)), shop, stamp)
    assert [remark.text for remark in sheet.points.lookalikes] == [text]
    assert not any("Look-alike" in remark.text for remark in (*sheet.watch, *sheet.watch_more))
    page = render(process_sheet.REPORT.template, sheet, stamp)
    assert page.index("Look-alike threads") < page.index("Open questions")


def test_what_a_closer_note_of_the_same_hole_says_is_said_once(job: JobPlan) -> None:
    general = Note("CHECK-HOLE-DEEP", Severity.WATCH, "A hole 9 diameters deep.", ref=sample_job.ref(8))
    first = replace(job.holes[0], notes=(*job.holes[0].notes, general, DEEP))
    both = replace(job, holes=(first, *job.holes[1:]), notes=(*job.notes, general, DEEP))
    assert [each.text for each in open_points(both).watch if "deep" in each.text] == [DEEP.message]
    alone = replace(job, holes=(replace(first, notes=(general,)), *job.holes[1:]), notes=(*job.notes, general))
    assert [each.text for each in open_points(alone).watch if "deep" in each.text] == [general.message]


def test_long_questions_make_room_for_the_operations(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    """Few short questions stand in full on page 1; long ones behind the operations, and less to watch beside them."""
    assert not process_sheet.build(job, shop, stamp).short_questions
    long = tuple(replace(note, message=note.message + " and so on" * 60) if note.is_question else note for note in job.notes)
    holes = tuple(
        replace(hole, notes=tuple(long[job.notes.index(note)] if note in job.notes else note for note in hole.notes))
        for hole in job.holes
    )
    sheet = process_sheet.build(replace(job, notes=long, holes=holes), shop, stamp)
    assert sheet.short_questions
    page = render(process_sheet.REPORT.template, sheet, stamp)
    assert page.index('class="operations"') < page.index("Open questions in full")
