"""Workpiece materials: the table materials.csv and its aliases, grouped as ISO 513 does (P M K N S H)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Material:
    """One workpiece material.

    `group` is the ISO 513 letter (or "O" for plastics, which ISO 513 does not cover), `subgroup` our finer key (P3, N1 ...),
    `hardness_hb` a range, `chip` "long", "short" or "powdery"; `traits` a set of words the tap rules know (work-hardening,
    abrasive, gummy, brittle, hardened, galling, fire, springback). kc11 in N/mm2 with exponent mc (Kienzle).
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


@dataclass(frozen=True, slots=True)
class MaterialAnswer:
    """What a material's name gave: the material, or None with near names as suggestions; `how` says how it matched."""

    material: Material | None
    how: str = ""
    suggestions: tuple[str, ...] = ()
