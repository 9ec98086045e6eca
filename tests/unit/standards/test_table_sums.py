"""Guards the tables of drills, fits, heads, gauges and screws against a slip of the hand: rows and the sum of each column.

The sums were taken when the tables had been compared with their sources (tests/published). A changed table needs a reason
in its `# changed:` line and a new sum here.
"""

from __future__ import annotations

import pytest

from holesched.tables import table

SUMS: dict[str, tuple[int, dict[str, float]]] = {
    "drill_fraction": (156, {"inch": 204.25}),
    "drill_letter": (26, {"inch": 8.072}),
    "drill_metric": (363, {"size_mm": 8153.3}),
    "drill_metric_intermediate": (88, {"size_mm": 748.0}),
    "drill_number": (97, {"inch": 8.4212}),
    "drill_oversize": (16, {"from_mm": 105.0, "below_mm": 105.0, "expected_mm": 0.72, "worst_mm": 1.34}),
    "fit_grades": (
        13,
        {
            "over_mm": 1462.0,
            "up_to_mm": 1962.0,
            "IT3": 87.0,
            "IT4": 127.0,
            "IT5": 184.0,
            "IT6": 266.0,
            "IT7": 424.0,
            "IT8": 655.0,
            "IT9": 1049.0,
            "IT10": 1695.0,
            "IT11": 2655.0,
            "IT12": 4240.0,
            "IT13": 6550.0,
            "IT14": 10490.0,
            "IT15": 16950.0,
            "IT16": 26550.0,
        },
    ),
    "fit_holes": (
        25,
        {
            "over_mm": 3515.0,
            "up_to_mm": 4015.0,
            "A": 15570.0,
            "B": 8140.0,
            "C": 5240.0,
            "CD": 646.0,
            "D": 3125.0,
            "E": 1862.0,
            "EF": 214.0,
            "F": 934.0,
            "FG": 92.0,
            "G": 296.0,
            "J6": 412.0,
            "J7": 574.0,
            "J8": 896.0,
            "K": -69.0,
            "M": -332.0,
            "N": -592.0,
            "N9": -4.0,
            "P": -954.0,
            "R": -1512.0,
            "S": -2432.0,
            "T": -3133.0,
            "U": -4679.0,
            "V": -5516.0,
            "X": -6926.0,
            "Y": -8267.0,
            "Z": -10302.0,
            "ZA": -13301.0,
            "ZB": -17313.0,
            "ZC": -22382.0,
        },
    ),
    "fit_inch_classes": (34, {"grade": 275.0}),
    "fit_inch_grades": (
        13,
        {
            "over_in": 57.61,
            "up_to_in": 77.3,
            "IT5": 7.05,
            "IT6": 10.45,
            "IT7": 16.7,
            "IT8": 25.8,
            "IT9": 41.7,
            "IT10": 65.4,
            "IT11": 104.0,
            "IT12": 167.0,
            "IT13": 258.0,
        },
    ),
    "fit_ream_allowance": (4, {"over_mm": 33.0, "up_to_mm": 63.0, "low_mm": 0.75, "high_mm": 1.0}),
    "gauge_plain_gb1957": (
        104,
        {"over_mm": 11696.0, "up_to_mm": 15696.0, "grade": 988.0, "tolerance_um": 17534.0, "t1_um": 874.6, "z1_um": 1711.6},
    ),
    "gauge_plain_z": (7, {"over_in": 24.885, "up_to_in": 36.885, "tolerance_in": 0.00155}),
    "gauge_thread_b12": (28, {"tpi": 720.0, "to_1_5_in": 0.0070, "to_4_in": 0.0101, "to_8_in": 0.0114}),
    "gauge_thread_iso1502": (
        8,
        {"over_um": 2004.0, "up_to_um": 2880.0, "t_pl_um": 115.0, "z_pl_um": 134.0, "w_go_um": 168.5, "w_ng_um": 119.5},
    ),
    "gauge_thread_trapezoidal": (
        14,
        {"over_um": 9640.0, "up_to_um": 13910.0, "t_pl_um": 537.0, "z_pl_um": 630.0, "w_go_um": 807.0, "w_ng_um": 561.0},
    ),
    "head_clearance_inch": (22, {"size": 1.0}),
    "head_clearance_metric": (51, {"close_mm": 2462.5, "medium_mm": 2554.4, "loose_mm": 2695.7}),
    "head_counterbore_inch": (20, {"size": 1.0, "depth_in": 8.922}),
    "head_counterbore_metric": (
        29,
        {"diameter_mm": 863.9, "head_mm": 513.0, "added_depth_mm": 17.8, "low_head_depth_mm": 113.3},
    ),
    "head_countersink_inch_machine": (18, {"diameter_in": 9.028}),
    "head_countersink_inch_socket": (22, {"size": 1.0, "diameter_in": 22.596}),
    "head_countersink_slotted": (10, {"low_mm": 97.7, "high_mm": 99.65}),
    "head_countersink_socket": (10, {"diameter_mm": 215.38, "head_mm": 212.24}),
    "screw_grades": (23, {"grade": 78.8, "over_mm": 73.15, "up_to_mm": 791.05, "tensile_mpa": 17152.0}),
}


def number(cell: str) -> float:
    try:
        return float(cell)
    except ValueError:
        return 0.0


@pytest.mark.parametrize("name", sorted(SUMS))
def test_rows_and_sums(name: str) -> None:
    rows, sums = SUMS[name]
    found = table(f"{name}.csv")
    assert len(found.rows) == rows
    assert {column: round(sum(number(row[column]) for row in found.rows), 6) for column in sums} == sums


@pytest.mark.parametrize(
    ("name", "key"),
    [(name, key) for name, key in (("drill_number", "size"), ("drill_letter", "size"), ("drill_fraction", "size"))]
    + [("drill_metric", "size_mm"), ("head_clearance_metric", "size"), ("head_clearance_inch", "size")],
)
def test_no_size_stands_twice(name: str, key: str) -> None:
    sizes = [row[key] for row in table(f"{name}.csv").rows]
    assert len(sizes) == len(set(sizes))


@pytest.mark.parametrize("name", ["fit_grades", "fit_holes", "fit_ream_allowance"])
def test_steps_join(name: str) -> None:
    rows = table(f"{name}.csv").rows
    assert [row["over_mm"] for row in rows[1:]] == [row["up_to_mm"] for row in rows[:-1]]


def test_grades_grow_along_rows_and_columns() -> None:
    rows = table("fit_grades.csv").rows
    for row in rows:
        widths = [float(row[f"IT{grade}"]) for grade in range(3, 17)]
        assert widths == sorted(set(widths))
    for grade in range(3, 17):
        column = [float(row[f"IT{grade}"]) for row in rows]
        assert column == sorted(column)
