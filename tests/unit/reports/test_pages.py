"""How the sheets lie on paper: cards of half a page, pages that are used, nothing cut off. Laid out as for the PDF."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from weasyprint import HTML

from holesched.pipeline import explain, plan_file, read_options
from holesched.reports import REPORTS, process_sheet, setup_sheet
from holesched.reports.base import Report, RunStamp
from holesched.reports.html import render
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, ReportStyle, Shop

INPUTS = Path(__file__).parents[3] / "example_inputs"
JOBS = ("manifold_block.xlsx", "bearing_housing.xlsx", "sensor_plate.ods")
MOST_PAGES = {"manifold_block.xlsx": 11, "bearing_housing.xlsx": 13, "sensor_plate.ods": 9}
MM = 25.4 / 96


@pytest.fixture(scope="module", params=["A4", "Letter"])
def paper(request: pytest.FixtureRequest) -> Shop:
    return Shop(report=ReportStyle(paper=request.param))


def pages(report: Report, job: JobPlan, shop: Shop, stamp: RunStamp) -> list[Any]:
    html = render(report.template, report.build(job, shop, stamp), stamp)
    return [page._page_box for page in HTML(string=html).render().pages]


def boxes(box: Any, tag: str, name: str) -> Iterator[Any]:
    """All boxes of elements with this tag and class."""
    element = getattr(box, "element", None)
    if element is not None and box.element_tag == tag and name in (element.get("class") or "").split():
        yield box
        return
    for child in getattr(box, "children", ()):
        yield from boxes(child, tag, name)


@pytest.fixture(scope="module", params=JOBS)
def laid_out(request: pytest.FixtureRequest, paper: Shop, stamp: RunStamp) -> tuple[str, list[Any]]:
    job = plan_file(INPUTS / request.param, paper, read_options(paper))
    return request.param, pages(process_sheet.REPORT, job, paper, stamp)


def test_few_pages(laid_out: tuple[str, list[Any]]) -> None:
    name, found = laid_out
    assert len(found) <= MOST_PAGES[name]


def test_two_cards_fit_on_every_page(laid_out: tuple[str, list[Any]]) -> None:
    """No card is over half the height of the page's inside; one between the first and the last with cards has two."""
    _, found = laid_out
    by_page = [[card.margin_height() for card in boxes(page, "article", "card")] for page in found]
    for page, cards in zip(found, by_page, strict=True):
        assert all(height <= page.height / 2 for height in cards), [round(height * MM) for height in cards]
    with_cards = [cards for cards in by_page if cards]
    assert all(len(cards) >= 2 for cards in with_cards[1:-1])


def test_operations_begin_on_page_one(laid_out: tuple[str, list[Any]]) -> None:
    """At least four lines of them, and not a fifth of the page is left white under them."""
    _, found = laid_out
    (table,) = boxes(found[0], "table", "operations")
    bodies = [child for child in table.get_wrapped_table().children if child.element_tag == "tbody"]
    assert sum(len(body.children) for body in bodies) >= 4
    end = table.position_y + table.margin_height()
    inside = found[0].content_box_y() + found[0].height
    assert 0 <= (inside - end) <= found[0].height / 5


def test_nothing_lies_outside_the_page(laid_out: tuple[str, list[Any]]) -> None:
    _, found = laid_out
    for page in found:
        right = page.content_box_x() + page.width
        for box in page.children[0].descendants():
            if type(box).__name__ == "TextBox":
                assert box.position_x + box.width <= right + 1, box.text


CALLOUTS = [
    "M30x2-6H ↧40", "M8-6H ↧16", "1/4-18 NPT", "⌀6.6 THRU CSK ⌀13 X 90° BOTH SIDES", "M10 THRU ⌴ ⌀20 ↧8", "⌀8 H7 ↧20",
    "M8x1-6H ↧12 ⌴ ⌀14 ↧4", "⌀2 ↧60", "M16 LH ↧32",
]  # fmt: skip


@pytest.mark.parametrize("material", ["Ti-6Al-4V", "X153CrMoV12 60 HRC"])
@pytest.mark.parametrize("callout", CALLOUTS)
def test_a_card_of_any_hole_keeps_to_half_a_page(callout: str, material: str, shop: Shop, stamp: RunStamp) -> None:
    """Even a hole type alone in its job, which has no one to share its reasons with."""
    job = explain(callout, shop, read_options(shop, material=material, thickness_mm=60.0))
    found = pages(process_sheet.REPORT, job, shop, stamp)
    (height,) = [card.margin_height() for page in found for card in boxes(page, "article", "card")]
    assert height <= found[0].height / 2, round(height * MM)


def test_the_setting_fields_stay_together(job: JobPlan, paper: Shop, stamp: RunStamp) -> None:
    found = [list(boxes(page, "table", "fields")) for page in pages(setup_sheet.REPORT, job, paper, stamp)]
    assert [len(tables) for tables in found if tables] == [1]


@pytest.mark.parametrize("report", REPORTS, ids=lambda report: report.key)
def test_a_browser_without_margin_boxes_has_the_foot_too(report: Report, job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    """Part, revision, document, source and date stand in an element that is shown only there; on the PDF's pages it takes
    no room."""
    html = render(report.template, report.build(job, shop, stamp), stamp)
    foot = html[html.index('<p class="foot">') :].partition("</p>")[0]
    for words in ("VB-2047 revision C", report.title, "valve_block.xlsx", "3f1a3f1a3f1a 2026-01-02"):
        assert words in foot
    assert not [box for page in pages(report, job, shop, stamp) for box in boxes(page, "p", "foot")]


@pytest.mark.parametrize("report", [process_sheet.REPORT, setup_sheet.REPORT], ids=lambda report: report.key)
def test_what_forbids_the_release_has_a_line_of_its_own(report: Report, stamp: RunStamp) -> None:
    """Beside the rows and holes a long one ran into them."""
    weak = Shop(machine=Machine(spindle_torque_nm=20, spindle_power_kw=2, thread_milling=False))
    job = explain("M48-6H ↧80 ⌵ ⌀68", weak, ReadOptions(material="EN-GJL-250", thickness_mm=120.0))
    first = pages(report, job, weak, stamp)[0]
    (status,) = boxes(first, "span", "own")
    census = next(boxes(first, "p", "census"))
    below = [child for child in census.children if child is not status]
    assert below
    assert all(child.position_y >= status.position_y + status.margin_height() for child in below)
