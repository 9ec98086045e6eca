"""The command line: options in, one call, a short summary out. Exit status 0, 2 or 3; nothing else is decided here."""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from holesched import __version__
from holesched.errors import HoleschedError

if TYPE_CHECKING:
    from holesched.check import CheckedSchedule
    from holesched.reports.base import RunStamp
    from holesched.schedule.model import ReadOptions
    from holesched.sequence.model import JobPlan
    from holesched.shop.model import Shop

RESOLVED, CANNOT, OPEN = 0, 2, 3
SCHEDULE_ENDINGS = (".xlsx", ".xlsm", ".xls", ".ods", ".csv", ".tsv")
FORMATS = ("html", "pdf", "xlsx", "json")
TAKEOFF_FORMATS = ("html", "xlsx", "csv")
T = TypeVar("T")


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command; returns 0 when everything is resolved, 3 with open questions, 2 when it cannot be done."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    options = _parser().parse_args(arguments)
    try:
        return int(options.run(options))
    except HoleschedError as problem:
        print(f"holesched: {problem}", file=sys.stderr)
        return CANNOT
    except BrokenPipeError:
        return CANNOT
    except OSError as problem:
        print(f"holesched: {problem.filename or 'a file'}: {problem.strerror or problem}", file=sys.stderr)
        return CANNOT
    except KeyboardInterrupt:
        print("holesched: interrupted; outputs already written are whole.", file=sys.stderr)
        return CANNOT
    except Exception as defect:
        if sys.flags.dev_mode:  # python -X dev -m holesched shows the whole of it
            raise
        print(f"holesched: {_defect(defect)}", file=sys.stderr)
        return CANNOT


def _defect(defect: Exception) -> str:
    """What to tell a user when the program itself is wrong: where, in one line, and what to do."""
    import traceback

    where = traceback.extract_tb(defect.__traceback__)[-1]
    place = f"{Path(where.filename).name}, line {where.lineno}"
    what = f"{type(defect).__name__} in {place}: {defect}"
    return f"a defect of the program, not of your file ({what}). Nothing more was written. Please report it with the file."


def _parser() -> argparse.ArgumentParser:
    common = argparse.ArgumentParser(add_help=False)
    common.add_argument("--material", help="workpiece material, e.g. 42CrMo4 or 6061-T6; overrides the title block")
    common.add_argument("--thickness", help='part thickness, e.g. 40 (in the drawing\'s unit), "40 mm" or "1.5 in"')
    common.add_argument("--units", choices=("mm", "in"), help="unit of plain numbers; overrides the title block")
    common.add_argument("--sheet", help="the sheet that holds the hole table, where the file has several")
    common.add_argument("--encoding", help="encoding of a csv or tsv file, e.g. cp1252 or shift_jis")
    common.add_argument("--shop", type=Path, help="shop file (machine, habits, tools in stock)")

    parser = argparse.ArgumentParser(
        prog="holesched", description="From a hole schedule to a process sheet and a tool list."
    )
    parser.add_argument("--version", action="version", version=f"holesched {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    sheet = commands.add_parser("sheet", parents=[common], help="process sheet, set-up sheet and tool list of schedules")
    sheet.add_argument("schedules", nargs="+", type=Path, metavar="FILE|FOLDER")
    sheet.add_argument("--out", type=Path, default=Path("out"), help="folder for the results (default: out)")
    sheet.add_argument("--format", default=",".join(FORMATS), help="comma list of html, pdf, xlsx, json (default: all)")
    sheet.set_defaults(run=_sheet)

    check = commands.add_parser("check", parents=[common], help="rows, holes and questions, before anything is planned")
    check.add_argument("schedules", nargs="+", type=Path, metavar="FILE|FOLDER")
    check.add_argument("--marked", action="store_true", help="also a copy of the workbook with the questions in its cells")
    check.add_argument("--letter", action="store_true", help="also the questions as a letter to the drawing's owner")
    check.add_argument("--out", type=Path, default=Path("out"), help="folder for the copy and the letter (default: out)")
    check.set_defaults(run=_check)

    explain = commands.add_parser("explain", parents=[common], help="the whole reasoning for one callout")
    explain.add_argument("callout", nargs="?", help='e.g. "M8x1.25-6H ↧16"')
    shown = explain.add_mutually_exclusive_group()
    shown.add_argument("--json", action="store_true", help="callouts from standard input, one a line; one object a line")
    shown.add_argument("--compare", action="store_true", help="the ways to make the thread, side by side")
    explain.set_defaults(run=_explain)

    takeoff = commands.add_parser("takeoff", parents=[common], help="holes, tools, gauges and minutes for a quote")
    takeoff.add_argument("schedules", nargs="+", type=Path, metavar="FILE|FOLDER")
    takeoff.add_argument("--lot", type=int, default=1, help="number of parts (default: 1)")
    takeoff.add_argument("--out", type=Path, default=Path("out"), help="folder for the results (default: out)")
    takeoff.add_argument("--format", default=",".join(TAKEOFF_FORMATS), help="comma list of html, xlsx, csv (default: all)")
    takeoff.set_defaults(run=_takeoff)

    shop = commands.add_parser("shop-sample", help="print a commented shop file to start from")
    shop.set_defaults(run=_shop_sample)
    return parser


def _sheet(options: argparse.Namespace) -> int:
    from holesched.printed import summary
    from holesched.reports.write import write_reports

    formats = _formats(options.format, FORMATS)
    shop, reading = _settings(options)
    names = _output_names(_schedule_files(options.schedules))
    status = RESOLVED
    for path, name in names.items():
        job = _planned(path, shop, reading)
        if job is None:
            status = CANNOT
            continue
        written, notes = write_reports(job, shop, options.out / name, formats, _stamp())
        print(summary(job))
        for note in notes:
            print(f"  note      {note.message} {note.suggestion}".rstrip())
        for file in written:
            print(f"  wrote     {file}")
        if any(note.is_question for note in job.notes) and status == RESOLVED:
            status = OPEN
    return status


def _check(options: argparse.Namespace) -> int:
    from holesched.printed import check_text

    shop, reading = _settings(options)
    documents = options.marked or options.letter
    status = RESOLVED
    for path, name in _output_names(_schedule_files(options.schedules)).items():
        job = _planned(path, shop, reading) if documents else None
        checked = job if documents else _checked(path, reading)
        if checked is None:
            status = CANNOT
            continue
        print(check_text(checked))
        if job is not None:
            _send_back(job, path, shop, reading, options, name)
        if any(note.is_question for note in checked.notes) and status == RESOLVED:
            status = OPEN
    if not documents:
        print("Tools and their depths may raise further questions: holesched sheet, or --marked or --letter here.")
    return status


def _send_back(job: JobPlan, path: Path, shop: Shop, reading: ReadOptions, options: argparse.Namespace, name: str) -> None:
    """Writes the marked copy and the letter that were asked for, if there is anything to ask."""
    from holesched.answers import proposed_answers
    from holesched.reports.write_questions import write_questions

    if not any(note.is_question for note in job.notes):
        print("  note      no questions: nothing to send back")
        return
    written, notes = write_questions(
        job,
        shop,
        _stamp(),
        options.out / name,
        marked_from=(path, reading) if options.marked else None,
        answers=proposed_answers(job, shop, reading) if options.letter else None,
    )
    for note in notes:
        print(f"  note      {note.message} {note.suggestion}".rstrip())
    for file in written:
        print(f"  wrote     {file}")


def _takeoff(options: argparse.Namespace) -> int:
    from holesched.printed import summary
    from holesched.reports.takeoff import write_takeoff

    formats = _formats(options.format, TAKEOFF_FORMATS)
    if options.lot < 1:
        raise HoleschedError("the lot must be at least 1", "--lot")
    shop, reading = _settings(options)
    jobs = [_planned(path, shop, reading) for path in _schedule_files(options.schedules)]
    planned = [job for job in jobs if job is not None]
    if not planned:
        return CANNOT
    written, notes = write_takeoff(planned, shop, options.lot, options.out / "takeoff", formats, _stamp())
    for job in planned:
        print(summary(job))
    for note in notes:
        print(f"  note      {note.message} {note.suggestion}".rstrip())
    for file in written:
        print(f"  wrote     {file}")
    if len(planned) < len(jobs):
        return CANNOT
    return OPEN if any(note.is_question for job in planned for note in job.notes) else RESOLVED


def _explain(options: argparse.Namespace) -> int:
    shop, reading = _settings(options)
    if options.json:
        return _explain_lines(options, shop, reading)
    if options.callout is None:
        raise HoleschedError("give a callout, or --json and callouts on standard input", "explain")
    from holesched.pipeline import compare, explain
    from holesched.reports.compared import compared
    from holesched.reports.explained import explained

    job = explain(options.callout.replace("\\n", "\n"), shop, reading)
    print(compared(job, compare(job, shop), shop) if options.compare else explained(job))
    return OPEN if any(note.is_question for note in job.notes) else RESOLVED


def _explain_lines(options: argparse.Namespace, shop: Shop, reading: ReadOptions) -> int:
    import json

    from holesched.features.build import build_callout
    from holesched.reports.sheet_json import callout_json

    status = RESOLVED
    lines = [options.callout] if options.callout is not None else (line.rstrip("\n") for line in sys.stdin)
    for line in lines:
        text = line.rstrip("\r").replace("\\n", "\n")
        hole, notes, count = build_callout(text, reading.unit or "mm")
        if any(note.is_question for note in notes):
            status = OPEN
        print(json.dumps(callout_json(text, hole, notes, count), ensure_ascii=False))
    return status


def _shop_sample(options: argparse.Namespace) -> int:
    from holesched.shop.read_toml import sample_shop_toml

    print(sample_shop_toml(), end="")
    return RESOLVED


def _settings(options: argparse.Namespace) -> tuple[Shop, ReadOptions]:
    """The shop, and what the command line says about the drawing."""
    from holesched.check import read_options
    from holesched.schedule.lengths import read_length_mm
    from holesched.shop.read_toml import read_shop

    shop = read_shop(options.shop)
    thickness = None
    if options.thickness is not None:
        thickness = read_length_mm(options.thickness, options.units or "mm")
        if thickness is None or thickness <= 0:
            raise HoleschedError(f"'{options.thickness}' is not a length", "--thickness", 'Write 40, "40 mm" or "1.5 in".')
    reading = read_options(
        shop,
        unit=options.units,
        material=options.material,
        thickness_mm=thickness,
        sheet=options.sheet,
        encoding=options.encoding,
    )
    return shop, reading


def _planned(path: Path, shop: Shop, reading: ReadOptions) -> JobPlan | None:
    """The file's job, or None with the reason on standard error: one bad file never costs the others."""
    from holesched.pipeline import plan_file

    return _unless_unreadable(lambda: plan_file(path, shop, reading))


def _checked(path: Path, reading: ReadOptions) -> CheckedSchedule | None:
    """The file's ledger and questions, or None with the reason on standard error."""
    from holesched.check import check_file

    return _unless_unreadable(lambda: check_file(path, reading))


def _unless_unreadable(read: Callable[[], T]) -> T | None:
    from holesched.errors import CannotRead
    from holesched.printed import plain

    try:
        return read()
    except CannotRead as problem:
        print(plain(f"holesched: {problem}"), file=sys.stderr)
        return None


def _stamp() -> RunStamp:
    from holesched.reports.base import RunStamp

    return RunStamp.now(__version__)


def _formats(text: str, known: Sequence[str]) -> frozenset[str]:
    asked = {word.strip().lower() for word in text.split(",") if word.strip()}
    unknown = sorted(asked - set(known))
    if unknown or not asked:
        raise HoleschedError(f"'{', '.join(unknown) or text}' is no format", "--format", f"Choose from {', '.join(known)}.")
    return frozenset(asked)


def _schedule_files(given: Sequence[Path]) -> list[Path]:
    """The schedule files named, and those in the folders named, each once."""
    found: dict[Path, None] = {}
    for path in given:
        if path.is_dir():
            inside = sorted(
                p for p in path.iterdir() if p.suffix.lower() in SCHEDULE_ENDINGS and not p.name.startswith(("~", "."))
            )
            if not inside:
                raise HoleschedError("no schedule in this folder", str(path), f"Looked for {', '.join(SCHEDULE_ENDINGS)}.")
            found.update(dict.fromkeys(inside))
        else:
            found[path] = None
    return list(found)


def _output_names(files: Sequence[Path]) -> dict[Path, str]:
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
