"""What either answer to a question would change: worked out where there are few answers, and nowhere else."""

from __future__ import annotations

from pathlib import Path

import pytest

from holesched.answers import proposed_answers
from holesched.pipeline import plan_file
from holesched.reports.base import RunStamp
from holesched.reports.question_letter import Point, build_letter
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop

SHOP, OPTIONS = Shop(), ReadOptions()


def job_of(folder: Path, *rows: str) -> JobPlan:
    path = folder / "plate.csv"
    head = ("MATERIAL,42CrMo4+QT", "THICKNESS,30", "UNITS,mm", "TAG,CALLOUT,QTY,X,Y")
    path.write_text("\n".join((*head, *rows)), encoding="utf-8")
    return plan_file(path, SHOP, OPTIONS)


def point_of(folder: Path, *rows: str) -> Point:
    """The only question of these rows, as the letter asks it."""
    job = job_of(folder, *rows)
    letter = build_letter(job, SHOP, RunStamp.now("0"), proposed_answers(job, SHOP, OPTIONS))
    (point,) = [point for group in letter.groups for point in group.points]
    return point


@pytest.mark.parametrize(
    ("row", "answers"),
    [
        ("A1,M8 x 30 BOLT,1,60,10", {"TAP M8": "tap M8x1.25", "CLEARANCE FOR M8": "drill 9"}),  # ISO 273: 9 for M8, medium
        (
            'A1,"Ø8 H7 ↧12, Ø6 THRU",1,60,10',
            {"CBORE Ø8 H7 ↧12, Ø6 THRU": "counterbore 8", "DRILL Ø8 H7 ↧12, Ø6 THRU": "reamer 8"},
        ),
        (
            "A1,Ø9 THRU CSK Ø18,1,60,10",
            {"Ø9 THRU CSK Ø18 X 82°": "82° countersink", "Ø9 THRU CSK Ø18 X 90°": "90° countersink"},
        ),
    ],
)
def test_other_words_of_the_callout(tmp_path: Path, row: str, answers: dict[str, str]) -> None:
    found = {choice.answer: choice.effect for choice in point_of(tmp_path, row).choices}
    assert list(found) == list(answers)
    for answer, tool in answers.items():
        assert tool in found[answer]


def test_either_of_two_threads(tmp_path: Path) -> None:
    job = job_of(tmp_path, "A1,M6 ↧12 / M8 ↧16,1,60,10")
    (found,) = [
        answers for note, answers in proposed_answers(job, SHOP, OPTIONS).items() if note.code == "CHECK-TWO-THREADS"
    ]
    assert [answer.callout for answer in found] == ["M6 ↧12", "M8 ↧16"]


def test_a_thin_wall_may_be_thicker_or_confirmed(tmp_path: Path) -> None:
    """Ø6 to 29.5 mm in 30 is finished flat, since a point would come out: 0.5 of the shop's 1 mm of wall are missing."""
    point = point_of(tmp_path, "A1,Ø6 ↧29.5,1,60,10")
    as_it_is, shallower = point.choices
    assert as_it_is.answer.startswith("Ø6 ↧29.5 (as it stands")
    assert shallower.answer == "0.5 mm shallower"
    assert "flat-ended drill 6" in shallower.effect


def test_a_hole_deeper_than_the_part_may_be_through(tmp_path: Path) -> None:
    point = point_of(tmp_path, "A1,Ø6 ↧31,1,60,10")
    assert [choice.answer for choice in point.choices][1:] == ["through"]


def test_a_long_thread_may_be_shorter_in_a_hole_drilled_through(tmp_path: Path) -> None:
    job = job_of(tmp_path, "A1,M6 THRU,1,60,10")
    ((answer,),) = proposed_answers(job, SHOP, OPTIONS).values()
    assert answer.callout == "12 mm of thread, drilled through"
    (hole,) = answer.job.holes
    assert hole.cut_plan is not None
    tap = next(step for step in hole.cut_plan.plan.steps if step.kind.makes_thread)
    drill = next(step for step in hole.cut_plan.plan.steps if step.fit is not None and not step.kind.makes_thread)
    assert (tap.depth_mm, tap.through) == (12.0, False)
    assert (drill.tool.size, drill.through) == ("5", True)


@pytest.mark.parametrize(
    ("rows", "numbers"),
    [
        (("A1,4X Ø5 ↧10,6,,",), (6, 4)),
        (("A1,4X Ø5 ↧10,,10,10",), (4, 1)),
        (("A1,Ø5 ↧10,1,10,10", "A2,Ø5 ↧10,1,10,10"), (1, 2)),
    ],
)
def test_how_many_holes(tmp_path: Path, rows: tuple[str, ...], numbers: tuple[int, ...]) -> None:
    """Each number of holes with its minutes a part: the same minutes a hole, so many times."""
    job = job_of(tmp_path, *rows)
    found = [answers for answers in proposed_answers(job, SHOP, OPTIONS).values() if answers[0].holes is not None]
    assert {tuple(answer.holes for answer in answers) for answers in found} == {numbers}
    point = next(
        point
        for group in build_letter(job, SHOP, RunStamp.now("0"), proposed_answers(job, SHOP, OPTIONS)).groups
        for point in group.points
        if point.choices
    )
    minutes = [float(choice.effect.removesuffix(" min a part").rpartition(" ")[2]) for choice in point.choices]
    assert minutes[0] / numbers[0] == pytest.approx(minutes[1] / numbers[1], abs=0.006)


def test_no_answer_is_made_up(tmp_path: Path) -> None:
    """What is asked here may be anything: the letter leaves a line for it."""
    for row in ("A1,Ø10 MAX THRU,1,10,10", "A1,foo bar,1,10,10", "A1,THREADED HOLE,1,10,10", "A1,M8 LH RH THRU,1,10,10"):
        assert not proposed_answers(job_of(tmp_path, row), SHOP, OPTIONS), row


@pytest.mark.parametrize(
    ("callout", "code", "made"),
    [
        ("Ø8.5 FOR M10", "THREAD-OR-PILOT", [(False, None), (True, None)]),
        ("4X Ø8.5 FOR M10 TAP THRU", "THREAD-OR-PILOT", [(False, None), (True, None)]),
        ("M8 STI ↧16", "CALLOUT-INSERT-LENGTH", [(True, 1.0), (True, 1.5), (True, 2.0), (True, 2.5)]),
        ("M8 HELICAL INSERT THRU", "CALLOUT-INSERT-LENGTH", [(True, 1.0), (True, 1.5), (True, 2.0), (True, 2.5)]),
    ],
)
def test_an_answer_written_into_the_cell_settles_its_question(
    tmp_path: Path, callout: str, code: str, made: list[tuple[bool, float | None]]
) -> None:
    """The question's answers, each typed in the place of the callout: planned, and not asked again. Lengths of inserts are
    those of ASME B18.29.2M."""
    job = job_of(tmp_path, f'A1,"{callout}",,60,10')
    (answers,) = [found for note, found in proposed_answers(job, SHOP, OPTIONS).items() if note.code == code]
    settled = []
    for answer in answers:
        again = job_of(tmp_path, f'A1,"{answer.callout}",,60,10')
        (hole,) = again.holes
        assert hole.cut_plan is not None
        assert code not in {note.code for note in hole.notes}
        threaded = any(step.kind.makes_thread for step in hole.cut_plan.plan.steps)
        settled.append((threaded, next((f.insert_diameters for f in hole.type.hole.features if f.insert_diameters), None)))
    assert settled == made
