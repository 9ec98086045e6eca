"""The shop file: every error at once, each with its path; numbers with units; a sample that is valid and complete."""

from __future__ import annotations

import tomllib
from dataclasses import fields
from pathlib import Path

import pytest

from holesched.errors import BadSettings
from holesched.shop.model import DrillOversize, Machine, Preferences, ReportStyle, Shop, ShopTool
from holesched.shop.read_toml import read_shop, sample_shop_toml, shop_of
from holesched.standards import drill_sizes


def shop(text: str) -> Shop:
    return shop_of(tomllib.loads(text), "shop.toml")


def problems(text: str) -> list[str]:
    with pytest.raises(BadSettings) as caught:
        shop(text)
    assert caught.value.where == "shop.toml"
    return [line.strip() for line in caught.value.problem.splitlines()[1:]]


def test_no_file_is_the_default_shop() -> None:
    assert read_shop(None) == Shop()


def test_settings_of_every_section() -> None:
    read = shop(
        """
        [machine]
        name = "VMC 4"
        spindle_max_rpm = 12000
        pots = 30
        rigid_tapping = false
        [preferences]
        drill_material = "carbide"
        [report]
        paper = "Letter"
        [schedules.columns]
        "FEATURE SPEC" = "callout"
        [schedules.symbols]
        "<DIA>" = "Ø"
        [[crib]]
        kind = "drill"
        size = 6.8
        material = "carbide"
        """
    )
    assert read.machine.name == "VMC 4"
    assert read.machine.spindle_max_rpm == 12000.0
    assert read.machine.pots == 30
    assert not read.machine.rigid_tapping
    assert read.machine.spindle_power_kw == Machine().spindle_power_kw
    assert read.preferences.drill_material == "carbide"
    assert read.report.paper == "Letter"
    assert read.schedules.columns == (("FEATURE SPEC", "callout"),)
    assert read.schedules.symbols == (("<DIA>", "Ø"),)
    assert read.crib == (ShopTool("drill", "6.8", "carbide"),)


@pytest.mark.parametrize(
    ("line", "value"),
    [
        # Conversions: 1 in = 25.4 mm exactly, 1 ft = 0.3048 m (international yard and pound agreement, 1959);
        # mechanical horsepower 550 ft lbf/s = 0.745699872 kW, 1 lbf = 4.4482216152605 N (NIST SP 811, Appendix B.8).
        ('rapid_mm_per_min = "1000 in/min"', 25400.0),
        ('feed_max_mm_per_min = "10 m/min"', 10000.0),
        ('spindle_power_kw = "15 hp"', 15 * 0.745699872),
        ('spindle_torque_nm = "50 lbf*ft"', 50 * 4.4482216152605 * 0.3048),
        ('axis_thrust_n = "1000 lbf"', 4448.2216152605),
        ('max_tool_diameter_mm = "3.5 in"', 88.9),
        ('spindle_max_rpm = "8000 rpm"', 8000.0),
        ('tool_change_s = "0.1 min"', 6.0),
    ],
)
def test_numbers_with_units(line: str, value: float) -> None:
    read = shop(f"[machine]\n{line}\n")
    assert getattr(read.machine, line.split(" ", maxsplit=1)[0]) == pytest.approx(value, rel=1e-8)


def test_all_errors_at_once_with_their_paths() -> None:
    found = problems(
        """
        machin = 1
        [machine]
        potss = 3
        pots = 2.5
        rapid_mm_per_min = "4 in"
        axis_thrust_n = -3
        rigid_tapping = 1
        spindle_power_kw = inf
        [report]
        paper = "A5"
        shop_name = 7
        [schedules]
        column = {}
        symbols = {"<DIA>" = 3}
        [[crib]]
        kind = "dril"
        size = "6.8"
        [[crib]]
        kind = "drill"
        """
    )
    assert found == [
        "machin: no such setting; perhaps machine.",
        "machine.potss: no such setting; perhaps pots.",
        "machine.pots: 2.5 is not a whole number.",
        'machine.rapid_mm_per_min: "4 in" is not a number, or a number and a unit such as "24000 mm/min".',
        "machine.axis_thrust_n: -3 is not a number of at least 1.",
        "machine.rigid_tapping: 1 is not true or false.",
        "machine.spindle_power_kw: Infinity is not a number of at least 0.01.",
        'report.paper: "A5" is not one of A4, Letter.',
        "report.shop_name: 7 is not a text in quotation marks.",
        "schedules.column: no such setting; perhaps columns.",
        'schedules.symbols."<DIA>": 3 is not a text in quotation marks.',
        'crib[0].kind: "dril" is not one of drill, mill, tap, ream, spot, counterbore, countersink, spotface, bore, '
        "thread mill.",
        "crib[1].size: must be a text in quotation marks.",
    ]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("machine = 3", "machine: must be a table: [machine]."),
        ("schedules = 3", "schedules: must be a table: [schedules.columns] or [schedules.symbols]."),
        ("schedules.columns = 3", "schedules.columns: must be a table: [schedules.columns]."),
        ("crib = 3", "crib: must be a list of tools: [[crib]]."),
        ("prices = 3", "prices: must be a list of prices: [[prices]]."),
        ("prices = [3]", 'prices[0]: must be a table: kind = "cutting tap", price = 18.50.'),
        (
            '[[prices]]\nkind = "tap"\nprice = 3',
            'prices[0].kind: "tap" is not one of drill, step drill, counterbore, countersink, cutting tap, forming tap, '
            "thread mill, hand set.",
        ),
        ('[[prices]]\nkind = "drill"\nprice = -3', "prices[0].price: -3 is not a price of at least 0."),
        ('[[prices]]\nkind = "drill"', "prices[0].price: null is not a price of at least 0."),
        ("[[prices]]\nprice = 3", "prices[0].kind: must be a text in quotation marks."),
        ("oversize = 3", "oversize: must be a list of figures: [[oversize]]."),
        (
            "[[oversize]]\nworst_mm = 0.1",
            "oversize[0].expected_mm: must be given: what a hole measures over its drill.",
        ),
        (
            '[[oversize]]\nmaterial = "wood"\nexpected_mm = 0.1\nworst_mm = 0.1',
            'oversize[0].material: "wood" is not one of , HSS, HSS-Co, carbide.',
        ),
        ("[[oversize]]\nexpected_mm = 0.1\nworst_mm = 0.05", "oversize[0].worst_mm: 0.05 is less than expected_mm."),
        (
            "[[oversize]]\nexpected_mm = 0.1\nworst_mm = 0.1\nfrom_mm = 3\nbelow_mm = 3",
            "oversize[0].below_mm: 3 is not above from_mm.",
        ),
        ("crib = [3]", 'crib[0]: must be a table: kind = "drill", size = "6.8".'),
        ("[machine]\nspindle_min_rpm = 9000", "machine.spindle_min_rpm: 9000 is not below spindle_max_rpm."),
        ("[machine]\npots = true", "machine.pots: true is not a whole number."),
        ('[machine]\npots = "many"', 'machine.pots: "many" is not a whole number.'),
        ("[machine]\nspindle_max_rpm = 1979-05-27", 'machine.spindle_max_rpm: "1979-05-27" is not a number.'),
        ("zzz = 1", "zzz: no such setting; known are machine, preferences, report, schedules, crib, prices, oversize."),
    ],
)
def test_one_error(text: str, problem: str) -> None:
    assert problems(text) == [problem]


def test_file_errors_are_sentences(tmp_path: Path) -> None:
    with pytest.raises(BadSettings, match="cannot be opened"):
        read_shop(tmp_path / "none.toml")
    broken = tmp_path / "broken.toml"
    broken.write_text("[machine\n")
    with pytest.raises(BadSettings, match="it is no TOML"):
        read_shop(broken)
    broken.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BadSettings, match="it is no TOML"):
        read_shop(broken)
    broken.write_bytes(b"#" * 1_000_001)
    with pytest.raises(BadSettings, match="too large"):
        read_shop(broken)


def test_a_byte_order_mark_is_no_error(tmp_path: Path) -> None:
    path = tmp_path / "shop.toml"
    path.write_bytes(b"\xef\xbb\xbf[machine]\npots = 3\n")
    assert read_shop(path).machine.pots == 3


def test_the_closest_price_counts() -> None:
    read = shop(
        """
        [report]
        currency = "EUR"
        [[prices]]
        kind = "cutting tap"
        price = 20
        [[prices]]
        kind = "cutting tap"
        material = "carbide"
        price = 90.5
        [[prices]]
        kind = "cutting tap"
        size = "M8x1.25"
        price = 18
        [[prices]]
        kind = "drill"
        size = 6.8
        price = 4
        """
    )
    assert read.report.currency == "EUR"
    assert read.price_of("cutting tap", "M6x1", "HSS-E") == 20
    assert read.price_of("cutting tap", "M6x1", "carbide") == 90.5
    assert read.price_of("cutting tap", "M8x1.25", "carbide") == 18
    assert read.price_of("drill", "6.8", "HSS-Co") == 4
    assert read.price_of("drill", "5", "HSS-Co") is None
    assert Shop().price_of("drill", "6.8", "HSS-Co") is None


def test_how_far_the_shops_own_drills_cut() -> None:
    read = shop(
        """
        [[oversize]]
        material = "HSS-Co"
        from_mm = 3
        below_mm = "0.5 in"
        expected_mm = 0.03
        worst_mm = 0.05
        [[oversize]]
        expected_mm = "0.001 in"
        worst_mm = 0.04
        """
    )
    assert read.oversizes[0] == DrillOversize("HSS-Co", 3.0, 12.7, 0.03, 0.05)
    assert read.oversize(3.0, "HSS-Co").expected_mm == 0.03
    assert read.oversize(12.7, "HSS-Co").expected_mm == pytest.approx(0.0254)
    assert read.oversize(5.0, "HSS").worst_mm == 0.04
    assert str(read.oversize(5.0, "HSS").cite) == "shop file, oversize (shop's own)"
    assert Shop().oversize(5.0, "HSS") == drill_sizes.oversize(5.0, "HSS")


def test_sample_is_valid_and_the_default() -> None:
    assert shop(sample_shop_toml()) == Shop()


ENTRY = ("kind", "size", "material", "price =", "from_mm", "below_mm", "expected_mm", "worst_mm")
"""Settings of the sample's lists, whose headers stay switched off."""


def test_sample_switched_on_is_valid_and_names_every_setting() -> None:
    """Every line that holds a setting, with its # taken away, gives the default again."""
    lines = [
        line.removeprefix("# ") if " = " in line and line.startswith("# ") else line
        for line in sample_shop_toml().splitlines()
    ]
    read = shop("\n".join(line for line in lines if not line.startswith(ENTRY)))
    assert (read.machine, read.preferences, read.report) == (Machine(), Preferences(), ReportStyle())
    assert read.schedules.columns == (("FEATURE SPEC", "callout"),)
    for kind in (Machine, Preferences, ReportStyle):
        for setting in fields(kind):
            assert f"# {setting.name} = " in sample_shop_toml()
            assert setting.metadata["says"].endswith(".")
