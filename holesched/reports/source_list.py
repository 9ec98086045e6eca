"""The numbered list of sources at the end of a sheet: cards say [3], the list says what 3 is and what it is worth."""

from __future__ import annotations

from collections.abc import Iterable

from holesched.notes import Cite


class SourceList:
    """Sources numbered by first use. Filled while one sheet's values are built, then printed."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def mark(self, cites: Iterable[Cite]) -> str:
        """[1, 4] for these sources, with a space before it; "" for none."""
        numbers = dict.fromkeys(self._numbers.setdefault(str(cite), len(self._numbers) + 1) for cite in cites)
        return f" [{', '.join(str(number) for number in numbers)}]" if numbers else ""

    @property
    def lines(self) -> tuple[str, ...]:
        """The sources' texts in the order of their numbers, each with its standing where it is not a published one."""
        return tuple(self._numbers)
