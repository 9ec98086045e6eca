"""Workpiece materials: the table is sound, names lead to one grade, and nothing is guessed."""

from collections import Counter

import pytest

from holesched.standards.material_names import brinell, squash, stated_hardness
from holesched.standards.materials import all_materials, find_material
from holesched.tables import table

CHIPS = {"long", "short", "powdery"}
TRAITS = {"work-hardening", "abrasive", "gummy", "brittle", "hardened", "galling", "fire", "springback"}
SUBGROUPS = (
    {f"P{n}" for n in range(1, 6)}
    | {f"M{n}" for n in range(5)}
    | {f"K{n}" for n in range(1, 4)}
    | {f"N{n}" for n in range(1, 11)}
    | {"S1", "S2", "S3", "H1", "H2"}
)


def test_at_least_sixty_materials_over_all_groups() -> None:
    assert len(all_materials()) >= 60
    assert {material.group for material in all_materials()} == set("PMKNSHO")
    assert {material.subgroup for material in all_materials()} == SUBGROUPS


def test_every_row_is_sane() -> None:
    for material in all_materials():
        low, high = material.hardness_hb
        assert 0 < low < high, material.key
        assert material.chip in CHIPS, material.key
        assert material.traits <= TRAITS, material.key
        assert 100 <= material.kc11_n_per_mm2 <= 5000, material.key
        assert 0.1 <= material.mc <= 0.35, material.key
        assert material.cites, material.key
        # Group O is ours, for plastics; every other sub-group carries its ISO 513 letter.
        assert material.group == ("O" if material.subgroup in ("N9", "N10") else material.subgroup[0]), material.key


def test_every_alias_and_key_names_one_material_only() -> None:
    names = Counter(
        squash(name)
        for material in all_materials()
        for name in {squash(alias): alias for alias in (*material.aliases, material.key)}.values()
    )
    assert [name for name, count in names.items() if count > 1] == []
    written = Counter(squash(alias) for material in all_materials() for alias in material.aliases)
    assert [name for name, count in written.items() if count > 1] == []


def test_every_alias_is_found_as_its_own_material() -> None:
    for material in all_materials():
        for name in (material.key, material.name, *material.aliases):
            found = find_material(name).material
            assert found is not None, name
            assert found == material, name


def test_no_alias_is_also_a_family() -> None:
    families = {squash(word) for row in table("material_families.csv").rows for word in row["names"].split(";")}
    assert not families & {squash(alias) for material in all_materials() for alias in material.aliases}


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("AlMg1SiCu", "EN AW-6061"),
        ("EN AW-6061 T6", "EN AW-6061"),
        ("6061-T6", "EN AW-6061"),
        ("6061T651", "EN AW-6061"),
        ("en aw 6082-t651", "EN AW-6082"),
        ("EN AW-5083-H111", "EN AW-5083"),
        ("ALUMINUM 6061-T6 PER ASTM B209", "EN AW-6061"),
        ("EN AW-6061 (AlMg1SiCu)", "EN AW-6061"),
        ("AISI 316L", "X2CrNiMo17-12-2"),
        ("stainless 316/316L", "X2CrNiMo17-12-2"),
        ("1.4404", "X2CrNiMo17-12-2"),
        ("EN 10088-3 1.4301", "X5CrNi18-10"),
        ("Material: 1.4301", "X5CrNi18-10"),
        ("SUS 304", "X5CrNi18-10"),
        ("GG25", "EN-GJL-250"),
        ("GG-25", "EN-GJL-250"),
        ("EN-GJL-250", "EN-GJL-250"),
        ("class 30 gray iron", "EN-GJL-200"),
        ("ASTM A48 class 30", "EN-GJL-200"),
        ("42 CrMo 4", "42CrMo4+QT"),
        ("42CrMo4+A", "42CrMo4+A"),
        ("4140", "42CrMo4+QT"),
        ("C45+N", "C45"),
        ("C45+QT", "C45+QT"),
        ("1018 CRS", "1018"),
        ("ASTM A572 Grade 50", "S355J2"),
        ("17-4 PH", "17-4PH"),
        ("17-4PH H900", "17-4PH-H900"),
        ("Gr 5 titanium", "Ti-6Al-4V"),
        ("acetal block", "POM"),
        ("C45 bonificato", "C45+QT"),
        ("42CrMo4 vergütet", "42CrMo4+QT"),
        ("1.2379 weichgeglüht", "X153CrMoV12"),
        ("SKD11 (焼入前)", "X153CrMoV12"),
        ("AZ91D die casting", "AZ91D"),
    ],
)
def test_spellings(text: str, key: str) -> None:
    material = find_material(text).material
    assert material is not None
    assert material.key == key


@pytest.mark.parametrize(
    "text",
    [
        "steel",
        "Steel bar",
        "aluminium",
        "Aluminum",
        "stainless",
        "stainless steel",
        "brass",
        "cast iron",
        "titanium",
        "A2",
        "SS",
    ],
)
def test_a_family_is_no_grade(text: str) -> None:
    answer = find_material(text)
    assert answer.material is None
    assert len(answer.suggestions) >= 2
    assert "family" in answer.how


@pytest.mark.parametrize(
    "text", ["unobtainium", "plate", "", "   ", "6016", "4340 annealed", "6061-T6 or 6082-T6", "AISI 1050"]
)
def test_an_unknown_name_is_never_guessed(text: str) -> None:
    assert find_material(text).material is None


def test_a_misspelling_brings_the_right_suggestion() -> None:
    assert find_material("EN-GJL-25O").suggestions[0].startswith("EN-GJL-250")
    assert any("Alloy 718" in name for name in find_material("nickel 718").suggestions)


@pytest.mark.parametrize("text", ["1.4301 / 316L", "EN AW-6061 (1.4301)"])
def test_two_names_that_contradict_each_other_are_told(text: str) -> None:
    answer = find_material(text)
    assert answer.material is None
    assert "different materials" in answer.how
    assert len(answer.suggestions) == 2


def test_an_unsaid_condition_is_an_assumption_and_a_said_one_is_not() -> None:
    assert "condition not stated" in find_material("4140").assumed
    assert find_material("4140 PH").assumed == ""
    assert find_material("34CrNiMo6+QT").assumed == ""
    assert find_material("C45").assumed == ""


def test_stated_hardness_replaces_the_tables() -> None:
    answer = find_material("4140 28-32 HRC")
    assert answer.material is not None
    assert answer.material.hardness_hb == (271.0, 301.0)
    assert answer.material.subgroup == "P4"
    assert answer.assumed == ""
    iron = find_material("EN-GJL-250 (180-220 HB)").material
    assert iron is not None
    assert iron.hardness_hb == (180.0, 220.0)


@pytest.mark.parametrize(
    ("text", "subgroup"),
    [
        ("H13 44-46 HRC", "H1"),
        ("D2 58-60 HRC", "H2"),
        ("1.2379 60±2 HRC", "H2"),
        ("50 HRC", "H1"),
        ("hardened steel 60 HRC", "H2"),
    ],
)
def test_hardened_steel_changes_its_group(text: str, subgroup: str) -> None:
    material = find_material(text).material
    assert material is not None
    assert (material.group, material.subgroup) == ("H", subgroup)
    assert "hardened" in material.traits


def test_a_soft_hardness_alone_names_no_material() -> None:
    assert find_material("200 HB").material is None


def test_hardness_texts() -> None:
    rest, stated = stated_hardness("C45, HB 180-220")
    assert (rest, stated and stated.hb) == ("C45", (180.0, 220.0))
    assert stated_hardness("EN AW-6061 T6")[1] is None
    assert stated_hardness("17-4PH")[1] is None


def test_hardness_conversion_rises_and_is_held_at_its_ends() -> None:
    values = [brinell(hrc / 2) for hrc in range(30, 140)]
    assert values == sorted(values)
    assert brinell(10) == 226
    assert brinell(70) == 688


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("718 aged", "N07718"),
        ("718 annealed", "N07718-SA"),
        ("718 solution annealed", "N07718-SA"),
        ("316", "X5CrNiMo17-12-2"),
        ("304", "X5CrNi18-10"),
        ("6061", "EN AW-6061"),
        ("7075-T6", "EN AW-7075"),
        ("4140 PH", "42CrMo4+QT"),
        ("17-4", "17-4PH"),
        ("D2", "X153CrMoV12"),
        ("O1", "95MnWCr5"),
        ("1018", "1018"),
        ("12L14", "11SMnPb30"),
        ("C360", "CuZn36Pb3"),
        ("360 brass", "CuZn36Pb3"),
        ("932", "CuSn7Zn4Pb7-C"),
        ("EN24T", "34CrNiMo6"),
        ("45#", "C45"),
        ("HT200", "EN-GJL-200"),
    ],
)
def test_short_names_of_the_shop(name: str, key: str) -> None:
    """From memory: UNS and AISI numbers, BS 970 (EN24), GB/T (45, HT200)."""
    material = find_material(name).material
    assert material is not None
    assert material.key == key


@pytest.mark.parametrize(
    ("name", "suggested"),
    [("718", ("nickel", "mould steel")), ("A2", ("tool steel", "stainless")), ("360", ("brass", "cast aluminium"))],
)
def test_a_short_name_of_two_materials_is_asked_and_names_both(name: str, suggested: tuple[str, ...]) -> None:
    """718: UNS N07718 and a mould steel of DIN 1.2738; A2: AISI A2 and ISO 3506-1; 360: C36000 and A360. From memory."""
    answer = find_material(name)
    assert answer.material is None
    assert all(any(word in each for each in answer.suggestions) for word in suggested), answer.suggestions


def test_a_bronze_that_is_not_held_is_asked_with_the_nearest() -> None:
    """C95400 has another composition than CuAl10Ni5Fe4 (from memory): it is no alias of it."""
    answer = find_material("954")
    assert answer.material is None
    assert answer.suggestions == ("CuAl10Ni5Fe4 aluminium bronze",)
