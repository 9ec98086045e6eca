"""Tables people can read: a csv with a provenance header becomes a tuple of records.

The header is comment lines of the form `# key: text` (standard, edition, table, keyed, changed); then a header row and
data rows. The table keeps the standard's own unit and printed text; the caller converts once.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from holesched.errors import BadTable
from holesched.notes import Cite, Standing
from holesched.resources import table_text

REQUIRED_KEYS = ("source", "standing", "keyed")


@dataclass(frozen=True, slots=True)
class Table:
    """A table: its name, its provenance (key -> text) and its rows (column -> printed text)."""

    name: str
    provenance: Mapping[str, str]
    columns: tuple[str, ...]
    rows: tuple[Mapping[str, str], ...]

    def cite(self, place: str = "") -> Cite:
        """The table's source, as a Cite."""
        said = self.provenance
        return _cite(said["source"], said.get("edition", ""), place or said.get("table", ""), said["standing"])


@lru_cache(maxsize=1024)
def _cite(source: str, edition: str, place: str, standing: str) -> Cite:
    return Cite(source, edition, place, Standing(standing))


def read_table(text: str, name: str) -> Table:
    """A csv text as a Table. Raises BadTable, naming the line, when the header or a row is wrong."""
    provenance: dict[str, str] = {}
    body: list[str] = []
    for line in text.splitlines():
        if line.startswith("# "):
            key, _, value = line[2:].partition(":")
            provenance[key.strip()] = value.strip()
        elif line.strip():
            body.append(line)
    missing = [key for key in REQUIRED_KEYS if key not in provenance]
    if missing:
        raise BadTable(f"the provenance header lacks {', '.join(missing)}", name, "Add the '# key: text' lines.")
    if provenance["standing"] not in {standing.value for standing in Standing}:
        raise BadTable(f"'{provenance['standing']}' is no standing", name)
    reader = csv.reader(body)
    columns = tuple(next(reader, []))
    rows = []
    for number, cells in enumerate(reader, start=2):
        if len(cells) != len(columns):
            raise BadTable(f"data line {number} has {len(cells)} cells, the header has {len(columns)}", name)
        rows.append(dict(zip(columns, cells, strict=True)))
    return Table(name, provenance, columns, tuple(rows))


@cache
def table(name: str) -> Table:
    """A table of the package, read once: table("materials.csv")."""
    return read_table(table_text(name), name)


@cache
def cite_of(name: str) -> Cite:
    """The source of a table of the package."""
    return table(name).cite()
