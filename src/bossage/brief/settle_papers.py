"""From table to record: the papers. A sticker must be large enough to read and the sheet to hold them all."""

from __future__ import annotations

from bossage.brief.notes import Notes
from bossage.brief.papers import LabelGrid, Papers, label_size_nm
from bossage.brief.sections import Tables
from bossage.units import format_length

LEAST_NM = (25_000_000, 12_000_000)  # address, arrow and a square code of 10 mm side by side


def settle_papers(tables: Tables, notes: Notes, paper: str) -> Papers:
    """Sticker sheets and notches."""
    table = tables.one("papers")
    notes.table("papers", table)
    grid = LabelGrid(
        across=table.labels_across,
        down=table.labels_down,
        left_nm=table.label_left,
        right_nm=table.label_right,
        top_nm=table.label_top,
        bottom_nm=table.label_bottom,
        gap_across_nm=table.label_gap_across,
        gap_down_nm=table.label_gap_down,
    )
    for side, size_nm, least_nm, key in (
        ("wide", label_size_nm(grid, paper)[0], LEAST_NM[0], "labels_across"),
        ("high", label_size_nm(grid, paper)[1], LEAST_NM[1], "labels_down"),
    ):
        if size_nm < least_nm and tables.sound("papers"):
            tables.fault(
                f"papers.{key}",
                f"stickers {format_length(max(size_nm, 0), tables.unit)} {side} on {paper}",
                f"at least {format_length(least_nm, tables.unit)} {side}",
                "Count the stickers of one sheet and measure its margins again.",
            )
    return Papers(labels=grid, notches=table.notches)
