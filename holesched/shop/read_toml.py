"""The shop file: TOML to Shop, all errors at once, each with its path; and a sample that explains every setting."""

from __future__ import annotations

import difflib
import json
import math
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import Field, dataclass, field, fields, replace
from pathlib import Path
from typing import Any

from holesched.errors import BadSettings, HoleschedError
from holesched.shop.model import PRICED, DrillOversize, Machine, Preferences, Price, ReportStyle, Schedules, Shop, ShopTool
from holesched.units import quantity

SECTIONS = {"machine": Machine, "preferences": Preferences, "report": ReportStyle}
"""Tables of plain settings; `schedules` and `crib` have their own form."""
TOOL_KINDS = ("drill", "mill", "tap", "ream", "spot", "counterbore", "countersink", "spotface", "bore", "thread mill")
_UNITS = {"_mm_per_min": "mm/min", "_rev_per_s2": "turn/s**2", "_rpm": "rpm", "_kw": "kW", "_nm": "N*m", "_mm": "mm",
          "_n": "N", "_s": "s"}  # fmt: skip
"""Ending of a setting's name -> the unit of its plain numbers. The first that fits counts."""
_LARGEST_BYTES = 1_000_000


def read_shop(path: Path | None) -> Shop:
    """The shop of a shop.toml; the default shop for None.

    A number may be a text with its unit: "0.25 in", "15 hp", "400 in/min". Raises BadSettings, which lists everything
    that is wrong with its path (`machine.pots`); an unknown key is wrong, and the nearest known one is named.
    """
    if path is None:
        return Shop()
    try:
        if path.stat().st_size > _LARGEST_BYTES:
            raise BadSettings("it is too large for a shop file.", path.name, "Give the shop.toml, not a schedule.")
        document = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as problem:
        raise BadSettings(f"it is no TOML: {problem}.", path.name, "Compare it with 'holesched shop-sample'.") from problem
    except OSError as problem:
        raise BadSettings(
            f"it cannot be opened ({problem.strerror}).", str(path), "Check the name and the folder."
        ) from problem
    return _beside(shop_of(document, path.name), path)


def _beside(shop: Shop, path: Path) -> Shop:
    """The shop with the name of its table of rules as a path: it lies beside the shop file."""
    if not shop.preferences.rules:
        return shop
    rules = path.parent / shop.preferences.rules
    return replace(shop, preferences=replace(shop.preferences, rules=str(rules)))


def shop_of(document: Mapping[str, Any], where: str) -> Shop:
    """The shop of a parsed shop file. Raises BadSettings with all errors."""
    reading = _Reading()
    reading.check_keys("", document, (*SECTIONS, "schedules", "crib", "prices", "oversize"))
    plain = {name: reading.section(name, kind, document.get(name, {})) for name, kind in SECTIONS.items()}
    schedules = reading.schedules(document.get("schedules", {}))
    crib = reading.crib(document.get("crib", []))
    prices = reading.prices(document.get("prices", []))
    oversizes = reading.oversizes(document.get("oversize", []))
    machine = plain["machine"]
    if isinstance(machine, Machine) and machine.spindle_min_rpm >= machine.spindle_max_rpm:
        reading.say("machine.spindle_min_rpm", f"{machine.spindle_min_rpm:g} is not below spindle_max_rpm")
    if reading.problems:
        count = len(reading.problems)
        listed = "".join(f"\n  {problem}" for problem in reading.problems)
        raise BadSettings(f"{count} setting{'s are' if count > 1 else ' is'} wrong:{listed}", where)
    return Shop(**plain, schedules=schedules, crib=crib, prices=prices, oversizes=oversizes)


@dataclass(slots=True)
class _Reading:
    """Reads tables and gathers what is wrong with them."""

    problems: list[str] = field(default_factory=list)

    def say(self, path: str, problem: str) -> None:
        self.problems.append(f"{path}: {problem}.")

    def check_keys(self, path: str, table: Mapping[str, Any], known: tuple[str, ...]) -> None:
        """An unknown key is most likely a slip: its setting would be ignored in silence."""
        for key in table:
            if key not in known:
                near = difflib.get_close_matches(key, known, n=1, cutoff=0.4)
                hint = f"; perhaps {near[0]}" if near else f"; known are {', '.join(known)}"
                self.say(f"{path}.{key}" if path else key, f"no such setting{hint}")

    def section(self, name: str, kind: type[Any], table: object) -> Any:
        """One table of plain settings as its dataclass; wrong settings keep their default."""
        if not isinstance(table, Mapping):
            self.say(name, f"must be a table: [{name}]")
            return kind()
        known = {setting.name: setting for setting in fields(kind)}
        self.check_keys(name, table, tuple(known))
        values = {}
        for key in (key for key in table if key in known):
            try:
                values[key] = checked(known[key], table[key])
            except ValueError as problem:
                self.say(f"{name}.{key}", str(problem))
        return kind(**values)

    def schedules(self, table: object) -> Schedules:
        """The maps of header words and symbol codes."""
        if not isinstance(table, Mapping):
            self.say("schedules", "must be a table: [schedules.columns] or [schedules.symbols]")
            return Schedules()
        names = tuple(entry.name for entry in fields(Schedules))
        self.check_keys("schedules", table, names)
        return Schedules(**{name: tuple(self._pairs(f"schedules.{name}", table.get(name, {}))) for name in names})

    def _pairs(self, path: str, table: object) -> Iterator[tuple[str, str]]:
        if not isinstance(table, Mapping):
            self.say(path, f"must be a table: [{path}]")
            return
        for key, value in table.items():
            if not isinstance(value, str) or not key:
                self.say(f'{path}."{key}"', f"{_shown(value)} is not a text in quotation marks")
            else:
                yield key, value

    def crib(self, entries: object) -> tuple[ShopTool, ...]:
        """The tools in stock."""
        if not isinstance(entries, list):
            self.say("crib", "must be a list of tools: [[crib]]")
            return ()
        return tuple(tool for number, entry in enumerate(entries) if (tool := self._tool(f"crib[{number}]", entry)))

    def prices(self, entries: object) -> tuple[Price, ...]:
        """What tools cost."""
        if not isinstance(entries, list):
            self.say("prices", "must be a list of prices: [[prices]]")
            return ()
        return tuple(price for number, entry in enumerate(entries) if (price := self._price(f"prices[{number}]", entry)))

    def oversizes(self, entries: object) -> tuple[DrillOversize, ...]:
        """How far over their size the shop's drills cut."""
        if not isinstance(entries, list):
            self.say("oversize", "must be a list of figures: [[oversize]]")
            return ()
        return tuple(self._oversize(f"oversize[{number}]", entry) for number, entry in enumerate(entries))

    def _oversize(self, path: str, entry: object) -> DrillOversize:
        read: DrillOversize = self.section(path, DrillOversize, entry)
        given = entry if isinstance(entry, Mapping) else {}
        for name in ("expected_mm", "worst_mm"):
            if name not in given:
                self.say(f"{path}.{name}", "must be given: what a hole measures over its drill")
        if read.worst_mm < read.expected_mm:
            self.say(f"{path}.worst_mm", f"{read.worst_mm:g} is less than expected_mm")
        if read.below_mm <= read.from_mm:
            self.say(f"{path}.below_mm", f"{read.below_mm:g} is not above from_mm")
        return read

    def _price(self, path: str, entry: object) -> Price | None:
        if not isinstance(entry, Mapping):
            self.say(path, 'must be a table: kind = "cutting tap", price = 18.50')
            return None
        self.check_keys(path, entry, tuple(part.name for part in fields(Price)))
        texts = {name: self._text(path, entry, name, name == "kind") for name in ("kind", "size", "material")}
        price = entry.get("price")
        if isinstance(price, bool) or not isinstance(price, (int, float)) or not math.isfinite(price) or price < 0:
            self.say(f"{path}.price", f"{_shown(price)} is not a price of at least 0")
            return None
        kind, size, material = texts["kind"], texts["size"], texts["material"]
        if kind is None or size is None or material is None:
            return None
        if kind not in PRICED:
            self.say(f"{path}.kind", f'"{kind}" is not one of {", ".join(PRICED)}')
            return None
        return Price(kind, float(price), size, material)

    def _tool(self, path: str, entry: object) -> ShopTool | None:
        if not isinstance(entry, Mapping):
            self.say(path, 'must be a table: kind = "drill", size = "6.8"')
            return None
        self.check_keys(path, entry, tuple(part.name for part in fields(ShopTool)))
        kind, size, material = (self._text(path, entry, name, name != "material") for name in ("kind", "size", "material"))
        if kind is None or size is None or material is None:
            return None
        if kind not in TOOL_KINDS:
            self.say(f"{path}.kind", f'"{kind}" is not one of {", ".join(TOOL_KINDS)}')
            return None
        return ShopTool(kind, size, material)

    def _text(self, path: str, entry: Mapping[str, Any], name: str, needed: bool) -> str | None:
        """A text of a table; a bare number will do. None, and said, when it is none or missing."""
        value = entry.get(name, "")
        text = str(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else value
        if not isinstance(text, str) or (needed and not text):
            self.say(f"{path}.{name}", "must be a text in quotation marks")
            return None
        return text


def checked(setting: Field[Any], value: object) -> bool | int | float | str:
    """A setting's value. Raises ValueError, which says what it should be."""
    if isinstance(setting.default, bool):
        if not isinstance(value, bool):
            raise ValueError(f"{_shown(value)} is not true or false")
        return value
    if isinstance(setting.default, str):
        choices = setting.metadata["choices"]
        if not isinstance(value, str):
            raise ValueError(f"{_shown(value)} is not a text in quotation marks")
        if choices and value not in choices:
            raise ValueError(f"{_shown(value)} is not one of {', '.join(choices)}")
        return value
    number, least = _number(setting, value), setting.metadata["least"]
    if not math.isfinite(number) or number < least:
        raise ValueError(f"{_shown(value)} is not a number of at least {least:g}")
    return number


def _number(setting: Field[Any], value: object) -> int | float:
    unit = unit_of(setting.name)
    if isinstance(value, str) and unit:
        try:
            return quantity(value, unit)
        except HoleschedError as problem:
            example = f'"{setting.default:g} {unit}"'
            raise ValueError(f"{_shown(value)} is not a number, or a number and a unit such as {example}") from problem
    whole = isinstance(setting.default, int)
    if (
        isinstance(value, bool)
        or not isinstance(value, (int, float))
        or (whole and (not math.isfinite(value) or value != int(value)))
    ):
        raise ValueError(f"{_shown(value)} is not {'a whole number' if whole else 'a number'}")
    return int(value) if whole else float(value)


def unit_of(name: str) -> str | None:
    """The unit of a setting's plain numbers, by its name's ending; None for a bare number."""
    return next((unit for ending, unit in _UNITS.items() if name.endswith(ending)), None)


def _shown(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, default=str)


def sample_shop_toml() -> str:
    """A shop file with every setting at its default, commented out, and what each means."""
    lines = [
        "# Shop file. Every line that starts with # is off; remove the # to set it.",
        '# A number may carry a unit in quotation marks: "0.25 in", "15 hp", "400 in/min".',
    ]
    for name, kind in SECTIONS.items():
        lines += ["", f"[{name}]"]
        for setting in fields(kind):
            lines += _sample_lines(setting)
    lines += [
        "", "# Header words of your own exports, and the field that each stands for.",
        "[schedules.columns]", '# "FEATURE SPEC" = "callout"',
        "", "# A drawing system's own codes in callouts, and what they stand for.",
        "[schedules.symbols]", '# "<DIA>" = "Ø"',
        "", "# Tools in stock, one table each. Without any, every standard size may be chosen.",
        f"# kind is one of: {', '.join(TOOL_KINDS)}.",
        "# [[crib]]", '# kind = "drill"', '# size = "6.8"', '# material = "carbide"',
        "", "# How far over its size a drill cuts, usually and at worst, in place of our figures; one table each, the first",
        "# that fits counts. Without material, from_mm or below_mm (the drill's own size) it holds for every one.",
        "# [[oversize]]", '# material = "HSS-Co"', "# from_mm = 3", "# below_mm = 10",
        "# expected_mm = 0.03", "# worst_mm = 0.05",
        "", "# What tools cost, one table each; without size or material it holds for every one of the kind.",
        f"# kind is one of: {', '.join(PRICED)}.",
        "# [[prices]]", '# kind = "cutting tap"', '# size = "M8x1.25"', '# material = "HSS-E"', "# price = 18.50",
    ]  # fmt: skip
    return "\n".join(lines) + "\n"


def _sample_lines(setting: Field[Any]) -> list[str]:
    unit, choices = unit_of(setting.name), setting.metadata["choices"]
    says = setting.metadata["says"]
    says += f" One of: {', '.join(choices)}." if choices else f" Unit: {unit}." if unit else ""
    return [f"# {says}", f"# {setting.name} = {json.dumps(setting.default, ensure_ascii=False)}"]
