"""The process sheet and the set-up sheet as HTML."""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser
from importlib.resources import files

import pytest
import sample_job
from tinycss2 import parse_stylesheet, serialize

from holesched.pipeline import explain, read_options
from holesched.reports import REPORTS, process_sheet, setup_sheet
from holesched.reports.base import Report, RunStamp
from holesched.reports.html import render
from holesched.schedule.model import ReadOptions
from holesched.sequence.model import JobPlan
from holesched.shop.model import Machine, ReportStyle, Shop


def html(report: Report, job: JobPlan, shop: Shop, stamp: RunStamp) -> str:
    return render(report.template, report.build(job, shop, stamp), stamp)


class Visible(HTMLParser):
    """The words of a page, its ids and links, and every tag opened and closed."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.sources: list[str] = []
        self.open: list[str] = []
        self._hidden = 0
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.ids += [found["id"] or ""] if "id" in found else []
        self.links += [found["href"] or ""] if "href" in found else []
        self.sources += [found["src"] or ""] if "src" in found else []
        self._hidden += tag in ("style", "script", "title")
        if tag not in ("meta", "col", "br", "path"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        self._hidden -= tag in ("style", "script", "title")
        if tag not in ("meta", "col", "br", "path"):
            assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not self._hidden:
            self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@pytest.fixture(scope="module")
def page(job: JobPlan, shop: Shop, stamp: RunStamp) -> str:
    return html(process_sheet.REPORT, job, shop, stamp)


def test_the_page_is_well_formed_and_its_links_lead_somewhere(page: str) -> None:
    seen = Visible(page)
    assert seen.open == []
    assert len(seen.ids) == len(set(seen.ids))
    assert {link.removeprefix("#") for link in seen.links} <= set(seen.ids)


def test_the_page_needs_no_other_file(page: str) -> None:
    seen = Visible(page)
    assert seen.sources == []
    assert all(link.startswith("#") for link in seen.links)
    assert "<script" not in page
    assert set(re.findall(r'url\("([^:]*):', page)) == {"data"}
    assert "@import" not in page


def test_page_one_says_what_it_is_and_what_is_open(page: str) -> None:
    text = Visible(page).text
    for words in (
        "VB-2047",
        "Valve block",
        "EN AW-6082-T6",
        "valve_block.xlsx ! Holes",
        "3f1a3f1a3f1a 2026-01-02",
        "2 open questions: not released",
        "45 rows in the table = 38 planned + 5 in question + 2 set aside",
        "45 holes in the table = 38 planned + 7 in question",
        "valve_block.xlsx ! Holes ! D31 M10x1.25-6H ↧30",
        "Suggestion: Shorten the full thread to 28 mm",
        "Meanwhile: 30 mm of full thread, drilled 34.4 mm deep; on HOLD until answered.",
        "Not planned until answered.",
        "Left-hand thread: left-hand tap and gauges",
        "The drawing governs.",
    ):
        assert words in text


def test_every_hole_type_has_one_card(page: str, job: JobPlan) -> None:
    assert re.findall(r'<article class="card[^"]*" id="hole-(\w+)">', page) == [hole.type.letter for hole in job.holes]
    assert re.findall(r'<article class="card held" id="hole-(\w+)">', page) == ["E"]
    assert page.count("HOLD – question 1") >= 1


def test_every_operation_and_tool_is_there(page: str, job: JobPlan) -> None:
    text = Visible(page).text
    for operation in job.operations:
        assert f"{operation.number} T{operation.tool_number} " in text
    assert text.count("1491.25") == 2, "the tap's exact feed stands in the operations and on its card"


def test_assumptions_have_a_box(page: str) -> None:
    part = page[page.index('id="assumptions"') : page.index('id="reasons"')]
    assert "M8x1.25 has no class: 6H" in part
    assert part.count('class="box"') == 1


def test_reasons_keep_what_lost_and_the_standing_of_their_source(page: str) -> None:
    text = Visible(page).text
    assert "Not chosen: spiral-point, it pushes chips into the closed end; straight-flute, long chips need a flute" in text
    assert re.search(r"\[\d+\] ISO 965-1:2013, Table 5 \(from memory\)", text)
    assert re.search(r"\[\d+\] common practice, no source", text)


def test_every_source_number_is_in_the_list(page: str) -> None:
    text = Visible(page).text
    body, listed = text.split(" Sources [1]", 1)
    used = {int(number) for group in re.findall(r"\[(\d+(?:, \d+)*)\]", body) for number in group.split(", ")}
    numbers = [1, *(int(number) for number in re.findall(r"\[(\d+)\]", listed))]
    assert used == set(numbers)
    assert numbers == list(range(1, len(numbers) + 1))


HOSTILE = '<script>alert("x")</script><img src=x onerror=alert(1)>'


def test_text_from_the_file_is_never_markup(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    """Every text of the input, in every place it is shown."""
    first = job.holes[0]
    kind = first.type
    hole = replace(kind.hole, callout=HOSTILE, remarks=(HOSTILE,))
    members = tuple(replace(member, tag=HOSTILE, note=HOSTILE) for member in kind.members)
    notes = tuple(replace(note, message=HOSTILE, text=HOSTILE, suggestion=HOSTILE, assumed=HOSTILE) for note in job.notes)
    header = replace(
        job.header,
        part_number=HOSTILE,
        part_name=HOSTILE,
        drawing=HOSTILE,
        revision=HOSTILE,
        material=HOSTILE,
        other=((HOSTILE, HOSTILE),),
    )
    hostile = replace(
        job,
        header=header,
        source=f"{HOSTILE}.xlsx",
        sheet=HOSTILE,
        notes=notes,
        holes=(replace(first, type=replace(kind, hole=hole, members=members), notes=()), *job.holes[1:]),
        set_aside=tuple(replace(row, text=HOSTILE) for row in job.set_aside),
    )
    for report in REPORTS:
        made = html(report, hostile, replace(shop, report=ReportStyle(shop_name=HOSTILE)), stamp)
        assert "<script" not in made
        assert "<img" not in made
        assert HOSTILE in Visible(made).text
        style = made[made.index("<style>") + 7 : made.index("</style>")]
        plain = html(report, job, shop, stamp)
        plain = plain[plain.index("<style>") + 7 : plain.index("</style>")]
        assert rules(style) == rules(plain), "a text in the page foot is escaped: the style sheet's structure is the same"
        assert HOSTILE[:36] in texts_of(style), "long texts are cut in their middle there"


def rules(style: str) -> list[tuple[str, str]]:
    """The style sheet's rules: the kind and the beginning of each."""
    return [(node.type, serialize(node.prelude)) for node in parse_stylesheet(style, True, True)]


def texts_of(style: str) -> str:
    """All strings of the page rule, as a browser reads them."""
    (page,) = (node for node in parse_stylesheet(style, True, True) if getattr(node, "at_keyword", "") == "page")
    boxes = [node.content for node in page.content if node.type == "{} block"]
    return " ".join(token.value for box in boxes for token in box if token.type == "string")


def test_an_answered_job_says_so(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    clear = replace(
        job, notes=(), unread=(), holes=tuple(replace(hole, notes=()) for hole in job.holes if hole.type.letter != "E")
    )
    text = Visible(html(process_sheet.REPORT, clear, shop, stamp)).text
    assert "No open questions" in text
    assert "None: the schedule says everything itself." in text
    assert "HOLD: do not cut" not in text


def test_many_questions_stand_behind_the_operations(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    notes = tuple(replace(sample_job.TOO_DEEP, message=f"problem {n}") for n in range(5))
    text = Visible(html(process_sheet.REPORT, replace(job, notes=notes, unread=()), shop, stamp)).text
    assert text.index("problem 0") > text.index("min a part")


def test_nothing_planned_is_still_a_sheet(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    holes = tuple(replace(hole, cut_plan=None) for hole in job.holes)
    bare = replace(job, holes=holes, operations=(), loading=(), gauges=(), material=None)
    text = Visible(html(process_sheet.REPORT, bare, shop, stamp)).text
    assert "No operation is planned" in text
    assert "No section: nothing is planned for this hole type." in text
    assert "No hole of this job asks for a gauge." in text


def test_the_far_side_is_a_second_set_up(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    last = replace(job.operations[-1], set_up=2)
    turned = replace(job, operations=(*job.operations[:-1], last))
    assert "Set-up 2, far face, part turned over" in Visible(html(process_sheet.REPORT, turned, shop, stamp)).text
    assert "far face, part turned over" in Visible(html(setup_sheet.REPORT, turned, shop, stamp)).text


def test_single_rows_on_hold_are_marked_where_they_are_cut(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    """In the operations, on the card and on the map."""
    first = replace(job.holes[0], held_rows=(sample_job.ref(9),))
    sheet = process_sheet.build(replace(job, holes=(first, *job.holes[1:])), shop, stamp)
    stamped = {line.holes: line.stamps for row in sheet.operations for line in row.lines}
    assert stamped["A: 12×"] == ("HOLD 1 row",)
    assert stamped["E: 4×"] == ("HOLD",)
    assert stamped["B: 4×"] == ()
    dots = [path for path in re.findall(r"<path [^>]*>", sheet.map) if "h0" in path]
    black = sum('stroke="#000"' in path for path in dots) - sum('stroke="#fff"' in path for path in dots)
    assert black == 2, "one row of A, and E"
    assert "rows in question: D9" in sheet.cards[0].remarks


def test_more_tools_than_pots_is_said_on_both_sheets(job: JobPlan, stamp: RunStamp) -> None:
    small = Shop(machine=Machine(pots=10))
    loading = tuple(replace(loaded, pot=loaded.pot if loaded.number <= 10 else None) for loaded in job.loading)
    full = replace(job, loading=loading)
    for report in REPORTS:
        assert "13 tools for 10 pots: T11 to T13 have no pot." in Visible(html(report, full, small, stamp)).text


def test_an_inch_job_is_in_inches(inch_job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    text = Visible(html(process_sheet.REPORT, inch_job, shop, stamp)).text
    for words in (
        "drill #7 (0.2010 in)",
        "ft/min",
        "in/min",
        "Thickness not given",
        "material left under the tip",
    ):
        assert words in text
    assert "mm/min" not in text


def test_a_decimal_comma_goes_all_the_way(job: JobPlan, stamp: RunStamp) -> None:
    text = Visible(html(process_sheet.REPORT, job, Shop(report=ReportStyle(decimal="comma")), stamp)).text
    assert "1491,25" in text
    assert "1491.25" not in text


def test_the_paper_follows_the_shop(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    assert "size: A4 landscape" in html(process_sheet.REPORT, job, shop, stamp)
    assert "size: Letter landscape" in html(process_sheet.REPORT, job, Shop(report=ReportStyle(paper="Letter")), stamp)


def test_equal_jobs_give_equal_pages(job: JobPlan, shop: Shop, stamp: RunStamp) -> None:
    assert html(process_sheet.REPORT, job, shop, stamp) == html(process_sheet.REPORT, sample_job.sample_job(), shop, stamp)


def test_only_reasons_are_smaller_than_nine_points() -> None:
    """Points, or CSS pixels of 0.75 point; sketches use 3.2 mm = 9.07 points. Reasons and sources may have 7.5 on paper."""
    css = files("holesched.templates").joinpath("sheet.css").read_text(encoding="utf-8")
    sizes = re.findall(r"([^{}]+)\{[^{}]*font-size: ([\d.]+)(pt|px)", css)
    assert len(sizes) > 8
    small = {who.strip() for who, size, unit in sizes if float(size) * (1.0 if unit == "pt" else 0.75) < 9.0}
    assert small == {".reason, .sources, .record", ".why, .more-why, .reason.shared"}
    assert min(float(size) * (1.0 if unit == "pt" else 0.75) for _, size, unit in sizes) >= 7.5


def test_colour_carries_no_meaning() -> None:
    """Ink is black on white: what a mono printer prints is what the screen shows."""
    css = files("holesched.templates").joinpath("sheet.css").read_text(encoding="utf-8")
    assert set(re.findall(r"#[0-9a-fA-F]{3,6}\b", css)) <= {"#000", "#fff", "#d8d8d4"}


@pytest.mark.parametrize(
    ("rigid", "share", "words"),
    [
        (True, 1.0, "A tap's feed is its pitch times the spindle speed, to the last digit: do not round it."),
        (
            False,
            0.97,
            "A tap's feed is 0.97 of its pitch times the spindle speed, so that the tap draws its floating holder",
        ),
    ],
)
def test_what_is_said_of_a_taps_feed_is_what_is_planned(rigid: bool, share: float, words: str, stamp: RunStamp) -> None:
    """0.97: common practice, no source."""
    shop = Shop(machine=Machine(rigid_tapping=rigid))
    job = explain("M8x1.25-6H ↧16", shop, read_options(shop, material="C45", thickness_mm=40.0))
    sheet = process_sheet.build(job, shop, stamp)
    assert sheet.tap_feed.startswith(words)
    (tap,) = [row for row in sheet.operations if "tap" in row.title]
    assert float(tap.lines[0].feed_per_rev) == share * 1.25
    assert words in Visible(render(process_sheet.REPORT.template, sheet, stamp)).text


def test_a_job_without_a_tap_in_the_spindle_says_nothing_of_its_feed(stamp: RunStamp) -> None:
    shop = Shop()
    job = explain("Ø8 THRU", shop, read_options(shop, material="C45", thickness_mm=20.0))
    assert process_sheet.build(job, shop, stamp).tap_feed == ""


@pytest.mark.parametrize("callout", ["Ø5 H7 ↧12", "Ø2.5 ↧20", "M6 ↧12"])
@pytest.mark.parametrize(("thickness_mm", "boxes"), [(None, 1), (40.0, 0)])
def test_a_wall_that_nobody_knows_is_an_empty_box(
    callout: str, thickness_mm: float | None, boxes: int, stamp: RunStamp
) -> None:
    job = explain(callout, Shop(), ReadOptions("mm", "CuZn39Pb3", thickness_mm))
    report = process_sheet.REPORT
    made = render(report.template, report.build(job, Shop(), stamp), stamp)
    assert made.count('<span class="blank"></span>') == boxes
    assert made.count("left under the tip") == 1
