"""Coverage-guided files for the reader: `python tests/fuzz/fuzz_reader.py [-max_total_time=60] [folder]`.

Needs atheris (`pip install atheris`; CPython up to the version its wheels serve). The options are libFuzzer's. It starts
from small files of every kind, in a folder of its own unless one is given, and stops at the first finding: any error but the
sentence that a file cannot be read, a row lost, or a file that takes too long or too much memory.

Packed files hide their content from the fuzzer, so the first byte says what the rest is: a whole file, or one part of a
workbook that is then put in its place.
"""

from __future__ import annotations

import io
import sys
import tempfile
import zipfile
from collections.abc import Callable
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["holesched"]):
    from holesched.check import check_file
    from holesched.errors import HoleschedError
    from holesched.schedule.model import ReadOptions

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
import make_corpus
from make_example_inputs import ods_bytes

OPTIONS = ReadOptions()
STYLES = "xl/styles.xml"


def _placed(parts: dict[str, bytes], member: str) -> Callable[[bytes], bytes]:
    def place(content: bytes) -> bytes:
        written = io.BytesIO()
        with zipfile.ZipFile(written, "w") as archive:  # stored: packing would only cost time
            for name, data in parts.items():
                archive.writestr(name, content if name == member else data)
        return written.getvalue()

    return place


def kinds() -> tuple[list[Callable[[bytes], bytes]], list[list[bytes]]]:
    """How each kind of input becomes a file, and the inputs of that kind to start from."""
    plain = make_corpus.members(make_corpus.workbook({"Holes": make_corpus.TABLE}))
    shared = dict(plain)
    make_corpus.raised_runs(shared)
    open_document = make_corpus.members(ods_bytes("Holes", [tuple(row) for row in make_corpus.TABLE]))  # type: ignore[misc]
    marked = make_corpus.members((make_corpus.STORED / "traps.ods").read_bytes())
    texts = [
        make_corpus.separated(rows).encode() for rows in (make_corpus.TABLE, make_corpus.german(), make_corpus.japanese())
    ]
    parts = (
        (plain, make_corpus.SHEET),
        (shared, make_corpus.STRINGS),
        (plain, STYLES),
        (plain, "xl/workbook.xml"),
        (open_document, "content.xml"),
        (marked, "content.xml"),
    )
    old = [(make_corpus.STORED / name).read_bytes() for name in ("small.xls", "traps.xls")]
    whole: Callable[[bytes], bytes] = bytes
    makers = [whole, *(_placed(names, member) for names, member in parts)]
    starts = [[*texts, *old], *([names[member]] for names, member in parts)]
    return makers, starts


def main() -> None:
    makers, starts = kinds()
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        (folder / "seeds").mkdir()
        for kind, contents in enumerate(starts):
            for number, content in enumerate(contents):
                (folder / "seeds" / f"{kind}-{number}").write_bytes(bytes([kind]) + content)
        path = folder / "file.bin"

        def one_file(data: bytes) -> None:
            if not data:
                return
            path.write_bytes(makers[data[0] % len(makers)](data[1:]))
            try:
                checked = check_file(path, OPTIONS)
            except HoleschedError:
                return
            rows = checked.ledger.rows
            assert rows.read == rows.planned + rows.in_question + rows.set_aside

        given = [argument for argument in sys.argv[1:] if not argument.startswith("-")]
        work = [] if given else [str(folder / "seeds")]
        options = ["-max_len=16384", "-timeout=20", "-rss_limit_mb=2048", "-print_final_stats=1"]
        atheris.Setup([sys.argv[0], *options, *sys.argv[1:], *work], one_file)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
