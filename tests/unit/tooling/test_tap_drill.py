"""Which drill before which tap, and what the reasons say about the others."""

from __future__ import annotations

import pytest
from tooling_samples import geometry

from holesched.notes import Note, Severity, Standing
from holesched.shop.model import DrillOversize, Shop, ShopTool
from holesched.standards.sizes import Size
from holesched.tooling.tap_drill import (
    LARGEST,
    LARGEST_ODD,
    SMALLEST,
    chart_drill,
    check_tap_drill,
    choose_tap_drill,
    hole_window,
)


def label(thread: str, material: str = "HSS-Co", **options: object) -> str:
    found = choose_tap_drill(geometry(thread), material, **options)  # type: ignore[arg-type]
    assert not isinstance(found, Note), found.message
    return found[0].label


@pytest.mark.parametrize(
    ("thread", "drill"),
    [("M3x0.5-6H", "2.5"), ("M6x1-6H", "5"), ("M8x1.25-6H", "6.8"), ("M10x1.5-6H", "8.5"), ("M12x1.75-6H", "10.2")],
)
def test_ordinary_threads_get_the_drill_of_the_chart(thread: str, drill: str) -> None:
    """ISO 2306, the drills every shop keeps for coarse threads."""
    assert label(thread) == drill


@pytest.mark.parametrize(
    ("thread", "drill"),
    [
        ("#8-32 UNC-2B", "#29"),
        ("#10-32 UNF-2B", "#21"),
        ("1/4-20 UNC-2B", "#7"),
        ("3/8-16 UNC-2B", "5/16"),
        ("1/2-13 UNC-2B", "27/64"),
    ],
)
def test_inch_threads_prefer_inch_drills(thread: str, drill: str) -> None:
    """The usual US tap drill chart (from memory; #8-32 and #10-32 also in bd_warehouse 0.4.0 data/tap_hole_sizes.csv)."""
    assert label(thread) == drill


def test_a_metric_drill_where_no_inch_drill_fits() -> None:
    """1/2-20 UNF: 29/64 and the oversize of a steel drill go over the limit; in carbide it is legal."""
    size, fit, reason = choose_tap_drill(geometry("1/2-20 UNF-2B"), "HSS-Co")  # type: ignore[misc]
    assert size.label == "11.4"
    assert fit.window_mm[0] <= size.mm
    assert fit.hole_mm <= fit.window_mm[1]
    (chart,) = [lost for lost in reason.rejected if lost.candidate == "29/64"]
    assert chart.rule == "TAP-DRILL-OVERSIZE"
    assert "legal in carbide" in chart.because
    assert label("1/2-20 UNF-2B", "carbide") == "29/64"


def test_the_shop_knows_how_far_its_own_drills_cut() -> None:
    """29/64 before 1/2-20 UNF: with the shop's 0.02 mm its 11.529 mm stay under the largest minor diameter, 0.457 in
    (ASME B1.1), and the reason's source is the shop; 0.3 mm over leave no drill for M6."""
    exact = Shop(oversizes=(DrillOversize("HSS-Co", from_mm=10.0, expected_mm=0.02, worst_mm=0.03),))
    size, fit, reason = choose_tap_drill(geometry("1/2-20 UNF-2B"), "HSS-Co", shop=exact)  # type: ignore[misc]
    assert size.label == "29/64"
    assert fit.hole_mm == pytest.approx(29 / 64 * 25.4 + 0.02)
    assert reason.cites[-1].standing is Standing.SHOP
    assert str(reason.cites[-1]) == "shop file, oversize (shop's own)"
    assert label("1/2-20 UNF-2B", "HSS", shop=exact) == "11.4"
    loose = Shop(oversizes=(DrillOversize(expected_mm=0.3, worst_mm=0.4),))
    question = choose_tap_drill(geometry("M6x1-6H"), "HSS-Co", shop=loose)
    assert isinstance(question, Note)
    assert question.code == "TAP-DRILL-NONE"


def test_a_drill_legal_in_carbide_may_fail_in_steel() -> None:
    """M6 and 5.1 mm: 5.12 mm in carbide, 5.15 to 5.18 in high-speed steel, on or over the limit of 5.153 mm (ISO 965-2)."""
    _, _, reason = choose_tap_drill(geometry("M6x1-6H"), "HSS-Co")  # type: ignore[misc]
    (larger,) = [lost for lost in reason.rejected if lost.candidate == "5.1 mm"]
    assert larger.rule == "TAP-DRILL-WORST"
    assert label("M6x1-6H", "HSS-Co", aim=LARGEST) == "5"
    assert label("M6x1-6H", "carbide", aim=LARGEST) == "5.1"


def test_a_short_engagement_takes_the_smallest_hole() -> None:
    assert label("M12x1.75-6H", "carbide", aim=SMALLEST) == "10.2"
    assert label("M12x1.75-6H", "carbide", aim=LARGEST) == "10.4"


def test_the_crib_comes_first() -> None:
    crib = (ShopTool("drill", "10.3"), ShopTool("tap", "M12x1.75"))
    assert label("M12x1.75-6H", "carbide", shop=Shop(crib=crib)) == "10.3"
    assert label("M12x1.75-6H", "carbide", shop=Shop(crib=(ShopTool("tap", "M12x1.75"),))) == "10.2"
    assert label("M12x1.75-6H", "carbide", shop=Shop(crib=(ShopTool("drill", "10.3", "HSS"),))) == "10.2"


def test_the_crib_without_a_legal_drill_is_passed_over() -> None:
    assert label("M8x1.25-6H", shop=Shop(crib=(ShopTool("drill", "6.5"),))) == "6.8"


def test_percentages_at_the_hole_and_at_the_limits() -> None:
    _, fit, _ = choose_tap_drill(geometry("M8x1.25-6H"), "HSS-Co")  # type: ignore[misc]
    most, least = fit.percent_at_limits
    assert most > fit.percent > least
    assert round(most, 1) == 83.3  # (8 - 6.647) x 76.98 / 1.25
    assert round(least, 1) == 67.0  # (8 - 6.912) x 76.98 / 1.25


def test_a_forming_tap_wants_a_larger_hole() -> None:
    """65 % by Machinery's Handbook, cold form tapping: M8 7.45 mm."""
    size, fit, reason = choose_tap_drill(geometry("M8x1.25-6H"), "HSS-Co", forming=True)  # type: ignore[misc]
    assert size.label == "7.4"
    assert round(fit.percent) == 65
    assert reason.rule == "TAP-DRILL-FORMING"


def test_a_stated_drill_inside_is_kept_and_one_outside_is_asked() -> None:
    m8 = geometry("M8x1.25-6H")
    fit, reason, question = check_tap_drill(m8, Size(6.7, "6.7"), "HSS-Co")
    assert question is None
    assert reason.rule == "TAP-DRILL-STATED"
    assert round(fit.hole_mm, 2) == 6.75
    for wrong, word in ((6.5, "under the smallest"), (7.0, "over the largest")):
        _, _, question = check_tap_drill(m8, Size(wrong, f"{wrong:g}"), "HSS-Co")
        assert question is not None
        assert question.code == "TAP-DRILL-STATED-OUTSIDE"
        assert question.severity is Severity.ASK
        assert word in question.message
        assert "6.647 to 6.912" in question.message
        assert "6.8" in question.suggestion


def test_a_taper_thread_takes_the_charts_drill() -> None:
    """1/4-18 NPT: 7/16, ASME B94.9 in Machinery's Handbook, 31st edition, p. 1005."""
    size, _, reason = choose_tap_drill(geometry("1/4-18 NPT"), "HSS-Co")  # type: ignore[misc]
    assert size.label == "7/16"
    assert reason.rule == "TAP-DRILL-CHART"


def test_no_legal_drill_is_a_question_with_figures() -> None:
    """A window narrower than any drill's step and oversize."""
    from dataclasses import replace

    from holesched.standards.sizes import Limits

    tight = replace(geometry("M8x1.25-6H"), minor=Limits(6.81, 6.83))
    question = choose_tap_drill(tight, "HSS-Co")
    assert isinstance(question, Note)
    assert question.code == "TAP-DRILL-NONE"
    assert question.is_question
    assert "6.810 to 6.830" in question.message


def test_charts_name_real_drills_for_real_threads() -> None:
    found = chart_drill(geometry("1/4-20 UNC-2B"))
    assert found is not None
    assert found[0].label == "#7"
    assert hole_window(geometry("1/4-20 UNC-2B"))[0] < found[0].mm


@pytest.mark.parametrize(
    ("thread", "material", "label"),
    [
        ("M6x1-6H", "HSS-Co", "5.05"),
        ("M8x1.25-6H", "HSS-Co", "6.8"),
        ("M6x1-6H", "carbide", "5.1"),
        ("M10x1.5-6H", "HSS-Co", "8.55"),
    ],
)
def test_odd_sizes_come_nearer_to_the_largest_hole(thread: str, material: str, label: str) -> None:
    """Calculated: 5.05 + 0.08 = 5.13 of 5.153, 5.1 + 0.08 is over it; 6.85 + 0.08 = 6.93 over 6.912; 5.1 + 0.03 = 5.13 in
    carbide; 8.55 + 0.08 = 8.63, 8.6 + 0.08 = 8.68 over 8.676."""
    found = choose_tap_drill(geometry(thread), material, aim=LARGEST_ODD)
    assert not isinstance(found, Note)
    assert found[0].label == label
