"""Questions, assumptions and holds as the sheets number them."""

from __future__ import annotations

from dataclasses import replace

import sample_job

from holesched.notes import Note, Severity
from holesched.reports.open_points import held, hold_text, open_points
from holesched.sequence.model import JobPlan


def test_questions_are_numbered_and_placed(job: JobPlan) -> None:
    points = open_points(job)
    assert [(q.number, q.types, q.where, q.planned) for q in points.questions] == [
        (1, "E", "valve_block.xlsx ! Holes ! D31", True),
        (2, "row", "valve_block.xlsx ! Holes ! D50", False),
    ]


def test_the_caret_becomes_a_mark(job: JobPlan) -> None:
    """Carets need letters of one width, which a sheet does not have: the place is framed instead."""
    question = open_points(job).questions[1]
    assert question.problem == "A size was expected after ⌀:"
    assert question.marked == ("⌀ ", "T", "HRU")


def test_a_caret_past_the_end_is_shown_too(job: JobPlan) -> None:
    note = replace(sample_job.UNREAD, message="A depth was expected:\nM8 ↧\n    ^")
    broken = replace(job, notes=(note,), unread=())
    assert open_points(broken).questions[0].marked == ("M8 ↧", "␣", "")


def test_a_message_of_several_sentences_is_left_alone(job: JobPlan) -> None:
    note = replace(sample_job.UNREAD, message="One line.\nAnother line.")
    question = open_points(replace(job, notes=(note,), unread=())).questions[0]
    assert question.problem == "One line.\nAnother line."
    assert question.marked is None


def test_the_same_assumption_of_several_rows_is_one_box(job: JobPlan) -> None:
    again = replace(sample_job.PITCH, ref=sample_job.ref(9))
    points = open_points(replace(job, notes=(*job.notes, again)))
    (remark,) = points.assumed
    assert remark.types == "A"
    assert remark.where == "valve_block.xlsx ! Holes ! D8 and 1 more"


def test_what_must_not_be_cut(job: JobPlan) -> None:
    assert held(job, open_points(job)) == (("E", "HOLD – question 1"), ("1 row", "NOT PLANNED – question 2"))


def test_a_refused_type_is_not_planned(job: JobPlan) -> None:
    note = Note("X", Severity.REFUSED, "no", ref=sample_job.ref(8))
    hole = replace(job.holes[0], cut_plan=None, notes=(note,))
    changed = replace(job, holes=(hole, *job.holes[1:]), notes=(note,))
    points = open_points(changed)
    assert hold_text(hole, points) == "NOT PLANNED – question 1"
    assert not points.questions[0].planned


def test_single_rows_on_hold(job: JobPlan) -> None:
    note = Note("PLACE-TWICE", Severity.ASK, "two holes at one place", ref=sample_job.ref(9))
    hole = replace(job.holes[0], held_rows=(sample_job.ref(9),))
    changed = replace(job, holes=(hole, *job.holes[1:]), notes=(note,), unread=())
    assert hold_text(hole, open_points(changed)) == "HOLD 1 of 12 rows – question 1"


def test_a_note_on_the_whole_job(job: JobPlan) -> None:
    note = Note("MATERIAL-MISSING", Severity.REFUSED, "No material")
    question = open_points(replace(job, notes=(note,), unread=(), holes=())).questions[0]
    assert (question.types, question.where) == ("whole job", "whole job")


def test_no_note_is_lost(job: JobPlan) -> None:
    """Even one that a stage left on a hole and nowhere else."""
    note = Note("X", Severity.ASK, "only on the hole")
    hole = replace(job.holes[0], notes=(note,))
    questions = open_points(replace(job, holes=(hole, *job.holes[1:]))).questions
    assert any(q.problem == "only on the hole" and q.types == "A" for q in questions)
