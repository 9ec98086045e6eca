"""The text of a callout with a mark under the place in question, as every message about a callout shows it."""

from __future__ import annotations

import unicodedata

from holesched.callouts.model import Span

LONGEST_SHOWN = 72
"""Characters of a callout shown around the place; the rest is an ellipsis."""


def _columns(text: str) -> int:
    """Width in a fixed-width font: East Asian wide characters count twice, combining marks not at all."""
    if text.isascii():
        return len(text)
    return sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in text)


def marked(raw: str, *spans: Span) -> str:
    """Two lines: the callout as written (line breaks as ⏎) and carets under the spans; empty for an empty text."""
    shown = "".join("⏎" if c in "\n\r" else " " if c == "\t" or not c.isprintable() else c for c in raw)
    if not shown.strip() or not spans:
        return ""
    first = min(span.start for span in spans)
    begin = max(0, min(first - LONGEST_SHOWN // 2, len(shown) - LONGEST_SHOWN))
    end = min(len(shown), begin + LONGEST_SHOWN)
    lead, tail = "…" if begin else "", "…" if end < len(shown) else ""
    marks = [" "] * (len(shown) + 1)
    for span in spans:
        for place in range(span.start, max(span.end, span.start + 1)):
            if place < len(marks):
                marks[place] = "^"
    widths = [1] * (end - begin) if shown.isascii() else [_columns(character) for character in shown[begin:end]]
    line = " " * len(lead) + "".join(mark * width for mark, width in zip(marks[begin:end], widths, strict=True))
    line += marks[end].strip()
    return f"    {lead}{shown[begin:end]}{tail}\n    {line.rstrip()}"


def message(sentence: str, raw: str, *spans: Span) -> str:
    """A note's message: the sentence, and below it the callout with the place marked."""
    picture = marked(raw, *spans)
    return f"{sentence}\n{picture}" if picture else sentence
