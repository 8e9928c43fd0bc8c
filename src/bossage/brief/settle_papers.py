"""From tables to records: the papers (a sticker must be large enough to read), and those who paint together."""

from __future__ import annotations

from bossage.brief.face import Footprint
from bossage.brief.faults import quoted
from bossage.brief.kinds import nearest
from bossage.brief.notes import Notes
from bossage.brief.papers import Crew, LabelGrid, Papers, label_size_nm
from bossage.brief.sections import Tables
from bossage.settling import Who
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
    asked = tuple(who for who in Who if who.value in table.ask)
    return Papers(labels=grid, notches=table.notches, ask=asked)


def settle_crew(tables: Tables, footprints: tuple[Footprint, ...]) -> Crew:
    """Those who paint together; every name once, absentees among them, the footprint one that exists."""
    table = tables.one("crew")
    names = tuple(table.names)
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        tables.fault(
            "crew.names",
            f"{quoted(twice[0])} more than once",
            "every name once",
            "Add a letter of the family name, so that each finds their own block.",
        )
    for name in table.absent:
        if name not in names:
            near = nearest(name, names)
            hint = f"Did you mean {quoted(near)}?" if near else "Leave absentees in the list of names as well."
            tables.fault("crew.absent", quoted(name), "a name of crew.names", hint)
    if names and len(set(table.absent)) >= len(names):
        tables.fault("crew.absent", "everyone", "somebody who comes", "Take a name out of the absent ones.")
    known = [footprint.name for footprint in footprints]
    if table.footprint and footprints and table.footprint not in known:
        tables.fault("crew.footprint", quoted(table.footprint), " or ".join(known), "Name one of the footprints.")
    return Crew(
        names=names, absent=tuple(dict.fromkeys(table.absent)), helpers=table.helpers, footprint=table.footprint
    )
