"""Workpiece materials: the table materials.csv and its aliases, grouped as ISO 513 does (P M K N S H)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import NamedTuple
from unicodedata import normalize

from holesched.notes import Cite, Standing
from holesched.standards.material_names import (
    Stated,
    condition_said,
    parts,
    readings,
    squash,
    stated_hardness,
    without_forms,
)
from holesched.tables import table

HARDENED_FROM_HB = 409.0
"""44 HRC: from here steel is worked as hardened (H1), whatever its grade; so that "44-46 HRC" counts as hardened."""
VERY_HARD_FROM_HB = 560.0
"""55 HRC: the start of H2."""


class Softer(NamedTuple):
    """A sub-group that a material is in while it is less hard, and its machinability within it."""

    subgroup: str
    speed_factor: float


@dataclass(frozen=True, slots=True)
class Material:
    """One workpiece material.

    `group` is the ISO 513 letter (or "O" for plastics, which ISO 513 does not cover), `subgroup` our finer key (P3, N1 ...),
    `hardness_hb` a range, `chip` "long", "short" or "powdery"; `traits` a set of words the tap rules know (work-hardening,
    abrasive, gummy, brittle, hardened, galling, fire, springback). kc11 in N/mm2 with exponent mc (Kienzle).
    `speed_factor` is its machinability within the sub-group (1: the sub-group's speeds apply as they stand).
    `softer` are the sub-groups that it would be in less hard: nothing is cut faster for being harder.
    """

    key: str
    name: str
    group: str
    subgroup: str
    hardness_hb: tuple[float, float]
    chip: str
    traits: frozenset[str]
    kc11_n_per_mm2: float
    mc: float
    tensile_mpa: float | None = None
    aliases: tuple[str, ...] = ()
    speed_factor: float = 1.0
    cites: tuple[Cite, ...] = ()
    softer: tuple[Softer, ...] = ()

    @property
    def middle_hb(self) -> float:
        """The middle of its hardness range, HB."""
        return sum(self.hardness_hb) / 2


@dataclass(frozen=True, slots=True)
class MaterialAnswer:
    """What a material's name gave: the material, or None with near names as suggestions; `how` says how it matched.

    `assumed` is what was taken where the name leaves the condition unsaid ("4140" without its hardness); else "".
    """

    material: Material | None
    how: str = ""
    suggestions: tuple[str, ...] = ()
    assumed: str = ""


@dataclass(frozen=True, slots=True)
class _Entry:
    material: Material
    alias: str
    assumed: str


@cache
def all_materials() -> tuple[Material, ...]:
    """Every material of materials.csv, in the table's order."""
    source = table("materials.csv")
    return tuple(
        Material(
            key=row["key"],
            name=row["name"],
            group=row["group"],
            subgroup=row["subgroup"],
            hardness_hb=(float(row["hb_low"]), float(row["hb_high"])),
            chip=row["chip"],
            traits=frozenset(_listed(row["traits"])),
            kc11_n_per_mm2=float(row["kc11"]),
            mc=float(row["mc"]),
            tensile_mpa=float(row["tensile_mpa"]) if row["tensile_mpa"] else None,
            aliases=_listed(row["aliases"]) + _listed(row["silent"]),
            speed_factor=float(row["speed_factor"]),
            cites=(Cite(row["source"], standing=Standing(row["standing"])),),
        )
        for row in source.rows
    )


def find_material(text: str) -> MaterialAnswer:
    """The material a title block names, or None with suggestions; never a guess.

    Case, spaces, dots and dashes do not count; standards' initials, product forms, tempers and specification numbers are
    set aside; a stated hardness ("4140 28-32 HRC") replaces the table's. Two names in one text must agree. A family
    ("steel", "aluminium") names no grade and gives suggestions only.
    """
    return _find(" ".join(normalize("NFKC", text).split()))


@cache
def _find(text: str) -> MaterialAnswer:
    if not squash(text):
        return MaterialAnswer(None, "no material is named")
    whole = _index().get(squash(text))
    if whole:
        return _answer(whole, None, text)
    rest, stated = stated_hardness(text)
    if stated and not squash(rest):
        return _hardened(stated, text)
    family = squash(without_forms(rest))
    if family in _families():
        return _family(family, stated, text)
    found: list[_Entry] = []
    strange: list[str] = []
    for part in (rest, *parts(rest)):
        entry = _lookup(part)
        if entry:
            found.append(entry)
            if part is rest:
                break
        elif part is not rest and readings(part):
            strange.append(part)
    keys = {entry.material.key for entry in found}
    if len(keys) == 1 and not strange:
        return _answer(found[0], stated, text)
    if len(keys) > 1:
        return MaterialAnswer(None, f"'{text}' names different materials", tuple(e.material.name for e in found))
    near = tuple(entry.material.name for entry in found[:1]) + _near(rest)
    return MaterialAnswer(None, f"'{text}' is not in the table of materials", tuple(dict.fromkeys(near))[:4])


def _lookup(text: str) -> _Entry | None:
    index = _index()
    for reading in readings(text):
        entry = index.get(reading)
        if entry is None:
            continue
        said = condition_said(text)
        if said and reading != squash(text):
            # A condition was set aside to find the name: harmless for light metals and for grades listed in one condition
            # only; a grade whose condition changes the speed must be listed with it.
            if entry.assumed and said != "quenched and tempered":
                return None
            if said == "quenched and tempered" and not entry.assumed and entry.material.group == "P":
                return index.get(f"{reading}QT")
            if said == "temper" and entry.material.group != "N":
                return None
            return _Entry(entry.material, entry.alias, "")
        return entry
    return None


def _answer(entry: _Entry, stated: Stated | None, text: str) -> MaterialAnswer:
    how = "by its name" if squash(entry.alias) == squash(text) else f"read as {entry.alias}"
    if stated is None:
        return MaterialAnswer(entry.material, how, (), entry.assumed)
    return MaterialAnswer(_at_hardness(entry.material, stated), f"{how}, hardness {stated.text} as stated")


def _at_hardness(material: Material, stated: Stated) -> Material:
    at = replace(
        material,
        key=f"{material.key} {stated.text}",
        name=f"{material.name.split(' (')[0]}, {stated.text}",
        hardness_hb=stated.hb,
        tensile_mpa=None,
    )
    if material.group not in ("P", "M", "H") or at.middle_hb < HARDENED_FROM_HB:
        return at
    generic = _by_key()["hardened-55-62" if at.middle_hb >= VERY_HARD_FROM_HB else "hardened-45-55"]
    own = () if material.group == "H" else (Softer(material.subgroup, material.speed_factor),)
    hard = (Softer("H1", 1.0),) if at.middle_hb >= VERY_HARD_FROM_HB else ()
    return replace(
        at,
        group=generic.group,
        subgroup=generic.subgroup,
        chip=generic.chip,
        traits=generic.traits,
        kc11_n_per_mm2=generic.kc11_n_per_mm2,
        mc=generic.mc,
        speed_factor=1.0,
        softer=(*own, *hard),
    )


def _hardened(stated: Stated, text: str) -> MaterialAnswer:
    """A hardness alone is enough from 45 HRC on: there the grade hardly matters to the tools."""
    if sum(stated.hb) / 2 < HARDENED_FROM_HB:
        return MaterialAnswer(None, f"'{text}' gives a hardness but no material", ("42CrMo4+QT", "4140 28-32 HRC"))
    generic = _by_key()["hardened-45-55"]
    return MaterialAnswer(_at_hardness(generic, stated), f"hardened steel, {stated.text} as stated")


def _family(family: str, stated: Stated | None, text: str) -> MaterialAnswer:
    if stated and "HARDENED" in family:
        return _hardened(stated, text)
    what = "a number that several standards use" if family.isdigit() else "a family of materials, not a grade"
    return MaterialAnswer(None, f"'{text}' is {what}", _families()[family])


def _near(text: str) -> tuple[str, ...]:
    """Names of materials one of whose aliases is spelled like the text, or shares a number of three digits or more."""
    from difflib import get_close_matches

    index = _index()
    numbers = {word for word in "".join(c if c.isdigit() else " " for c in text).split() if len(word) >= 3}
    same_number = [entry for entry in index.values() if numbers & set(_numbers(entry.alias))]
    close = [index[key] for key in get_close_matches(squash(text), list(index), n=4, cutoff=0.6)]
    ordered = dict.fromkeys(entry.material.name for entry in (*close, *same_number))
    return tuple(ordered)[:4]


def _numbers(alias: str) -> list[str]:
    return "".join(c if c.isdigit() else " " for c in alias).split()


@cache
def _index() -> Mapping[str, _Entry]:
    index: dict[str, _Entry] = {}
    for material, row in zip(all_materials(), table("materials.csv").rows, strict=True):
        silent = {squash(alias) for alias in _listed(row["silent"])}
        for alias in (*material.aliases, material.key, material.name):
            key = squash(alias)
            if key not in index:
                index[key] = _Entry(material, alias, row["assumes"] if key in silent else "")
    return index


@cache
def _by_key() -> Mapping[str, Material]:
    return {material.key: material for material in all_materials()}


@cache
def _families() -> Mapping[str, tuple[str, ...]]:
    names = _by_key()
    return {
        squash(word): tuple(names[key].name for key in _listed(row["grades"]))
        for row in table("material_families.csv").rows
        for word in _listed(row["names"])
    }


def _listed(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())
