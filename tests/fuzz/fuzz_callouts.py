"""Coverage-guided texts for the callout grammar: `python tests/fuzz/fuzz_callouts.py [-max_total_time=60] [folder]`.

Needs atheris (`pip install atheris`; CPython up to the version its wheels serve). The options are libFuzzer's. It starts
from the callouts of the test corpora, in a folder of its own unless one is given, and stops at the first finding:

* an error other than a question: every text gives a hole or notes that ask;
* a hole without a question whose thread has no limits;
* a callout that, printed in its canonical spelling and read again, is another one.
"""

from __future__ import annotations

import csv
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["holesched"]):
    from holesched.callouts.canonical import canonical
    from holesched.callouts.parse import read_callout
    from holesched.features.build import build_callout, status_of
    from holesched.standards import threads
    from holesched.tables import table

TESTS = Path(__file__).resolve().parents[1]
CORPORA = (TESTS / "unit" / "callouts" / "callouts.csv", TESTS / "corpus" / "callouts.csv")
THICKNESS_MM = (None, 20.0, 5.0)


def one_text(data: bytes) -> None:
    """The first byte chooses unit and thickness, the rest is the text."""
    if not data:
        return
    unit = "in" if data[0] & 1 else "mm"
    text = data[1:].decode("utf-8", "replace")
    hole, notes, count = build_callout(text, unit, THICKNESS_MM[data[0] // 2 % 3])
    status = status_of(hole, notes)
    if status != "ok":
        assert any(note.is_question for note in notes), "neither a hole nor a question"
        return
    assert hole is not None
    assert count is not None
    for feature in hole.features:
        assert feature.diameter.mm > 0
        if feature.thread is not None:
            threads.geometry(feature.thread)
    reading = read_callout(text, unit)
    if reading.callout is not None and reading.callout.elements:
        printed = canonical(reading.callout)
        again = read_callout(printed, "mm").callout
        assert again is not None, f"{printed!r} cannot be read"
        assert replace(again, text=reading.callout.text) == reading.callout, f"{printed!r} is read as another callout"


def seeds(folder: Path) -> None:
    """The corpora's callouts as files, one each."""
    number = 0
    for corpus in CORPORA:
        with corpus.open(encoding="utf-8", newline="") as lines:
            for row in csv.DictReader(lines):
                number += 1
                (folder / f"seed{number}").write_bytes(bytes([row["unit"] == "in"]) + row["callout"].encode())


def words(path: Path) -> None:
    """The grammar's words and signs, for libFuzzer to put together."""
    found = [row["word"] for row in table("callout_words.csv").rows]
    found += [*"Ø⌴⌵↧°±×#", "%%c", "\\P", "H7", "6H", "2B", "M8", "1/4-20", "UNC", "+0.1/-0.2", "4X"]
    path.write_text("".join('"' + "".join(f"\\x{b:02x}" for b in word.encode()) + '"\n' for word in found))


def main() -> None:
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        (folder / "seeds").mkdir()
        seeds(folder / "seeds")
        words(folder / "words")
        given = [argument for argument in sys.argv[1:] if not argument.startswith("-")]
        work = [] if given else [str(folder / "seeds")]
        options = [f"-dict={folder / 'words'}", "-max_len=200", "-timeout=10", "-print_final_stats=1"]
        atheris.Setup([sys.argv[0], *options, *sys.argv[1:], *work], one_text)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
