"""From the text of a brief to the checked brief: every fault at once, every default with its reason."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from bossage.brief.amend import apply_plain
from bossage.brief.faults import BriefFaults, Fault
from bossage.brief.records import Brief
from bossage.checks import Edit

if TYPE_CHECKING:
    from bossage.brief.sections import Tables


def read_brief(text: str | bytes, edits: Iterable[Edit] = ()) -> Brief:
    """The brief that a TOML text tells.

    Args:
        text: The whole file. Bytes are taken as UTF-8, as TOML asks.
        edits: Changes made before it is read: the brief is that of `amend_text`, without the text being written.

    Returns:
        The checked brief; `defaults` says what was left open and which value was taken, and why.

    Raises:
        BriefFaults: With every fault that was found; or a change leads nowhere.
    """
    # pydantic and the tables cost a tenth of a second, which the records alone must not pay
    from bossage.brief.kinds import LOOK_AT_UNIT
    from bossage.brief.sections import exact_number, parse_toml, read_tables

    if isinstance(text, bytes):
        try:
            text = text.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            fault = Fault(
                field="",
                found=f"byte {error.start + 1:,} that is no text",
                allowed="a text file in UTF-8",
                remedy="Save the brief as plain text in UTF-8; a picture or a document will not do.",
            )
            raise BriefFaults([fault]) from None
    raw = parse_toml(text)
    for edit in edits:
        apply_plain(raw, edit, exact_number)
    tables = read_tables(raw)
    if tables.sound("piece.unit"):
        brief = _settle(tables)
    else:
        # bare numbers in an unknown unit are neither too large nor too small, and cannot be compared
        brief = None
        tables.faults = [fault for fault in tables.faults if fault.remedy != LOOK_AT_UNIT]
    if tables.faults or brief is None:
        raise BriefFaults(_in_file_order(tables))
    return brief


def _settle(tables: Tables) -> Brief | None:
    """All records of the brief; faults between fields are noted in the tables on the way."""
    from bossage.brief import (
        settle_access,
        settle_climate,
        settle_face,
        settle_fixings,
        settle_grid,
        settle_making,
        settle_papers,
        settle_pins,
        settle_room,
        settle_rules,
        settle_runs,
        settle_settled,
        settle_site,
        settle_sticks,
    )
    from bossage.brief.bounds import look_at_cover
    from bossage.brief.notes import Notes

    notes = Notes(unit=tables.unit)
    piece = settle_site.settle_piece(tables, notes)
    wall = settle_site.settle_wall(tables, notes)
    fixtures = settle_site.settle_fixtures(tables, piece.copies, notes)
    furniture = settle_site.settle_furniture(tables, notes)
    levels = settle_grid.settle_levels(tables, notes)
    footprints = settle_grid.settle_footprints(tables, levels, notes)
    sticks, footprints = settle_sticks.settle_sticks(tables, notes, footprints)
    fills = settle_grid.settle_fills(tables, footprints)
    leaves = settle_grid.settle_leaves(tables)
    edge = settle_face.settle_edge(tables, notes, footprints)
    ring_quotas = settle_face.settle_ring_quotas(tables, levels, edge.style)
    families = settle_face.settle_families(tables, notes)
    pins = settle_pins.settle_pins(tables, leaves, levels, families)
    climate, moistures = settle_climate.settle_climate(tables, notes)
    blocks = settle_face.settle_blocks(
        tables,
        notes,
        footprints=footprints,
        fills=fills,
        levels=levels,
        leaves=leaves,
        pins=pins,
        ring_quotas=ring_quotas,
        style=edge.style,
        moistures=moistures,
    )
    total = settle_grid.check_counts(tables, footprints, fills, leaves, ring_quotas, piece.copies)
    if total is None and not tables.faults:
        look_at_cover(tables, fixtures, footprints, piece.copies, settle_grid.MOST_BLOCKS)
    settle_face.check_shade_quotas(tables, families, total)
    behind = settle_making.settle_behind(tables)
    cleat = settle_making.settle_cleat(tables, notes, fixtures, behind)
    backer = settle_making.settle_backer(tables, notes)
    access = settle_access.settle_access(tables, notes)
    passed = settle_access.passed_by_wall_screws_nm(tables, access, fixtures, behind, cleat.thickness_nm)
    fixings = settle_fixings.settle_fixings(tables, notes, wall, cleat, passed)
    if wall is None:
        return None
    return Brief(
        piece=piece,
        wall=wall,
        fixtures=fixtures,
        furniture=furniture,
        keep_clear=settle_runs.settle_keep_clear(tables, notes),
        runs=settle_runs.settle_runs(tables, notes),
        eyes=settle_site.settle_eyes(tables),
        climate=climate,
        blocks=blocks,
        edge=edge,
        backer=backer,
        behind=behind,
        cleat=cleat,
        fixings=fixings,
        access=access,
        lift=settle_making.settle_lift(tables, notes),
        families=families,
        fade=settle_face.settle_fade(tables, notes, families, pins),
        sticks=sticks,
        tools=settle_making.settle_tools(tables, notes),
        glue=settle_making.settle_glue(tables, notes),
        paint=settle_making.settle_paint(tables, notes),
        rates=settle_making.settle_rates(tables, notes),
        prices=settle_making.settle_prices(tables),
        papers=settle_papers.settle_papers(tables, notes, piece.paper),
        crew=settle_papers.settle_crew(tables, footprints),
        room=settle_room.settle_room(tables),
        heat=settle_room.settle_heat(tables),
        rules=settle_rules.settle_rules(tables, notes),
        settled=settle_settled.settle_settled(tables),
        defaults=tuple(notes.used),
    )


def _in_file_order(tables: Tables) -> list[Fault]:
    """Faults by section in the order of the reference, so that those of one table stand together."""
    from bossage.brief.sections import BriefFile

    order = {name: place for place, name in enumerate(BriefFile.model_fields)}
    return sorted(tables.faults, key=lambda fault: order.get(fault.field.split("[")[0].split(".")[0], -1))
