"""The sheet as a browser shows it, at the width of a shop tablet and of a desk: what is visible, legible and reachable."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from pypdf import PdfReader

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "unit" / "reports"))

import sample_job

from holesched.pipeline import plan_file, read_options
from holesched.reports import REPORTS
from holesched.reports.base import RunStamp
from holesched.reports.html import render
from holesched.reports.takeoff import write_takeoff
from holesched.shop.model import Shop

pytestmark = pytest.mark.browser
WIDTHS = {"tablet": (820, 1180), "tablet on its side": (1180, 820), "desk": (1440, 900)}
STAMP = RunStamp(date(2026, 1, 2), "0.1.0")
EXAMPLES = Path(__file__).resolve().parent.parent.parent / "example_inputs"


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    found = next((path for name in ("chromium", "chromium-browser") if (path := shutil.which(name))), None)
    if found is None:
        pytest.fail("browser tests need Chromium: on Debian, apt-get install chromium")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(
            executable_path=found, args=["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"]
        )
        yield started
        started.close()


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sheets")
    for report in REPORTS:
        html = render(report.template, report.build(sample_job.sample_job(), Shop(), STAMP), STAMP)
        (folder / f"{report.key}.html").write_text(html, encoding="utf-8")
    return folder / "process_sheet.html"


@pytest.fixture(params=list(WIDTHS))
def page(request: pytest.FixtureRequest, browser: Browser, sheet: Path) -> Iterator[Page]:
    """The sheet opened from a file, without any network, with every request and error written down."""
    width, height = WIDTHS[request.param]
    context = browser.new_context(viewport={"width": width, "height": height}, offline=True)
    opened = context.new_page()
    asked: list[str] = []
    errors: list[str] = []
    opened.on("request", lambda made: asked.append(made.url))
    opened.on("pageerror", lambda problem: errors.append(str(problem)))
    opened.on("console", lambda said: errors.append(said.text))
    opened.goto(sheet.as_uri())
    yield opened
    assert errors == []
    assert [url for url in asked if not url.startswith(("data:", sheet.as_uri()))] == []
    context.close()


def test_what_to_load_and_what_to_watch_is_visible_at_once(page: Page) -> None:
    for words in ("VB-2047", "2 open questions: not released", "Open questions", "Watch", "Cautions"):
        where = page.get_by_text(words, exact=True).first
        assert where.is_visible(), words
        box = where.bounding_box()
        assert box is not None
        assert box["y"] < page.viewport_size["height"], f"'{words}' stands on the first screen"  # type: ignore[index]


def test_nothing_runs_out_of_the_page(page: Page) -> None:
    """No scrolling sideways, and no cell's text wider than its cell."""
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    spilt = page.evaluate(
        "[...document.querySelectorAll('td, th, p, li')].filter(e => e.scrollWidth > e.clientWidth + 1)"
        ".map(e => e.textContent.trim().slice(0, 60))"
    )
    assert spilt == []


def test_numbers_are_not_broken_over_two_lines(page: Page) -> None:
    broken = page.evaluate(
        """[...document.querySelectorAll('.operations td.n, .operations td.depth, .card td.n, .no')].filter(cell => {
             const range = document.createRange(); range.selectNodeContents(cell);
             const lines = new Set([...range.getClientRects()].map(r => Math.round(r.top))).size;
             return lines > Math.max(1, cell.textContent.trim().split('\\n').length);
           }).map(cell => cell.textContent.trim())"""
    )
    assert broken == []


def test_type_is_at_least_nine_points(page: Page) -> None:
    small = page.evaluate(
        """[...document.querySelectorAll('body *')].filter(e => {
             const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
             return own && !['STYLE', 'SCRIPT'].includes(e.tagName) && !(e instanceof SVGElement)
                 && parseFloat(getComputedStyle(e).fontSize) < 12;
           }).map(e => e.textContent.trim().slice(0, 40))"""
    )
    assert small == [], "12 CSS pixels are 9 points"


def test_the_sheets_own_font_is_used(page: Page) -> None:
    assert (
        page.evaluate("document.fonts.ready.then(() => [...document.fonts].filter(f => f.status === 'loaded').length)") == 2
    )
    assert page.evaluate("getComputedStyle(document.body).fontFamily").startswith('"Holesched Sheet"')


def test_every_operation_is_readable(page: Page) -> None:
    rows = page.locator(".operations tbody")
    assert page.locator(".operations tbody:not(.more)").count() == 13
    for number in range(rows.count()):
        row = rows.nth(number)
        assert row.is_visible()
        box = row.bounding_box()
        assert box is not None
        assert box["height"] >= 28, "room for a thumb and a pen"


def test_holds_and_left_hand_are_marked(page: Page) -> None:
    assert page.locator(".operations .hold").count() == 3
    assert page.locator(".operations .hold").first.is_visible()
    assert page.locator(".operations .lh").count() == 1
    held = page.locator("article.held .hold")
    assert held.inner_text() == "HOLD – question 1"
    style = held.evaluate("e => [getComputedStyle(e).color, getComputedStyle(e).backgroundColor]")
    assert style == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"], "white on black: it survives a mono printer"


def test_cards_have_their_section_and_it_is_seen_whole(page: Page) -> None:
    cards = page.locator("article.card")
    assert cards.count() == 6
    for number in range(6):
        card = cards.nth(number)
        inside, sketch = card.bounding_box(), card.locator("svg").first.bounding_box()
        assert inside is not None
        assert sketch is not None
        assert sketch["width"] > 80
        assert sketch["x"] >= inside["x"]
        assert sketch["x"] + sketch["width"] <= inside["x"] + inside["width"]


def test_a_letter_leads_to_its_card(page: Page) -> None:
    """Large enough to hit with a glove (44 pixels), and the card's head is not hidden under the bar."""
    link = page.locator("nav a", has_text="D").and_(page.locator(".letter-link"))
    box = link.bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 44
    link.click()
    page.wait_for_timeout(100)
    bar, card = page.locator("nav").bounding_box(), page.locator("#hole-D").bounding_box()
    assert bar is not None
    assert card is not None
    assert card["y"] >= bar["y"] + bar["height"] - 1
    assert page.locator("#hole-D .callout").inner_text() == "M6x1-6H-LH THRU"


def test_the_map_shows_every_type(page: Page) -> None:
    page.locator("#map").scroll_into_view_if_needed()
    letters = set(page.locator("#map svg g text").all_text_contents())
    assert letters == set("ABCDEF")
    assert page.locator("#map svg").is_visible()


def test_the_set_up_sheet_shows_the_carousel(browser: Browser, sheet: Path) -> None:
    page = browser.new_page(viewport={"width": 820, "height": 1180})
    page.goto(sheet.with_name("setup_sheet.html").as_uri())
    assert page.get_by_text("Carousel", exact=True).is_visible()
    assert page.locator("table.tools").first.locator("tbody tr").count() == 13
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    page.close()


def printed(page: Page, to: Path) -> list[str]:
    """The pages that the browser prints, as text."""
    page.emulate_media(media="print")
    page.pdf(path=to, prefer_css_page_size=True)
    return [each.extract_text() for each in PdfReader(to).pages]


def test_every_page_that_a_browser_prints_says_what_it_belongs_to(browser: Browser, sheet: Path, tmp_path: Path) -> None:
    for name in ("process_sheet.html", "setup_sheet.html"):
        page = browser.new_page()
        page.goto(sheet.with_name(name).as_uri())
        pages = printed(page, tmp_path / "printed.pdf")
        page.close()
        assert len(pages) >= 2
        for number, text in enumerate(pages, start=1):
            assert "VB-2047 revision C" in text
            assert f"Sheet {number} of {len(pages)}" in text


def test_a_printed_takeoff_has_its_feet_too(browser: Browser, tmp_path: Path) -> None:
    write_takeoff([sample_job.sample_job(), sample_job.inch_job()], Shop(), 250, tmp_path, frozenset({"html"}), STAMP)
    page = browser.new_page()
    page.goto((tmp_path / "takeoff.html").as_uri())
    pages = printed(page, tmp_path / "printed.pdf")
    page.close()
    for number, text in enumerate(pages, start=1):
        assert f"Sheet {number} of {len(pages)}" in text
        assert "lot 250" in text


def test_letters_that_the_sheets_font_lacks_have_a_font(browser: Browser, tmp_path: Path) -> None:
    """Japanese, Greek and Cyrillic in the title block: the generic family stands behind the sheet's own, everywhere."""
    job = sample_job.sample_job()
    name = "軸受ハウジング Ось Άξονας"
    job = replace(job, header=replace(job.header, part_name=name, part_number="部品-7"))
    report = REPORTS[0]
    path = tmp_path / "sheet.html"
    path.write_text(render(report.template, report.build(job, Shop(), STAMP), STAMP), encoding="utf-8")
    page = browser.new_page()
    page.goto(path.as_uri())
    assert page.get_by_text(name).first.is_visible()
    assert page.title() == "Process sheet 部品-7 revision C"
    families = page.evaluate(
        "[...new Set([...document.querySelectorAll('body *')].map(e => getComputedStyle(e).fontFamily))]"
    )
    assert families
    assert all(family.endswith("sans-serif") for family in families), families
    page.close()


@pytest.mark.parametrize("width", [800, 1400])
@pytest.mark.parametrize("name", ["bearing_housing.xlsx", "manifold_block.xlsx", "sensor_plate.ods"])
def test_no_number_of_an_example_runs_into_its_neighbour(browser: Browser, tmp_path: Path, name: str, width: int) -> None:
    """In inches a tap's feeds have five figures: they filled their columns."""
    shop = Shop()
    job = plan_file(EXAMPLES / name, shop, read_options(shop))
    for report in REPORTS:
        html = render(report.template, report.build(job, shop, STAMP), STAMP)
        (tmp_path / "sheet.html").write_text(html, encoding="utf-8")
        page = browser.new_page(viewport={"width": width, "height": 1180})
        page.goto((tmp_path / "sheet.html").as_uri())
        spilt = page.evaluate(
            """[...document.querySelectorAll('td, th, p, li')].filter(e => {
                 const range = document.createRange(); range.selectNodeContents(e);
                 const text = range.getBoundingClientRect(), cell = e.getBoundingClientRect();
                 return text.width && (text.left < cell.left - 0.5 || text.right > cell.right + 0.5);
               }).map(e => e.textContent.trim().slice(0, 60))"""
        )
        assert spilt == []
        page.close()


@pytest.mark.parametrize("width", [820, 1440])
def test_the_takeoff_fits_the_screen(browser: Browser, tmp_path: Path, width: int) -> None:
    write_takeoff([sample_job.sample_job(), sample_job.inch_job()], Shop(), 250, tmp_path, frozenset({"html"}), STAMP)
    page = browser.new_page(viewport={"width": width, "height": 1180})
    page.goto((tmp_path / "takeoff.html").as_uri())
    for words in ("Takeoff", "Holes by size", "Taps", "Drills", "What these figures rest on"):
        assert page.get_by_text(words, exact=True).first.is_visible()
    for words in ("Time for the lot", "Taps for the lot", "Open questions", "Assumed", "Not in it: material"):
        box = page.get_by_text(words).first.bounding_box()
        assert box is not None
        assert box["y"] + box["height"] < 900, f"'{words}' stands on the first screen"
    spilt = page.evaluate(
        "[...document.querySelectorAll('td, th, p, li')].filter(e => e.scrollWidth > e.clientWidth + 1)"
        ".map(e => e.textContent.trim().slice(0, 60))"
    )
    assert spilt == []
    page.close()


def test_the_cautions_stand_together_under_their_heading(page: Page) -> None:
    """In one column: nobody reads the heading with one caution and misses those in the next."""
    lefts = page.eval_on_selector_all(".cautions > h3, .cautions > ul", "all => all.map(e => e.getClientRects().length)")
    assert lefts == [1, 1]
    heading, listed = page.eval_on_selector_all(
        ".cautions > h3, .cautions > ul", "all => all.map(e => e.getBoundingClientRect().left)"
    )
    assert heading == listed
