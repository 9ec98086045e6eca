"""Drilling speeds of HSS drills against printed tables.

Machinery's Handbook (older editions), recommended cutting speeds in feet per minute for drilling and reaming: carbon and
alloy steels, tool steels, stainless steels, ferrous cast metals, light metals; read in public reprints, two of which
agree where both were read. NAVEDTRA 14345, drill speeds and feeds. A speeds-and-feeds handout; El-Hofy, Table 5.4.

Our row is corrected for the hardness of the printed row; it must reach the printed figure within half of the print's step of
5 ft/min. What does not is named, with the reason, in DISAGREEMENTS.md.
"""

from dataclasses import replace

import pytest
from keyed_rows import keyed_rows

from holesched.cutting.lookup import hardness_factor
from holesched.cutting.speeds import drill_column, drill_speeds, operation
from holesched.standards.materials import Material, all_materials
from holesched.tooling.model import StepKind, Tool

M_PER_MIN = 0.3048
HALF_STEP = 2.5 * M_PER_MIN
HSS = Tool(StepKind.DRILL, 10.0, "10", "HSS")
MATERIALS = {material.key: material for material in all_materials()}

# (printed, hardness) -> why our range stays away; each is asserted to be still away.
EXCEPTIONS = {
    ("303", "225"): "ours follows 416, which falls faster with hardness; slower, on the safe side",
    ("wrought aluminum, solution treated and aged", ""): "ours ends at 100 m/min, after NAVEDTRA's 61 to 91",
    ("sand and permanent mold aluminum, solution treated and aged", ""): "ours ends at 90 m/min: silicon wears HSS",
    ("die cast aluminum, as cast", ""): "ours ends at 90 m/min: silicon wears HSS",
    (
        "corrosion-resistant (stainless) steel",
        "",
    ): "one figure for every stainless steel; the handbook has 55 ft/min for 304",
    ("bronze", ""): "the manual gives bronze the speed of brass; a public chart has 100 ft/min, which ours spans",
    ("copper", ""): "the handout's 70 ft/min is slower than our 25 to 40 m/min, from memory",
    ("cast iron, soft", ""): "120 ft/min; the handbook has 100 for class 20",
    ("mild steel", ""): "110 ft/min is the top of NAVEDTRA's 80 to 110; the handbook has 90 to 100",
    ("alloy steel, hard", ""): "the handout does not say how hard; the handbook has 60 ft/min at 250 HB, ours is at 295",
    ("stainless steel", ""): "one figure for every stainless steel, 30 ft/min; ours for duplex is 10 to 15 m/min",
}


def _range(material: Material) -> tuple[float, float]:
    speeds = drill_speeds(HSS, material.subgroup)
    factor = hardness_factor(material.subgroup, material.middle_hb) * material.speed_factor
    return speeds.low * factor, speeds.high * factor


def _reaches(material: Material, low_fpm: float, high_fpm: float) -> bool:
    low, high = _range(material)
    return low - HALF_STEP <= high_fpm * M_PER_MIN and low_fpm * M_PER_MIN <= high + HALF_STEP


@pytest.mark.parametrize(
    "row", keyed_rows("drilling_speeds_handbook.csv"), ids=lambda row: f"{row['printed']} {row['hb_low']}"
)
def test_hss_drills_against_the_handbook(row: dict[str, str]) -> None:
    material = MATERIALS[row["ours"]]
    if row["hb_low"]:
        material = replace(material, hardness_hb=(float(row["hb_low"]), float(row["hb_high"])))
    printed = float(row["drill_fpm"])
    assert _reaches(material, printed, printed) == ((row["printed"], row["hb_low"]) not in EXCEPTIONS)


@pytest.mark.parametrize(
    "row", keyed_rows("drilling_speeds_navy.csv"), ids=lambda row: f"{row['printed']} {row['source'][:8]}"
)
def test_hss_drills_against_navedtra_and_other_prints(row: dict[str, str]) -> None:
    reached = _reaches(MATERIALS[row["ours"]], float(row["low_fpm"]), float(row["high_fpm"]))
    assert reached == ((row["printed"], "") not in EXCEPTIONS)


# Light metals are left out: the handbook reams them as fast as it drills, ours stays at half to two thirds.
@pytest.mark.parametrize(
    "row",
    [row for row in keyed_rows("drilling_speeds_handbook.csv") if row["hb_low"]],
    ids=lambda row: f"{row['printed']} {row['hb_low']}",
)
def test_reaming_is_a_share_of_drilling_as_in_the_handbook(row: dict[str, str]) -> None:
    """Steel and iron: printed reaming over printed drilling speed lies at our 0.5 to 0.67, within the print's steps."""
    drill, ream = float(row["drill_fpm"]), float(row["ream_fpm"])
    low, _, high = operation(StepKind.REAM, drill_column(HSS)).speed
    assert (ream - 2.5) / (drill + 2.5) <= high
    assert (ream + 2.5) / (drill - 2.5) >= low


def test_carbide_drills_run_at_least_at_twice_the_speed_of_hss() -> None:
    """NAVEDTRA 14345: carbide two to three times the speed of HSS. Coated carbide with coolant through it goes beyond that,
    from memory; it falls below in magnesium, which HSS already cuts as fast as spindles turn, and in pure titanium."""
    carbide = replace(HSS, material="carbide")
    slower = set()
    for subgroup in {material.subgroup for material in all_materials()} - {"H1", "H2"}:
        fast, slow = drill_speeds(carbide, subgroup), drill_speeds(HSS, subgroup)
        if fast.start < 2 * slow.start:
            slower.add(subgroup)
    assert slower == {"N7", "S1"}
