"""Numbers as text."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.pipeline import explain, read_options
from holesched.reports.show import Show, count
from holesched.shop.model import Shop
from holesched.standards.sizes import Limits

MM, INCH, COMMA = Show("mm"), Show("in"), Show("mm", comma=True)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (MM.length(21.0), "21.00"),
        (MM.length(None), "–"),
        (COMMA.length(20.375), "20,38"),
        (INCH.length(12.7), "0.500"),
        (MM.short(21.0), "21"),
        (MM.short(6.8), "6.8"),
        (MM.short(-0.001), "0"),
        (MM.short(-1.5), "−1.5"),
        (MM.fine(6.6471), "6.647"),
        # 1/4-20 UNC-2B minor diameter 0.1960 to 0.2070 in (ASME B1.1, from memory)
        (INCH.limits(Limits(0.196 * 25.4, 0.207 * 25.4)), "0.1960 to 0.2070"),
        (MM.limits(Limits(8.0, None)), "8.000 min"),
        (MM.surface(30.0), "30.0"),
        (MM.surface(171.2), "171"),
        # 1 ft = 0.3048 m: 30.48 m/min is 100 ft/min
        (INCH.surface(30.48), "100"),
        (MM.percent(73.6), "74 %"),
        (MM.hours(125), "2 h 05 min"),
        (MM.hours(59.4), "59 min"),
        (MM.torque(0.62), "0.62"),
        (MM.torque(12.34), "12.3"),
        (MM.torque(0.0064), "0.006"),
        (INCH.torque(0.026), "0.23"),  # 1 N·m is 8.851 lbf·in
        (INCH.torque(0.005), "0.044"),
        (INCH.torque(1.0), "8.9"),
    ],
)
def test_numbers(text: str, expected: str) -> None:
    assert text == expected


def test_a_taps_feed_is_printed_exactly() -> None:
    """Pitch times speed to the last place: 1193 rev/min at P 1.25 is 1491.25 mm/min, at 20 threads an inch 59.65 in/min."""
    assert MM.feed(1193 * 1.25, exact=True) == "1491.25"
    assert MM.feed(1193 * 1.25, exact=False) == "1491"
    assert INCH.feed(1193 / 20 * 25.4, exact=True) == "59.65"
    assert MM.feed_per_rev(1.25, exact=True) == "1.25"
    assert MM.feed_per_rev(25.4 / 13, exact=True) == "1.9538"
    assert INCH.feed_per_rev(25.4 / 16, exact=True) == "0.0625"
    assert INCH.feed_per_rev(0.2, exact=False) == "0.0079"


# The inch is 25.4 mm exactly (agreement of 1959), a foot 12 inches; values worked out by hand.
@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3.15 mm", "0.124 in (3.15 mm)"),
        (
            "its point of 3.15 mm must be clear, and 1 mm more",
            "its point of 0.124 in (3.15 mm) must be clear, and 0.039 in (1 mm) more",
        ),
        ("inside 6.647 to 6.912 mm", "inside 0.2617 to 0.2721 in (6.647 to 6.912 mm)"),
        ("finished 6.350-6.363 mm.", "finished 0.2500-0.2505 in (6.350-6.363 mm)."),
        ("between 3 and 5 mm", "between 0.118 and 0.197 in (3 and 5 mm)"),
        ("Ø13.494 mm", "Ø0.5313 in (13.494 mm)"),
        ("+0.02 mm, -0.5 mm", "+0.0008 in (+0.02 mm), -0.020 in (-0.5 mm)"),
        ("feed: 0.14 mm/rev", "feed: 0.0055 in/rev (0.14 mm/rev)"),
        ("feed: 0.79375 mm/rev", "feed: 0.03125 in/rev (0.79375 mm/rev)"),
        ("393.7 mm/min", "15.500 in/min (393.7 mm/min)"),
        ("150 to 350 m/min", "492 to 1148 ft/min (150 to 350 m/min)"),
        ("20 to 30, start 25 m/min", "66 to 98, start 82 ft/min (20 to 30, start 25 m/min)"),
        # 1 lbf = 4.4482216152605 N (NIST SP 811, B.8): 7.3 N m are 64.6 lbf in, 1240 N 278.8 lbf, 11 kW 14.75 hp
        ("torque: 7.3 N·m", "torque: 65 lbf·in (7.3 N·m)"),
        ("torque: 7.3 N m", "torque: 65 lbf·in (7.3 N m)"),
        ("70 N·m, 11 kW", "620 lbf·in (70 N·m), 15 hp (11 kW)"),
        ("0.12 N·m and 1240 N", "1.1 lbf·in (0.12 N·m) and 279 lbf (1240 N)"),
        ("0.0762 mm over basic", "0.0030 in (0.0762 mm) over basic"),
        ("= 28.70 mm", "= 1.130 in (28.70 mm)"),
        ("6mm", "0.236 in (6mm)"),
        # what has its inches already
        ("12 mm (0.4724 in)", "0.4724 in (12 mm)"),
        ("0.2617 to 0.2721 in (6.647 to 6.912 mm)", "0.2617 to 0.2721 in (6.647 to 6.912 mm)"),
        ("put in (5 mm deep)", "put in (0.197 in (5 mm) deep)"),
        # what is no length, or somebody else's words
        ("1500 N/mm2, 30 mm² and 3 mm3", "1500 N/mm2, 30 mm² and 3 mm3"),
        ("M8x1.25 mm", "M8x1.25 mm"),
        ("1/4-20 UNC-2B", "1/4-20 UNC-2B"),
        ("'M6 ↧12 mm' is 12 mm deep", "'M6 ↧12 mm' is 0.472 in (12 mm) deep"),
        ("the thread's 0.5 mm and the drill's", "the thread's 0.020 in (0.5 mm) and the drill's"),
    ],
)
def test_running_text_of_an_inch_job_is_in_inches_first(text: str, expected: str) -> None:
    assert INCH.running(text) == expected
    assert INCH.running(expected) == expected, "said twice it is the same"
    assert MM.running(text) == text


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("spot: 12 mm to Ø10.00 mm", "spot: 0.472 in (12 mm) to Ø0.394 in (10.00 mm)"),
        ("tap drill: 4.2 mm", "tap drill: 0.165 in (4.2 mm)"),
        ("end mill: 16 mm", "end mill: 0.630 in (16 mm)"),
        ("thread mill: 7.1 mm x 16 TPI", "thread mill: 0.280 in (7.1 mm) x 16 TPI"),
        ("7.8 mm: inside, but of a series kept less", "0.307 in (7.8 mm): inside, but of a series kept less"),
        ("8.15 mm, with the oversize it is 8.200 mm", "0.321 in (8.15 mm), with the oversize it is 0.3228 in (8.200 mm)"),
        # no lengths, or lengths that have their unit
        ("tap drill: 5/16", "tap drill: 5/16"),
        ("pecks: 2", "pecks: 2"),
        (
            "carbide drill of 8 mm in H1: 0.006 of the diameter",
            "carbide drill of 0.315 in (8 mm) in H1: 0.006 of the diameter",
        ),
        ("risk of breaking the tap: 0.20, calm", "risk of breaking the tap: 0.20, calm"),
        ("longer than 1.5 D, over 8 diameters", "longer than 1.5 D, over 8 diameters"),
        ("inside 7.798 to 8.153 mm", "inside 0.3070 to 0.3210 in (7.798 to 8.153 mm)"),
        ("Ø.531 in is meant, over 0.531 in", "Ø.531 in is meant, over 0.531 in"),
    ],
)
def test_a_metric_tool_in_a_reason_is_shown_in_inches_first(text: str, expected: str) -> None:
    """A tool is named with its unit: nobody may take 4.2 for inches."""
    assert INCH.running(text) == expected
    assert MM.running(text) == text


def test_a_callout_in_running_text_is_left_as_it_was_written() -> None:
    text = "4X Ø6 mm ↧12 mm: a hole of 6 mm"
    assert INCH.running(text, ["4X Ø6 mm ↧12 mm"]) == "4X Ø6 mm ↧12 mm: a hole of 0.236 in (6 mm)"
    assert INCH.running(text, ["", "no length"]) == INCH.running(text)


WORDS = ["1 mm", "2.5 to 6.647 mm", "Ø6 mm", "7", "6.647", "inside", "'", "M8x1.25 mm", "3 N/mm2", "(5 mm)", "and", "12,"]


@given(st.lists(st.sampled_from(WORDS)))
def test_running_text_only_adds_inches_and_brackets(words: list[str]) -> None:
    text = " ".join(words)
    shown = INCH.running(text)
    figure = r"\d+\.\d{3,4}"
    assert re.sub(rf"{figure}(?: (?:to|and) {figure})* in \(([^()]*)\)", r"\1", shown) == text


def test_words() -> None:
    assert count(1, "hole") == "1 hole"
    assert count(2, "hole") == "2 holes"


BARE = re.compile(
    r"(?<![\w.(#/-])\d+\.\d{2,}(?![\d.]*(?: (?:to|and|or) \d+(?:\.\d+)?)?(?:, start \d+(?:\.\d+)?)? ?"
    r"(?:mm|in\b|ft|lbf|hp|m/min|rev|N\b|kW|min\b|s\b|%|x |D\b|of the (?:diameter|thread)|MPa|HB|diameters|pitches))"
)
"""A figure of two or more decimals with no unit behind it, nor behind the figures that it stands with."""
IN_BRACKETS = re.compile(r"(?<= in|rev|min|·in|lbf| hp) \([^()]*\)")
NO_LENGTHS = re.compile(r"x\d+\.\d+|risk of breaking the tap: \d\.\d\d|split point, normal wear|to the \d\.\d+|\^\d\.\d+")


@pytest.mark.parametrize(
    "callout",
    [
        "3/8-16 UNC-2B ↧.75",
        "1/4-18 NPT",
        "Ø.2500 +.0005/-.0000 REAM ↧.62",
        "Ø.281 THRU ⌴Ø.438 ↧.26",
        "2.250-12 UN-2B ↧.75",
        "Ø1.25 THRU",
    ],
)
@pytest.mark.parametrize("material", ["6061-T6", "4140", "Ti-6Al-4V"])
def test_no_reason_of_an_inch_job_gives_a_length_without_its_unit(callout: str, material: str) -> None:
    shop = Shop()
    job = explain(callout, shop, read_options(shop, unit="in", material=material, thickness_mm=38.1))
    (plan,) = [hole.cut_plan for hole in job.holes if hole.cut_plan is not None]
    texts = [
        INCH.running(text)
        for cut in plan.cuts
        for reason in (*cut.step.reasons, *cut.reasons, *cut.clamps)
        for text in (reason.decision, reason.because, *(f"{lost.candidate}: {lost.because}" for lost in reason.rejected))
    ]
    metric_first = [text for text in texts if re.search(r"\d ?(?:mm|m/min|N[ ·]m|kW)(?![\w²³/])", IN_BRACKETS.sub("", text))]
    assert not metric_first, "a figure in mm is read as inches by mistake: it stands in brackets, behind its inches"
    bare = [(found[0], text) for text in texts for found in BARE.finditer(NO_LENGTHS.sub("", text))]
    assert not bare
