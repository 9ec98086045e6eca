"""The command line: options in, one call, a short summary out. Exit status 0, 2 or 3; nothing else is decided here."""

from __future__ import annotations

import argparse
import signal
import sys
import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from holesched import __version__
from holesched.errors import HoleschedError
from holesched.options import FORMATS, TAKEOFF_FORMATS, formats, output_names, parser, schedule_files, settings

if TYPE_CHECKING:
    from holesched.check import CheckedSchedule
    from holesched.reports.base import RunStamp
    from holesched.schedule.model import ReadOptions
    from holesched.sequence.model import JobPlan
    from holesched.shop.model import Shop

RESOLVED, CANNOT, OPEN = 0, 2, 3
T = TypeVar("T")


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command; returns 0 when everything is resolved, 3 with open questions, 2 when it cannot be done."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    options = parser().parse_args(arguments)
    for name in ("SIGTERM", "SIGHUP"):  # a kill or a closed terminal tidies up as Ctrl-C does
        which = getattr(signal, name, None)
        if which is None or threading.current_thread() is not threading.main_thread():
            continue
        if signal.getsignal(which) is not signal.SIG_IGN:  # who started it with nohup wants it to outlive the terminal
            signal.signal(which, signal.default_int_handler)
    commands = {"sheet": _sheet, "check": _check, "explain": _explain, "takeoff": _takeoff, "shop-sample": _shop_sample}
    try:
        return commands[options.command](options)
    except HoleschedError as problem:
        print(f"holesched: {problem}", file=sys.stderr)
        return CANNOT
    except BrokenPipeError:
        return CANNOT
    except OSError as problem:
        where = problem.filename or "a temporary file"
        print(f"holesched: {where}: {problem.strerror or problem}. Outputs already written are whole.", file=sys.stderr)
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


def _sheet(options: argparse.Namespace) -> int:
    from holesched.printed import summary
    from holesched.reports.write import write_reports

    wanted = formats(options.format, FORMATS)
    shop, reading = settings(options)
    names = output_names(schedule_files(options.schedules))
    status = RESOLVED
    for path, name in names.items():
        job = _planned(path, shop, reading)
        if job is None:
            status = CANNOT
            continue
        written, notes = write_reports(job, shop, options.out / name, wanted, _stamp())
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

    shop, reading = settings(options)
    documents = options.marked or options.letter
    status, said = RESOLVED, False
    for path, name in output_names(schedule_files(options.schedules)).items():
        job = _planned(path, shop, reading) if documents else None
        checked = job if documents else _checked(path, reading)
        if checked is None:
            status = CANNOT
            continue
        print(check_text(checked))
        said = True
        if job is not None:
            _send_back(job, path, shop, reading, options, name)
        if any(note.is_question for note in checked.notes) and status == RESOLVED:
            status = OPEN
    if said and not documents:
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
    from holesched.reports.takeoff_counts import common_lot

    wanted = formats(options.format, TAKEOFF_FORMATS)
    shop, reading = settings(options)
    jobs = [_planned(path, shop, reading) for path in schedule_files(options.schedules)]
    planned = [job for job in jobs if job is not None]
    if not planned:
        return CANNOT
    written, notes = write_takeoff(planned, shop, common_lot(planned), options.out / "takeoff", wanted, _stamp())
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
    shop, reading = settings(options)
    if options.json:
        return _explain_lines(options, shop, reading)
    if options.callout is None:
        raise HoleschedError("give a callout, or --json and callouts on standard input", "explain")
    from holesched.pipeline import compare, compare_step_drill, explain
    from holesched.reports.compared import compared
    from holesched.reports.compared_step_drill import step_drill_compared
    from holesched.reports.explained import asked, explained

    job = explain(options.callout.replace("\\n", "\n"), shop, reading)
    if options.compare:
        ways, step_drill = compare(job, shop), compare_step_drill(job, shop)
        if ways or step_drill is None:
            print(compared(job, ways, shop))
        if step_drill is not None:
            print(("\n" if ways else "") + step_drill_compared(job, step_drill, shop))
        if questions := asked(job):
            print(questions)
    else:
        print(explained(job))
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
    from holesched.tooling.shop_rules import standing_rules

    print(standing_rules() if options.rules else sample_shop_toml(), end="")
    return RESOLVED


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
