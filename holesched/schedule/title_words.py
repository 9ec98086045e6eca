"""Label words of title blocks, by the table title_words.csv: to add one, add it there to its field's line."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache

from holesched.schedule.columns import key
from holesched.standards.materials import find_material
from holesched.tables import table


@cache
def _labels() -> Mapping[str, str]:
    """Label word -> field; a word of two fields keeps the first."""
    found: dict[str, str] = {}
    for row in table("title_words.csv").rows:
        for word in row["words"].split("|"):
            found.setdefault(key(word), row["field"])
    return found


@lru_cache(maxsize=4096)
def label_field(text: str) -> str | None:
    """The title-block field that a text is the label of, or None."""
    return _labels().get(key(text)) if 0 < len(text) <= 40 else None


def is_title_label(text: str) -> bool:
    """Whether a text is a title-block label, alone or with its value after a colon; SIZE may as well head a table."""
    return label_field(re.split(r"[:：=]", text, maxsplit=1)[0].strip()) not in (None, "size")


_VALUES = {
    "revision": r"[A-Z]{1,2}\d?|\d{1,3}",
    "thickness": r"(?:\d+[ -])?\d+/\d+ *\S{0,6}|\d*[.,]?\d+ *(?:mm|in|inch|inches|\")?",
    "lot": r"\d+(?: *(?:pcs?|pieces|parts|off|stk|stück|st|pz|pezzi|個))?\.?",
    "part_number": r"(?=\D*\d)\S{3,}",
    "drawing": r"(?=\D*\d)\S{3,}",
    "material": r"(?=\D*\d).{2,60}",
}
"""What may follow a label without a colon in the same cell: more would make values of sentences."""
_COUNTS = frozenset(("qty", "quantity", "parts", "anzahl teile", "menge", "cantidad", "quantite", "qte", "quantita", "q ta"))
"""Labels of a lot that may as well count holes: without a colon they need the word for pieces."""


def label_and_value(text: str) -> tuple[str, str] | None:
    """A label and its value in one cell without a colon, where the value has the form of one: "Losgröße 25", "THK .875",
    "Part No. VB-88"; None for any other text."""
    words = text.split()
    for count in (3, 2, 1):
        label, value = " ".join(words[:count]), " ".join(words[count:])
        field = label_field(label) if value else None
        if field is None or not re.fullmatch(_VALUES.get(field, "(?!)"), value, re.I):
            continue
        bare_count = field == "lot" and key(label) in _COUNTS and value.isdigit()
        sentence = field == "material" and find_material(value).material is None
        return None if bare_count or sentence else (label, value)
    return None
