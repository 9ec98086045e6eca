"""HTML to PDF. The only importer of WeasyPrint, and only when a PDF is wanted."""

from __future__ import annotations

import gc
import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from hashlib import sha256
from io import StringIO

from holesched.errors import HoleschedError
from holesched.reports.base import RunStamp

HOW_TO_GET_IT = (
    "PDFs need the Pango library. Debian: install the packages libpango-1.0-0 and libpangoft2-1.0-0; "
    "macOS: brew install pango; Windows: install Pango through MSYS2. Then run again."
)


class PdfUnavailable(HoleschedError):
    """No PDF can be made on this machine: the Pango library (or WeasyPrint itself) cannot be loaded."""


def to_pdf(html: str, stamp: RunStamp) -> bytes:
    """The PDF of a self-contained document; equal input and stamp give equal bytes.

    Nothing is fetched: only `data:` addresses inside the document are followed. Raises PdfUnavailable.
    """
    try:
        with redirect_stdout(StringIO()), redirect_stderr(StringIO()):  # its own banner would go to the user
            from weasyprint import HTML
            from weasyprint.urls import URLFetcher
    except (ImportError, OSError) as problem:
        raise PdfUnavailable(
            "no PDF was written, because the Pango library was not found", remedy=HOW_TO_GET_IT
        ) from problem
    fetcher = URLFetcher(allowed_protocols=("data",))
    with _dated(stamp), _rare_collection():
        document = HTML(string=html, url_fetcher=fetcher, base_url=None)
        return bytes(document.write_pdf(pdf_identifier=sha256(html.encode()).hexdigest()[:32].encode()))


@contextmanager
def letters_missing() -> Iterator[set[str]]:
    """Inside, every letter that a PDF shows as a box, because no font of this machine has it, is put into the set."""
    found: set[str] = set()

    class Listener(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            if str(record.msg).startswith(".notdef glyph") and isinstance(record.args, tuple):
                found.add(str(record.args[0]))

    listener, logger = Listener(), logging.getLogger("weasyprint")
    logger.addHandler(listener)
    try:
        yield found
    finally:
        logger.removeHandler(listener)


@contextmanager
def _dated(stamp: RunStamp) -> Iterator[None]:
    """Inside, the clock of font files is the stamp's date."""
    before = os.environ.get("SOURCE_DATE_EPOCH")
    os.environ["SOURCE_DATE_EPOCH"] = str(stamp.epoch)
    try:
        yield
    finally:
        if before is None:
            del os.environ["SOURCE_DATE_EPOCH"]
        else:
            os.environ["SOURCE_DATE_EPOCH"] = before


@contextmanager
def _rare_collection() -> Iterator[None]:
    """Inside, Python's garbage collector runs rarely: a layout is one large tree that lives until the end."""
    thresholds = gc.get_threshold()
    gc.freeze()
    gc.set_threshold(200_000, 50, 50)
    try:
        yield
    finally:
        gc.set_threshold(*thresholds)
        gc.unfreeze()
