"""From tables to records: boards, sticks, cleat, fixings, access, tools, glue, paint, rates, prices."""

from __future__ import annotations

from typing import Any

from bossage.brief.making import (
    Backer,
    BehindPart,
    Cleat,
    Glue,
    Lift,
    PaintBrief,
    Price,
    Rates,
    SheetStock,
    Tin,
    Tools,
)
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.site import Fixture
from bossage.brief.terms import STRIP_NM, WEEKDAYS, EdgeStyle
from bossage.units import NM_PER_MM, format_length, format_size

LEAST_DAY_H = 1.0
# a shade under both usual boards, 4 × 8 ft and 1220 × 2440 mm, so that what fits here fits either
_SHEET_NM = (1219 * NM_PER_MM, 2438 * NM_PER_MM)


def settle_backer(tables: Tables, notes: Notes) -> Backer:
    """The backer with the boards that the shop can have."""
    table = tables.one("backer")
    notes.table("backer", table)
    sheets = []
    for path, sheet in tables.many("sheet"):
        notes.table(path, sheet)
        short = min(sheet.width, sheet.height)
        if 2 * sheet.edge_trim >= short and tables.sound(path):
            found, allowed = _say(tables, sheet.edge_trim), f"less than half of {_say(tables, short)}"
            tables.fault(f"{path}.edge_trim", found, allowed, "Nothing would be left of the board.")
        sheets.append(
            SheetStock(
                name=sheet.name or "",
                material=sheet.material or table.material,
                width_nm=sheet.width,
                height_nm=sheet.height,
                thickness_nm=sheet.thickness or table.thickness,
                price_cents=sheet.price,
                count=on_hand(path, sheet, notes),
                owned=sheet.owned,
                edge_trim_nm=sheet.edge_trim,
                turn=sheet.turn,
            )
        )
    if not tables.repeated["sheet"]:
        size = format_size(*_SHEET_NM, tables.unit)
        notes.add("sheet", f"{size}, without a price", "the usual full board (common practice, no source)")
        sheets.append(
            SheetStock(
                name="",
                material=table.material,
                width_nm=_SHEET_NM[0],
                height_nm=_SHEET_NM[1],
                thickness_nm=table.thickness,
                price_cents=None,
                count=None,
                owned=False,
                edge_trim_nm=0,
                turn=True,
            )
        )
    return Backer(
        material=table.material,
        thickness_nm=table.thickness,
        colour_hex=table.colour,
        colour_name=table.colour_name,
        sealed_faces=table.sealed_faces,
        fire_class=table.fire_class,
        sheets=tuple(sheets),
    )


def settle_behind(tables: Tables) -> tuple[BehindPart, ...]:
    """Wood on the back."""
    species = tables.one("blocks").species
    return tuple(
        BehindPart(
            name=table.name or table.role,
            role=table.role,
            count=table.count,
            length_nm=table.length,
            width_nm=table.width,
            depth_nm=table.depth,
            species=table.species or species,
            upright=table.upright,
            at_nm=table.at,
        )
        for _, table in tables.many("behind")
    )


def settle_cleat(tables: Tables, notes: Notes, fixtures: tuple[Fixture, ...], behind: tuple[BehindPart, ...]) -> Cleat:
    """The cleat; its packer makes up for what stands proud, where nothing else holds the piece off."""
    table = tables.one("cleat")
    notes.table("cleat", table)
    packer = table.packer
    if packer is None:
        air = tables.one("access").air
        edge = edge_behind_nm(tables)
        proud = max(fixture.proud_nm for fixture in fixtures) + air if fixtures else 0
        # edge strips and deep lipping reach back: over what is hidden, and past the wall half as the leaf is lifted
        wanted = max(proud, table.thickness) + edge
        held = any(part.role in {"frame", "stile"} for part in behind)
        packer = 0 if held else max(0, wanted - table.thickness)
        reason = "a frame or stiles hold it off" if held else "with the cleat it clears the fixture and its air"
        notes.length("cleat.packer", packer, reason)
    if table.length is not None and table.length <= 2 * table.end_distance:
        found, allowed = (
            _say(tables, table.length),
            f"more than twice the end distance, {_say(tables, table.end_distance)}",
        )
        if tables.sound("cleat.length", "cleat.end_distance"):
            tables.fault("cleat.length", found, allowed, "Make it longer: no fixing would have room.")
    if table.apart is not None:
        if table.pieces == 1 and tables.sound("cleat.pieces"):
            found, allowed = _say(tables, table.apart), "nothing beside a single cleat"
            tables.fault("cleat.apart", found, allowed, "Take it out, or write pieces = 2.")
        elif table.length is not None and table.apart < table.length and tables.sound("cleat.apart", "cleat.length"):
            found, allowed = _say(tables, table.apart), f"at least the length of one, {_say(tables, table.length)}"
            tables.fault("cleat.apart", found, allowed, "Move them apart, or make one long cleat of the two.")
    _check_bought(tables, table)
    return Cleat(
        kind=table.kind,
        material=table.material,
        thickness_nm=table.thickness,
        strip_nm=table.strip,
        bevel_deg=table.bevel,
        length_nm=table.length,
        packer_nm=packer,
        packer_height_nm=table.packer_height or table.strip,
        end_distance_nm=table.end_distance,
        offset_nm=table.offset,
        arm_nm=table.arm,
        line_below_top_nm=table.line_below_top,
        allowable_g=table.allowable,
        rating_g=table.rating,
        pieces=table.pieces,
        apart_nm=table.apart,
        foot=table.foot,
        hook_nm=table.hook,
        lengths_nm=tuple(sorted(set(table.lengths))),
        hole_pitch_nm=table.hole_pitch,
        first_hole_nm=table.first_hole,
    )


def _check_bought(tables: Tables, table: Any) -> None:
    """What only a bought cleat of metal has, and what of it contradicts the rest."""
    for key in ("hook", "lengths", "hole_pitch", "first_hole"):
        if getattr(table, key) and table.kind != "metal" and tables.sound("cleat.kind", f"cleat.{key}"):
            tables.fault(
                f"cleat.{key}", "a cleat of wood", 'kind = "metal"', "Take it out, or say that it is of metal."
            )
            return
    if table.hook and table.hook >= table.strip and tables.sound("cleat.hook", "cleat.strip"):
        found, allowed = _say(tables, table.hook), f"less than the height of a half, {_say(tables, table.strip)}"
        tables.fault("cleat.hook", found, allowed, "Write the whole height of a half as strip.")
    if table.length and table.lengths and table.length not in table.lengths:
        sold = ", ".join(_say(tables, one) for one in table.lengths)
        tables.fault("cleat.length", _say(tables, table.length), f"one that is sold: {sold}", "It is not sawn.")
    if table.first_hole and table.hole_pitch is None and tables.sound("cleat.hole_pitch"):
        tables.fault("cleat.first_hole", "no hole_pitch", "both or none", "Write hole_pitch as well.")


def edge_behind_nm(tables: Tables) -> int:
    """How far edge strips, or lipping that is deeper than the backer, reach behind the backer."""
    edge = tables.one("edge")
    if edge.style is EdgeStyle.OUTRIGGER:
        return int(edge.strip_thickness or STRIP_NM)
    if edge.style is EdgeStyle.BANDED and edge.lipping_depth:
        return max(0, int(edge.lipping_depth - tables.one("backer").thickness))
    return 0


def settle_lift(tables: Tables, notes: Notes) -> Lift:
    """The lift at the hook."""
    table = tables.one("lift")
    notes.table("lift", table)
    return Lift(
        horizontal_nm=table.horizontal,
        vertical_nm=table.vertical,
        travel_nm=table.travel,
        turn_deg=table.turn,
        per_minute=table.per_minute,
        coupling=table.coupling,
        people=table.people,
    )


def settle_tools(tables: Tables, notes: Notes) -> Tools:
    """What the shop has."""
    table = tables.one("tools")
    if table.day_to - table.day_from < LEAST_DAY_H:
        found, allowed = f"{table.day_from:g} to {table.day_to:g}", f"at least {LEAST_DAY_H:g} hours, within one day"
        tables.fault("tools.day_to", found, allowed, "Write hours of the clock: 9 to 17.")
    if len(set(table.days_off)) == len(WEEKDAYS):
        tables.fault("tools.days_off", "every day of the week", "a day left to work", "Take one out of the list.")
    notes.table("tools", table)
    return Tools(
        saw=table.saw,
        kerf_nm=table.kerf,
        hold_nm=table.hold,
        short_slice_nm=table.short_slice,
        keep_offcut_nm=table.keep_offcut,
        clamps=table.clamps,
        cauls=table.cauls,
        clamp_reach_nm=table.clamp_reach,
        clamp_opening_nm=table.clamp_opening,
        measure_ml=table.measure,
        people=table.people,
        bench=table.bench,
        day_from_h=table.day_from,
        day_to_h=table.day_to,
        days_off=table.days_off,
        set_s=table.set_time,
        load_s=table.load_time,
        cut_s=table.cut_time,
        sticks_at_once=table.sticks_at_once,
        capacity_nm=table.capacity,
    )


def settle_glue(tables: Tables, notes: Notes) -> Glue:
    """The glue and its clock."""
    table = tables.one("glue")
    notes.table("glue", table)
    return Glue(
        name=table.name,
        open_min=table.open_time,
        clamp_min=table.clamp_time,
        close_min=table.close_time,
        unload_min=table.unload_time,
        spread_g_per_m2=table.spread_g_per_m2,
        dry_g_per_m2=table.dry_g_per_m2,
        way=table.way or "",
    )


def settle_paint(tables: Tables, notes: Notes) -> PaintBrief:
    """Coats and coverage."""
    table = tables.one("paint")
    notes.table("paint", table, leave=() if table.topcoat else ("topcoat_coats", "topcoat_m2_per_litre"))
    return PaintBrief(
        coats=table.coats,
        colour_m2_per_l=table.m2_per_litre,
        reserve=table.reserve,
        primer_coats=table.primer_coats,
        primer_m2_per_l=table.primer_m2_per_litre,
        side_share=table.side_share,
        dry_g_per_m2=table.dry_g_per_m2,
        build_nm=table.build,
        dressed=table.dressed,
        primer_reserve=table.primer_reserve,
        way=table.way or "",
        ground_way=table.ground or "",
        brushes=table.brushes,
        rack_m2=table.rack,
        dry_h=table.dry_time,
        sprayer=table.sprayer,
        topcoat=table.topcoat,
        topcoat_coats=table.topcoat_coats,
        topcoat_m2_per_l=table.topcoat_m2_per_litre,
        gloss=table.gloss,
        fire_class=table.fire_class,
        blue_wool=table.blue_wool,
        tins=tuple(Tin(what=tin.what, size_ml=tin.size, cents=tin.price) for tin in table.tins),
    )


def settle_rates(tables: Tables, notes: Notes) -> Rates:
    """Minutes and money."""
    table = tables.one("rates")
    notes.table("rates", table)
    return Rates(
        saw_min=table.saw,
        sand_min=table.sand,
        paint_min=table.paint,
        lay_min=table.lay,
        glue_min=table.glue,
        fixed_h=table.fixed_hours,
        lay_s=table.lay_time,
        hourly_cents=table.hourly,
        overhead_pct=table.overhead,
        contingency_pct=table.contingency,
        markup_pct=table.markup,
        deposit_pct=table.deposit,
        repeat_step_pct=table.repeat_step,
        repeat_floor_pct=table.repeat_floor,
    )


def settle_prices(tables: Tables) -> tuple[Price, ...]:
    """Lump prices; what one is for is also what it covers, unless the brief says more."""
    return tuple(
        Price(what=table.what, cents=table.price, covers=table.covers or (table.what,))
        for _, table in tables.many("price")
    )


def on_hand(path: str, table: Any, notes: Notes) -> int | None:
    """How many there are: as many as wanted, but only one of what lies in the shop unless more are counted."""
    count: int | None = table.count
    if count is None and table.owned:
        notes.add(f"{path}.count", "1", "it lies in the shop, and no number was given")
        return 1
    return count


def _say(tables: Tables, nm: int) -> str:
    return format_length(nm, tables.unit)
