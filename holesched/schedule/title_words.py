"""Label words of title blocks, by the table title_words.csv: to add one, add it there to its field's line."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache

from holesched.schedule.columns import key
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
