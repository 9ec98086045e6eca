"""Numbers, lengths, quantities and tags as people write them; what could be two things is neither."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from holesched.schedule.cells import Tags, count_tags, read_quantity, text_of
from holesched.schedule.damage import Damaged
from holesched.schedule.lengths import Length, has_decimal_comma, read_length, read_number

# 1 in = 25.4 mm: international yard and pound agreement, 1959.


@pytest.mark.parametrize(
    ("text", "mm", "unit"),
    [
        ("40", 40.0, None), ("40 mm", 40.0, "mm"), ("40mm", 40.0, "mm"), ("40 (mm)", 40.0, "mm"), ("1.25 in", 31.75, "in"),
        ('1 1/4"', 31.75, "in"), ("1-1/4 in", 31.75, "in"), ("1¼ in", 31.75, "in"), ("¼ in", 6.35, "in"),
        ("3/8''", 9.525, "in"),
        ("0.5 inch", 12.7, "in"), ("2 Zoll", 50.8, "in"), (".500 in", 12.7, "in"), ("12,5", 12.5, None),
        ("−12.5", -12.5, None),
        ("+5", 5.0, None), ("T=12", 12.0, None), ("12 THK", 12.0, None), ("t 12 mm", 12.0, "mm"),
        ("12.7 [.500]", 12.7, None),
        ("1 234,5", 1234.5, None), ("1,234.5", 1234.5, None), ("0.3 in", 7.62, "in"), ("25.4 (1.0 in)", 25.4, None),
    ],
)  # fmt: skip
def test_lengths(text: str, mm: float, unit: str | None) -> None:
    assert read_length(text, "mm") == Length(mm, unit)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "abc",
        "12.5.3",
        "10 cm",
        "12.7 [.600]",
        "1,250",
        "5/0",
        "4X",
        "1.25 in 3",
        "NaN",
        "inf",
        "1e5",
        "--5",
        "5-",
        "1,2,3.4.5",
    ],
)
def test_no_lengths(text: str) -> None:
    assert read_length(text, "mm") is None


def test_plain_numbers_take_the_unit_given() -> None:
    assert read_length(0.3, "in") == Length(7.62)
    assert read_length("0.3", "in") == Length(7.62)
    assert read_length(True, "mm") is None


def test_a_lone_comma_before_three_digits_is_settled_by_the_table() -> None:
    assert read_number("1,250") is None
    assert read_number("1,250", decimal_comma=True) == 1.25
    assert read_number("1,250", decimal_comma=False) == 1250.0
    assert read_number("0,250") == 0.25
    assert read_number("1.250", decimal_comma=True) is None
    assert read_number("1.250") == 1.25
    assert has_decimal_comma("12,5")
    assert not has_decimal_comma("1,250")
    assert not has_decimal_comma("12.5")


@pytest.mark.parametrize(
    ("value", "number"),
    [(4, 4), (4.0, 4), ("4", 4), ("4X", 4), ("4 x", 4), ("X4", 4), ("×4", 4), ("(4)", 4), ("4 PLCS", 4), ("4 off", 4),
     ("4,0", 4),
     ("4 Stk.", 4), ("4個", 4), (2.5, None), ("2.5", None), (0, None), (-1, None), ("", None), ("TYP", None), (True, None),
     (1e9, None), ("99999999999999999999", None), (float("inf"), None), (float("nan"), None)],
)  # fmt: skip
def test_quantities(value: float | str, number: int | None) -> None:
    assert read_quantity(value) == number


@pytest.mark.parametrize(
    ("text", "tags"),
    [("A1-A12", Tags(12)), ("A1–A8", Tags(8)), ("A1 to A4, A7", Tags(5)), ("A1...A3", Tags(3)), ("B1, B3", Tags(2)),
     ("B1\nB2", Tags(2)), ("H1 & H2", Tags(2)), ("A1、A2", Tags(2)), ("A-1", Tags(1)), ("A1", Tags(1)), ("", Tags(0)),
     ("1-4", Tags(4, False)), ("A1-8", Tags(8, False)), ("A1-B4", Tags(1)), ("A12-A1", Tags(1)), ("A1-A99999999", Tags(1)),
     ("A1-A4, B1", Tags(5)), ("A1/A2", Tags(2, False)), ("P-12", Tags(1))],
)  # fmt: skip
def test_tags(text: str, tags: Tags) -> None:
    assert count_tags(text) == tags


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (8.0, "8"),
        (6.8, "6.8"),
        (True, "TRUE"),
        (" a\n b ", "a\n b"),
        ("\u200b\u00a0", ""),
        (Damaged("error", "#REF!"), "#REF!"),
    ],
)
def test_texts(value: float | str | Damaged, text: str) -> None:
    assert text_of(value) == text


@given(st.floats(-1e6, 1e6).map(lambda x: round(x, 4)))
def test_a_number_written_is_the_number_read(number: float) -> None:
    assert read_number(f"{number:.4f}") == pytest.approx(number, abs=1e-9)
    assert read_number(f"{number:.4f}".replace(".", ",")) == pytest.approx(number, abs=1e-9)


@given(st.text(max_size=60))
def test_any_text_is_read_or_not(text: str) -> None:
    read_length(text, "mm")
    read_quantity(text)
    count_tags(text)
