"""What a hole type is called on the sheets: the drawing's own tag where its rows share one, else a letter no tag uses.

A person with the drawing in hand must never meet a type "J" that is not the drawing's J.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import islice

LONGEST = 4
"""Characters of a name that still fit the mark on a card and on the hole map."""

_PARTS = re.compile(r"[\s,;/+&]+|\s*[-–]\s*|\bto\b|\bthru\b", re.IGNORECASE)
_STEM = re.compile(r"([A-Za-z]+)\d*")


def name_types(tags: Sequence[Sequence[str]], others: Sequence[str] = ()) -> tuple[str, ...]:
    """A name for each type, all different; `tags[i]` are the tags of type i's rows, `others` those of rows without a type.

    A1 to A14 give A, if no other row begins with A; a tag that all rows of one type share is its name; types without
    tags, or whose tags mix with another type's, get the next letter that no tag begins with.
    """
    if not any(tag for group in (*tags, others) for tag in group):
        return tuple(islice(_letters(set()), len(tags)))
    stems = [_stems_of(mine) for mine in tags]
    holders = Counter(stem for group in (*stems, _stems_of(others)) for stem in group)
    shared = [_shared(mine) for mine in tags]
    groups = (*tags, others) if any(shared) else ()
    whole = Counter(tag for group in groups for tag in {tag.strip().upper() for tag in group})
    used: set[str] = set()
    names: list[str | None] = []
    for stem, tag in zip(stems, shared, strict=True):
        name = _own_name(stem, tag, holders, whole)
        names.append(name if name is not None and name not in used else None)
        used.update(filter(None, names[-1:]))
    free = _letters(used | set(holders))
    return tuple(name if name is not None else next(free) for name in names)


def _own_name(stems: frozenset[str], shared: str, holders: Mapping[str, int], whole: Mapping[str, int]) -> str | None:
    """The name that the type's own tags give it, or None."""
    if len(stems) == 1 and "" not in stems and holders[stem := next(iter(stems))] == 1 and len(stem) <= LONGEST:
        return stem
    return shared if shared.isalnum() and len(shared) <= LONGEST and whole[shared] == 1 else None


def _shared(tags: Sequence[str]) -> str:
    """The one tag of all rows of a type, "" where they differ."""
    first = tags[0].strip().upper() if tags else ""
    return first if all(tag.strip().upper() == first for tag in tags) else ""


def _stems_of(tags: Sequence[str]) -> frozenset[str]:
    """What a group's tags begin with; "" among them when one has no letters. Tags alike but for a last number are one."""
    alike = {tag.rstrip("0123456789"): tag for tag in tags}
    return frozenset(stem for tag in alike.values() for stem in _stems(tag) or ("",))


@lru_cache(maxsize=4096)
def _stems(tag: str) -> tuple[str, ...]:
    """The letters that a tag, a range or a list of tags begins with: "A1-A12" gives A; () when one has no letters."""
    parts = [part for part in _PARTS.split(tag.strip()) if part and not part.isdigit()]
    found = [_STEM.fullmatch(part) for part in parts]
    return tuple(match[1].upper() for match in found if match) if all(found) else ()


def _letters(taken: set[str]) -> Iterator[str]:
    """A, B, ... Z, AA, AB ... without those taken."""
    number = 0
    while True:
        number += 1
        letters, rest = "", number
        while rest:
            rest, last = divmod(rest - 1, 26)
            letters = chr(ord("A") + last) + letters
        if letters not in taken:
            yield letters
