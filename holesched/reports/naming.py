"""What things are called on the sheets: tools, steps, places, tags."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import PurePath

from holesched.notes import CellRef, Cite
from holesched.reports.show import Show, show_for
from holesched.sequence.model import JobPlan
from holesched.shop.model import Shop
from holesched.standards.sizes import Size
from holesched.tooling.model import Shoulder, StepKind, Tool
from holesched.units import MM_PER_INCH

_LIMITS_OF_SIZE = re.compile(r"(\d+\.\d+) to (\d+\.\d+) mm")
DUCTS = "with coolant ducts"
TAGS_SHOWN = 40
"""More tags than this on one card are cut short; all of them stand in the workbook."""


@dataclass(frozen=True, slots=True)
class ToolName:
    """`title` tells which tool it is, `detail` everything that makes it another tool than its neighbours."""

    title: str
    detail: str
    left_hand: bool


def show_of(job: JobPlan, shop: Shop) -> Show:
    """The way a job's numbers are written in this shop; running text calls its tools as its tool list does."""
    return naming_tools(show_for(job.header.unit, shop), job)


def naming_tools(show: Show, job: JobPlan) -> Show:
    """`show` with the names of a job's tools for running text."""
    tools = (loaded.tool for loaded in job.loading)
    return replace(show, names=tuple(dict.fromkeys((tool.called, tool_name(tool, show).title) for tool in tools)))


def tool_name(tool: Tool, show: Show) -> ToolName:
    """A tool as the set-up person asks for it."""
    name, _, further = (tool.name or tool.kind.value).replace(" degree", "°").partition(", ")
    size, other = _size(tool, show)
    parts = [part for part in (other, further, tool.material) if part]
    if tool.treatment and (tool.kind is StepKind.TAP or tool.treatment != "bright"):
        parts.append(tool.treatment)
    if tool.point_angle_deg is not None and not tool.cuts_back and not name.startswith(f"{tool.point_angle_deg:g}°"):
        parts.append(f"{tool.point_angle_deg:g}° point")
    if tool.shoulder is not None:
        size, told = f"{size} / {_second(tool.shoulder, show)}", _order(tool.shoulder, show)
        parts.append(told)
    if tool.flutes:
        parts.append(f"{tool.flutes} flutes" if tool.flutes != 1 else "1 flute")
    if tool.ducts:
        parts.append(DUCTS)
    if tool.chamfer is not None:
        form = f"{tool.chamfer.form}, " if tool.chamfer.form else ""
        threads = show.number(tool.chamfer.threads, 1, least=0)
        parts.append(f"{tool.chamfer.name} chamfer ({form}{threads} threads)")
    if tool.limit:
        parts.append(_limit(tool.limit, show))
    if tool.left_hand:
        parts.append("left hand")
    return ToolName(f"{name} {size}", ", ".join(parts), tool.left_hand)


def _second(shoulder: Shoulder, show: Show) -> str:
    """The larger diameter of a step drill in the job's unit: 6.8 / 8.7, #7 (0.2010 in) / 0.2598 in."""
    mm = shoulder.diameter_mm
    return show.number(mm, 3, least=0) if show.unit == "mm" else f"{show.fine(mm)} in"


def _order(shoulder: Shoulder, show: Show) -> str:
    """What a step drill is ordered by beside its diameters: the angle, and the length from tip to shoulder."""
    length, over = show.length(shoulder.length_mm), show.short(shoulder.over_mm)
    return f"{shoulder.angle_deg:g}° shoulder {length} {show.length_unit} from the tip (+{over} 0)"


def _limit(limit: str, show: Show) -> str:
    """A tap's class or a reamer's fit as it is called; two limits of size ("6.350 to 6.363 mm") in the job's unit."""
    sizes = _LIMITS_OF_SIZE.fullmatch(limit)
    return f"{show.span(float(sizes[1]), float(sizes[2]))} {show.length_unit}" if sizes else limit


def _size(tool: Tool, show: Show) -> tuple[str, str]:
    """The size as the trade names it with its measure in the job's unit, and the measure in the other unit where one is
    needed: ("6.8", ""), ("#7 (0.2010 in)", "5.105 mm"), ("12 mm (0.4724 in)", ""), a metric tool's name in an inch job."""
    if tool.kind is StepKind.THREAD_MILL and show.unit == "in":
        return tool.sized, f"cutter {show.fine(tool.diameter_mm)} in"
    if tool.kind.makes_thread:
        return tool.size, ""
    sizes_mm = [float(each) for each in tool.size.split(" to ")] if tool.bare_mm else [tool.diameter_mm]
    mm = f"{' to '.join(show.number(each, 3, least=0) for each in sizes_mm)} mm"
    inch = f"{' to '.join(show.number(each / MM_PER_INCH, 4) for each in sizes_mm)} in"
    if tool.bare_mm:
        return (mm.removesuffix(" mm"), "") if show.unit == "mm" else (f"{mm} ({inch})", "")
    try:
        named: float | None = float(tool.size.removesuffix(" in").removesuffix(" mm"))
    except ValueError:
        named = None
    if named is not None and abs(named - tool.diameter_mm) < 5e-4:
        return (mm.removesuffix(" mm"), "") if show.unit == "mm" else (f"{mm} ({inch})", "")
    if named is not None and abs(named * MM_PER_INCH - tool.diameter_mm) < 5e-4:
        return (inch, "") if show.unit == "in" else (f"{mm} ({inch})", "")
    return (f"{tool.size} ({mm})", inch) if show.unit == "mm" else (f"{tool.size} ({inch})", mm)


def diameter_name(size: Size) -> str:
    """⌀8, ⌀1/4; a number or letter size stands by itself: #7, F."""
    return f"⌀{size.label}" if size.label[:1].isdigit() or size.label.startswith(".") else size.label


def place(ref: CellRef | None) -> str:
    """File, sheet and cell, as a person looks them up."""
    if ref is None:
        return ""
    return f"{PurePath(ref.file).name} ! {ref.sheet} ! {ref.cell}"


def sources(cites: Iterable[Cite]) -> str:
    """Sources in one line, each once."""
    return "; ".join(dict.fromkeys(str(cite) for cite in cites))


_TAG = re.compile(r"^(.*?)(\d+)$")


def tag_runs(tags: Iterable[str]) -> list[str]:
    """Tags with consecutive numbers drawn together: A1, A2, A3, B7 is A1–A3, B7."""
    runs: list[tuple[str, str, str]] = []
    for tag in tags:
        match = _TAG.match(tag)
        if match and runs:
            stem, number = match.groups()
            last_stem, _, last = runs[-1]
            if last and stem == last_stem and int(number) == int(last) + 1 and len(number) >= len(last):
                runs[-1] = (stem, runs[-1][1], number)
                continue
        runs.append((match[1], match[2], match[2]) if match else (tag, "", ""))
    return [stem + first if first == last else f"{stem}{first}–{stem}{last}" for stem, first, last in runs]


def tag_text(tags: Iterable[str]) -> str:
    """The tags of a hole type for its card; a very long list says how many more there are and where."""
    runs = tag_runs(tag for tag in tags if tag)
    if len(runs) <= TAGS_SHOWN:
        return ", ".join(runs)
    return f"{', '.join(runs[:TAGS_SHOWN])} and {len(runs) - TAGS_SHOWN} more (tool_list.xlsx, sheet Holes)"
