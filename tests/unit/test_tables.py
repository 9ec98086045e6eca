"""Tables with provenance: what is read, what is refused."""

from __future__ import annotations

import pytest

from holesched.errors import BadTable
from holesched.notes import Standing
from holesched.tables import read_table

HEADER = "# source: a book\n# edition: 3rd\n# table: 7\n# standing: published\n# keyed: by hand\n"


def test_rows_and_source() -> None:
    table = read_table(HEADER + "size,tpi\n1/4,20\n#10,32\n", "t.csv")
    assert [dict(row) for row in table.rows] == [{"size": "1/4", "tpi": "20"}, {"size": "#10", "tpi": "32"}]
    assert str(table.cite()) == "a book:3rd, 7"
    assert table.cite().standing is Standing.PUBLISHED


def test_a_number_size_is_a_row_and_no_header() -> None:
    assert len(read_table(HEADER + "size\n#2-56\n#4-40\n", "t.csv").rows) == 2


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("size\n1\n", "the provenance header lacks source, standing, keyed"),
        (HEADER.replace("published", "somewhere") + "size\n1\n", "'somewhere' is no standing"),
        (HEADER + "size,tpi\n1\n", "data line 2 has 1 cells, the header has 2"),
    ],
)
def test_what_is_wrong_is_said(text: str, problem: str) -> None:
    with pytest.raises(BadTable) as refused:
        read_table(text, "t.csv")
    assert refused.value.problem == problem
