"""A .csv or .tsv file as rows of texts: which encoding, which separator; both from the file itself."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence

from holesched.errors import CannotRead
from holesched.schedule import limits
from holesched.schedule.columns import heading

SEPARATORS = ";\t|,"
"""Tried in this order; the first that gives the best header wins."""
_JAPANESE = re.compile(r"[ぁ-んァ-ヶ々〃一-龠]")
_HEAD_LINES = 60


def decode(data: bytes, file: str, given: str | None = None) -> tuple[str, str]:
    """The file's text and the name of its encoding: by its mark, else UTF-8 if it is that, else UTF-16, Shift_JIS, cp1252.

    Raises CannotRead when no encoding fits. cp1252 fits nearly every text; it is never silent (see read_workbook).
    """
    if given:
        return _strict(data, given, file), given
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if data.startswith(mark):
            return _strict(data, encoding, file), encoding
    sample = data[:4096]
    if sample.count(0) > len(sample) // 4:
        return _strict(data, "utf-16-le" if sample[1::2].count(0) >= sample[::2].count(0) else "utf-16-be", file), "utf-16"
    try:
        return data.decode("utf-8"), "utf-8"
    except UnicodeDecodeError:
        pass
    if text := _mended(data):
        return text, "utf-8 with single bytes of cp1252"
    try:
        text = data.decode("cp932")
    except UnicodeDecodeError:
        return _strict(data, "cp1252", file), "cp1252"
    return (text, "shift_jis") if _is_japanese(text) else (_strict(data, "cp1252", file), "cp1252")


def _mended(data: bytes) -> str:
    """UTF-8 in which a few bytes are another program's cp1252; "" for a text that is not UTF-8 for the most part."""
    text = data.decode("utf-8", "surrogateescape")
    broken = sum(0xDC80 <= ord(c) <= 0xDCFF for c in text)
    if 2 * broken > sum(ord(c) > 127 for c in text) - broken:
        return ""
    single = {code: bytes([code - 0xDC00]).decode("cp1252", "replace") for code in range(0xDC80, 0xDD00)}
    return text.translate(single)


def _is_japanese(text: str) -> bool:
    """Whether a text that decodes as Shift_JIS is Japanese and not Western text by chance.

    Kana and the common kanji start with bytes below A0, which are rare signs in Western text; Western letters (C0 and
    above) decode to half-width kana, rare kanji or private signs.
    """
    lead = [c.encode("cp932", "replace")[0] for c in text[:20_000] if ord(c) > 127]
    common = sum(1 for byte in lead if byte < 0xA0)
    return common > 0 and common >= len(lead) - common and bool(_JAPANESE.search(text))


def _strict(data: bytes, encoding: str, file: str) -> str:
    try:
        return data.decode(encoding)
    except (UnicodeDecodeError, LookupError) as problem:
        raise CannotRead("its characters are in no encoding that is known.", file, "Save it as CSV UTF-8.") from problem


def read_rows(text: str, file: str, own: tuple[tuple[str, str], ...] = ()) -> list[list[str]]:
    """The rows of a separated text, cells not stripped. Raises CannotRead for a cell beyond limits.CELL_CHARACTERS."""
    text = text.removeprefix("\ufeff")
    separator = _declared_separator(text) or _best_separator(text, own)
    rows: list[list[str]] = []
    cells = 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    try:
        for row in reader:
            rows.append(row)
            cells += len(row)
            if cells > limits.GRID_CELLS:
                limits.check(cells, limits.GRID_CELLS, "cells", file, "Take out its empty columns.")
            if len(rows) > limits.ROWS:
                limits.check(len(rows), limits.ROWS, "rows", file, "Split it into several files.")
    except csv.Error as problem:
        remedy = "Look for a quotation mark without its partner near that line."
        raise CannotRead(f"line {reader.line_num} cannot be split into cells.", file, remedy) from problem
    return rows


def _declared_separator(text: str) -> str | None:
    """The separator of a first line "sep=;", which spreadsheets write and understand."""
    match = re.match(r'"?sep=(.)"?\r?\n', text, re.I)
    return match[1] if match else None


def _best_separator(text: str, own: tuple[tuple[str, str], ...]) -> str:
    """The separator that finds most header words in one line; without any, the one that splits most lines alike."""
    head = "".join(text.splitlines(keepends=True)[:_HEAD_LINES])
    return max(SEPARATORS, key=lambda separator: _score(head, separator, own))


def _score(head: str, separator: str, own: tuple[tuple[str, str], ...]) -> tuple[int, int]:
    try:
        rows: Sequence[Sequence[str]] = list(csv.reader(io.StringIO(head, newline=""), delimiter=separator))
    except csv.Error:
        return 0, 0
    words = max((sum(heading(cell.strip(), own) is not None for cell in row) for row in rows), default=0)
    widths = [len(row) for row in rows if len(row) > 1]
    return words, max((widths.count(width) * (width - 1) for width in set(widths)), default=0)
