"""What the command line may say: commands and options, the settings they amount to, the files they name."""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from holesched import __version__
from holesched.errors import HoleschedError
from holesched.schedule.file_kinds import SCHEDULE_ENDINGS

if TYPE_CHECKING:
    from holesched.schedule.model import ReadOptions
    from holesched.shop.model import Shop

FORMATS = ("html", "pdf", "xlsx", "json")
TAKEOFF_FORMATS = ("html", "xlsx", "csv")


def parser() -> argparse.ArgumentParser:
    """Every command and option; the command's name is `command` in what it parses."""
    common = argparse.ArgumentParser(add_help=False)
    common.add_argument("--material", help="workpiece material, e.g. 42CrMo4 or 6061-T6; overrides the title block")
    common.add_argument("--thickness", help='part thickness, e.g. 40 (in the drawing\'s unit), "40 mm" or "1.5 in"')
    common.add_argument("--units", choices=("mm", "in"), help="unit of plain numbers; overrides the title block")
    common.add_argument("--lot", type=int, help="number of parts; overrides the title block")
    common.add_argument("--shop", type=Path, help="shop file (machine, habits, tools in stock)")

    files = argparse.ArgumentParser(add_help=False)
    files.add_argument("--outline", help='the part in plan along X and Y, e.g. 200x120 or "8 x 5 in", to look at its edges')
    files.add_argument("schedules", nargs="+", type=Path, metavar="FILE|FOLDER")
    files.add_argument("--sheet", help="the sheet that holds the hole table, where the file has several")
    files.add_argument("--encoding", help="encoding of a csv or tsv file, e.g. cp1252 or shift_jis")
    files.add_argument("--columns", help="what unusual header words mean, e.g. Bohrbild=callout,Stk=quantity")
    files.add_argument("--out", type=Path, default=Path("out"), help="folder for the results (default: out)")

    known = argparse.ArgumentParser(prog="holesched", description="From a hole schedule to a process sheet and a tool list.")
    known.add_argument("--version", action="version", version=f"holesched {__version__}")
    commands = known.add_subparsers(required=True, metavar="COMMAND", dest="command")

    sheet = commands.add_parser(
        "sheet", parents=[common, files], help="process sheet, set-up sheet and tool list of schedules"
    )
    sheet.add_argument("--format", default=",".join(FORMATS), help="comma list of html, pdf, xlsx, json (default: all)")

    check = commands.add_parser(
        "check", parents=[common, files], help="rows, holes and questions, before anything is planned"
    )
    check.add_argument("--marked", action="store_true", help="also a copy of the workbook with the questions in its cells")
    check.add_argument("--letter", action="store_true", help="also the questions as a letter to the drawing's owner")

    explain = commands.add_parser("explain", parents=[common], help="the whole reasoning for one callout")
    explain.add_argument("callout", nargs="?", help='e.g. "M8x1.25-6H ↧16"')
    shown = explain.add_mutually_exclusive_group()
    shown.add_argument("--json", action="store_true", help="callouts from standard input, one a line; one object a line")
    shown.add_argument("--compare", action="store_true", help="the ways to make the thread, side by side")

    takeoff = commands.add_parser("takeoff", parents=[common, files], help="holes, tools, gauges and minutes for a quote")
    takeoff.add_argument("--format", default=",".join(TAKEOFF_FORMATS), help="comma list of html, xlsx, csv (default: all)")

    sample = commands.add_parser("shop-sample", help="print a commented shop file to start from")
    sample.add_argument("--rules", action="store_true", help="print the rules that choose tools, as csv, to edit instead")
    return known


def settings(options: argparse.Namespace) -> tuple[Shop, ReadOptions]:
    """The shop, and what the command line says about the drawing."""
    from holesched.check import read_options
    from holesched.shop.read_toml import read_shop

    shop = read_shop(options.shop)
    reading = read_options(
        shop,
        unit=options.units,
        material=options.material,
        sheet=getattr(options, "sheet", None),
        encoding=getattr(options, "encoding", None),
    )
    columns = (*_columns(getattr(options, "columns", None)), *reading.columns)
    if options.lot is not None and options.lot < 1:
        raise HoleschedError("the lot must be at least 1", "--lot")
    reading = replace(reading, columns=columns, lot=options.lot)
    reading = _with_outline(reading, getattr(options, "outline", None))
    return shop, reading if options.thickness is None else _with_thickness(reading, options.thickness)


def _with_outline(reading: ReadOptions, text: str | None) -> ReadOptions:
    """The outline of the command line: with its own unit, else in the drawing's."""
    from holesched.schedule.outline import read_outline

    if text is not None and read_outline(text, "mm") is None:
        raise HoleschedError(f"'{text}' is no outline", "--outline", 'Write 200x120 or "8 x 5 in".')
    return replace(reading, outline=text)


def _with_thickness(reading: ReadOptions, text: str) -> ReadOptions:
    """The thickness of the command line: with its own unit, else in the drawing's."""
    from holesched.schedule.lengths import read_length

    length = read_length(text, "mm")
    if length is None or length.mm <= 0:
        raise HoleschedError(f"'{text}' is not a length", "--thickness", 'Write 40, "40 mm" or "1.5 in".')
    if length.unit is None:
        return replace(reading, thickness_number=length.mm)
    return replace(reading, thickness_mm=length.mm)


def _columns(text: str | None) -> tuple[tuple[str, str], ...]:
    """The column map of the command line: (header word, our field) for each WORD=FIELD."""
    if text is None:
        return ()
    pairs = [part.partition("=") for part in text.split(",") if part.strip()]
    if not pairs or not all(word.strip() and field.strip() for word, _, field in pairs):
        raise HoleschedError(f"'{text}' maps no columns", "--columns", "Write HEADER=FIELD, e.g. Bohrbild=callout.")
    return tuple((word.strip(), field.strip()) for word, _, field in pairs)


def formats(text: str, known: Sequence[str]) -> frozenset[str]:
    """The formats of a comma list. Raises HoleschedError for one that is not known, or none."""
    asked = {word.strip().lower() for word in text.split(",") if word.strip()}
    unknown = sorted(asked - set(known))
    if unknown or not asked:
        raise HoleschedError(f"'{', '.join(unknown) or text}' is no format", "--format", f"Choose from {', '.join(known)}.")
    return frozenset(asked)


def schedule_files(given: Sequence[Path]) -> list[Path]:
    """The schedule files named, and those in the folders named, each once; a folder without any stands for itself."""
    found: dict[Path, None] = {}
    for path in given:
        if path.is_dir():
            inside = sorted(
                p for p in path.iterdir() if p.suffix.lower() in SCHEDULE_ENDINGS and not p.name.startswith(("~", "."))
            )
            found.update(dict.fromkeys(inside or [path]))
        else:
            found[path] = None
    return list(found)


def output_names(files: Sequence[Path]) -> dict[Path, str]:
    """A folder name for each file: its own, with the ending added where two would share one or it is nothing but dots."""
    stems = [path.stem.rstrip(". ") for path in files]
    alike = Counter(stem.casefold() for stem in stems)
    names: dict[Path, str] = {}
    for path, stem in zip(files, stems, strict=True):
        name = stem if stem and alike[stem.casefold()] == 1 else path.name.replace(".", "_")
        while name.casefold() in {other.casefold() for other in names.values()}:
            name += "_"
        names[path] = name
    return names
