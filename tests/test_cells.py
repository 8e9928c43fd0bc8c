"""Cells that a spreadsheet would run are written as text, and read back as they were."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bossage.cells import UnreadableTable, cell_meaning, cell_text, read_rows

_RUN = "=+-@\uff1d\uff0b\uff0d\uff20"


@given(st.text() | st.text(alphabet="='+-@; \t1\uff1d"))
def test_every_cell_reads_back_as_it_was(text: str) -> None:
    assert cell_meaning(cell_text(text)) == text


@given(st.text(alphabet="='+-@; \t1a\uff1d", min_size=1))
def test_no_cell_is_run_wherever_cells_are_parted(text: str) -> None:
    written = cell_text(text)
    if written != text:
        assert not written.lstrip().startswith(tuple(_RUN))
    for part in written.replace("\t", ";").split(";")[0 if written != text else 1 :]:
        assert not part.lstrip().startswith(tuple(_RUN))


@pytest.mark.parametrize("number", ["-3.5", "0", "12", "+4", "1200.000001"])
def test_a_number_stays_a_number(number: str) -> None:
    assert cell_text(number) == number


@given(
    st.lists(
        st.lists(
            st.text(alphabet=st.characters(exclude_characters="\r\n\x00", exclude_categories=["Cs"])),
            min_size=2,
            max_size=4,
        )
    )
)
def test_a_table_reads_back(rows: list[list[str]]) -> None:
    file = io.StringIO()
    csv.writer(file, lineterminator="\r\n").writerows([[cell_text(cell) for cell in row] for row in rows])
    text = file.getvalue()
    if not text.startswith("\ufeff"):
        assert read_rows(text, "counts.csv") == rows


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a,b\r\n" + "x" * 50_000, "50,000 letters"),
        ('a,b\r\n"' + "x" * 150_000, "no row of a table"),
        ("a\r\n" * 100_002, "more than 100,000 rows"),
    ],
)
def test_a_table_larger_than_any_is_refused_in_a_sentence(text: str, said: str) -> None:
    with pytest.raises(UnreadableTable, match=said):
        read_rows(text, "counts.csv")
