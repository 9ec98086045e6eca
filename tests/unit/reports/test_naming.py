"""Names of tools, places and runs of tags."""

from __future__ import annotations

import sample_job

from holesched.notes import CellRef
from holesched.pipeline import explain
from holesched.reports.html import unbroken
from holesched.reports.naming import TAGS_SHOWN, diameter_name, place, tag_runs, tag_text, tool_name
from holesched.reports.show import Show
from holesched.schedule.model import ReadOptions
from holesched.shop.model import Shop
from holesched.standards.sizes import Size
from holesched.tooling.model import StepKind, Tool


def test_a_drill_named_by_its_size_needs_no_second_size() -> None:
    assert tool_name(sample_job.drill(6.8), Show("mm")).title == "drill 6.8"


def test_a_drill_with_a_trade_name_shows_both_units() -> None:
    drill = sample_job.drill(5.1054, "#7")
    inch, metric = tool_name(drill, Show("in")), tool_name(drill, Show("mm"))
    assert (inch.title, inch.detail.split(", ")[0]) == ("drill #7 (0.2010 in)", "5.105 mm")
    assert (metric.title, metric.detail.split(", ")[0]) == ("drill #7 (5.105 mm)", "0.2010 in")


def test_a_metric_tool_in_an_inch_job_says_so() -> None:
    """And an inch size written as a decimal needs no second inch size."""
    assert tool_name(sample_job.drill(12.0), Show("in")).title == "drill 12 mm (0.4724 in)"
    assert tool_name(sample_job.drill(12.7, ".5 in"), Show("in")).title == "drill 0.5000 in"
    assert tool_name(sample_job.drill(12.7, ".5"), Show("mm")).title == "drill 12.7 mm (0.5000 in)"


def test_a_tap_names_everything_that_makes_it_another_tap() -> None:
    tap = sample_job.tap("M6x1", 6, 1.0, "spiral-point", sample_job.LONG, left=True)
    name = tool_name(tap, Show("mm"))
    assert name.title == "spiral-point tap M6x1"
    assert name.detail == "HSS-E, bright, 3 flutes, plug chamfer (B, 4.5 threads), ISO 2 (6H), left hand"
    assert name.left_hand


def test_tags_are_drawn_together() -> None:
    assert tag_runs(["A1", "A2", "A3", "B7", "B9", "C", "D001", "D002"]) == ["A1–A3", "B7", "B9", "C", "D001–D002"]
    assert tag_runs(["A10", "A9"]) == ["A10", "A9"]


def test_a_long_list_of_tags_says_how_many_are_left_out() -> None:
    tags = [f"A{2 * n}" for n in range(TAGS_SHOWN + 5)]
    text = tag_text(tags)
    assert text.endswith("and 5 more (tool_list.xlsx, sheet Holes)")
    assert text.count(",") == TAGS_SHOWN - 1 + 1


def test_places_leave_folders_out() -> None:
    assert place(CellRef("/somewhere/else/part.xlsx", "Holes", 7, 3)) == "part.xlsx ! Holes ! C7"
    assert place(None) == ""


def test_number_and_letter_sizes_have_no_diameter_sign() -> None:
    names = [diameter_name(Size(6.0, label)) for label in ("8", ".25 in", "1/4", "#7", "F")]
    assert names == ["⌀8", "⌀.25 in", "⌀1/4", "#7", "F"]


def test_a_reamers_limits_are_in_the_jobs_unit() -> None:
    reamer = Tool(StepKind.REAM, 6.35, ".25 in", "HSS-E", flutes=6, limit="6.350 to 6.363 mm")
    assert tool_name(reamer, Show("in")).detail.endswith("0.2500 to 0.2505 in")
    assert tool_name(reamer, Show("mm")).detail.endswith("6.350 to 6.363 mm")


def test_what_notes_call_a_tool_has_the_unit_of_a_metric_size() -> None:
    """A metric size alone could be read in inches; a number, letter, fraction or inch size cannot."""
    drills = [sample_job.drill(15.0), sample_job.drill(5.1054, "#7"), sample_job.drill(12.7, "1/2")]
    assert [drill.called for drill in drills] == ["drill 15 mm", "drill #7", "drill 1/2"]
    head = Tool(StepKind.BORE, 56.0, "44 to 56", "carbide", name="boring head, set anew for each pass")
    assert head.called == "boring head 44 to 56 mm"
    assert tool_name(head, Show("mm")).title == "boring head 44 to 56"
    assert tool_name(head, Show("in")).title == "boring head 44 to 56 mm (1.7323 to 2.2047 in)"
    assert [Size(15.0, "15").named, Size(6.8, "6.8").named, Size(12.7, ".5 in").named] == ["15 mm", "6.8 mm", ".5 in"]


def test_the_cutter_of_a_thread_mill_has_its_unit_on_an_inch_sheet() -> None:
    mill = Tool(StepKind.THREAD_MILL, 7.1, "7.1 x 16 TPI", "carbide", name="thread mill")
    assert tool_name(mill, Show("in")).title == "thread mill 7.1 mm x 16 TPI"
    assert tool_name(mill, Show("mm")).title == "thread mill 7.1 x 16 TPI"


def test_a_figure_in_a_title_keeps_its_unit_on_its_line() -> None:
    assert unbroken("drill 12 mm (0.4724 in)") == "drill 12\u00a0mm (0.4724\u00a0in)"
    assert unbroken("thread mill 7.1 mm x 16 TPI") == "thread mill 7.1\u00a0mm x 16 TPI"
    assert unbroken("drill in steps") == "drill in steps"


def test_a_whole_inch_is_no_millimetre() -> None:
    """The trade's label of a drill of one inch is "1"; so is that of a drill of one millimetre."""
    assert [Size(25.4, "1").named, Size(1.0, "1").named, Size(50.8, "2").named] == ["1 in", "1 mm", "2 in"]
    drill = sample_job.drill(25.4, "1")
    assert drill.called == "drill 1 in"
    assert tool_name(drill, Show("in")).title == "drill 1.0000 in"


def test_reasons_of_an_inch_job_read_a_whole_inch_as_such() -> None:
    job = explain("Ø1.0000 THRU", Shop(), ReadOptions("in", "6061-T6", 12.7))
    decisions = {reason.decision for hole in job.holes for cut in hole.cuts for reason in cut.step.reasons}
    assert "drill: 1 in" in decisions
    assert not any(
        "1 mm" in Show("in").running(decision).partition(" to ")[0] for decision in decisions if "drill" in decision
    )
