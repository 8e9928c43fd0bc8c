"""From tables to records: boards, sticks, cleat, fixings, access, tools, glue, paint, rates, prices."""

from __future__ import annotations

from typing import Any

from bossage.brief.face import Footprint
from bossage.brief.kinds import nearest
from bossage.brief.making import (
    Access,
    Backer,
    BehindPart,
    Cleat,
    Fixings,
    Glue,
    Lift,
    PaintBrief,
    Price,
    Rates,
    SheetStock,
    StickStock,
    Tools,
)
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.site import Fixture, Wall
from bossage.brief.terms import FixingKind, WallBuild
from bossage.units import NM_PER_MM, format_length, format_size

_STICK_NM = 2400 * NM_PER_MM
_SHEET_NM = (1220 * NM_PER_MM, 2440 * NM_PER_MM)


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
                count=_on_hand(path, sheet, notes),
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
        sheets=tuple(sheets),
    )


def settle_sticks(
    tables: Tables, notes: Notes, footprints: tuple[Footprint, ...]
) -> tuple[tuple[StickStock, ...], tuple[Footprint, ...]]:
    """The sticks, and the footprints with the section that each is sliced from."""
    species = tables.one("blocks").species
    if not tables.repeated["stick"]:
        return _usual_sticks(tables, notes, footprints, species)
    sections: dict[str, tuple[int, int]] = {}
    sticks = []
    alone = footprints[0] if len(footprints) == 1 else None
    for path, table in tables.many("stick"):
        notes.table(path, table)
        size = _section_size(tables, path, table, footprints, alone)
        name = table.name or (format_size(*size, tables.unit) if size else "")
        if size is None:
            continue
        known = sections.setdefault(name.casefold(), size)
        if set(known) != set(size) and tables.sound(f"{path}.width", f"{path}.height", f"{path}.name"):
            found, allowed = format_size(*size, tables.unit), f"{format_size(*known, tables.unit)}, as above for {name}"
            tables.fault(path, found, allowed, "Give sticks of another section another name.")
        _check_lengths(tables, path, table)
        sticks.append(
            StickStock(
                name=name,
                section_width_nm=size[0],
                section_height_nm=size[1],
                bought_as=table.bought_as,
                length_nm=table.length,
                price_cents=table.price,
                count=_on_hand(path, table, notes),
                owned=table.owned,
                trim_nm=table.trim,
                stub_nm=table.stub,
                no_go_nm=table.no_go,
                spares_pct=table.spares,
                species=table.species or species,
            )
        )
    names = {stick.name.casefold(): stick.name for stick in sticks}
    return tuple(sticks), tuple(
        _with_section(tables, path, footprint, names, sections)
        for (path, _), footprint in zip(tables.many("footprint"), footprints, strict=True)
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
        wanted = max((fixture.proud_nm for fixture in fixtures), default=0) + air if fixtures else 0
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
    )


def settle_fixings(tables: Tables, notes: Notes, wall: Wall | None, cleat: Cleat) -> Fixings:
    """What goes into the wall; the kind follows from what stands behind the covering."""
    table = tables.one("fixings")
    notes.table("fixings", table)
    kind = table.kind
    if kind is None:
        build = wall.build if wall else WallBuild.TIMBER_STUDS
        kind = {
            WallBuild.TIMBER_STUDS: FixingKind.WOOD_SCREW,
            WallBuild.MASONRY: FixingKind.PLUG,
            WallBuild.METAL_STUDS: FixingKind.HOLLOW,
        }[build]
        notes.add("fixings.kind", kind.value, f"the wall is of {build.value}")
    panel_length = table.panel_length
    if panel_length is None:
        backer = tables.one("backer").thickness
        whole = cleat.thickness_nm + cleat.packer_nm + backer * 3 // 4
        panel_length = notes.length(
            "fixings.panel_length",
            whole // NM_PER_MM * NM_PER_MM,
            "through cleat and packer into three quarters of the backer",
        )
    return Fixings(
        kind=kind,
        gauge=table.gauge,
        length_nm=table.length,
        count=table.count,
        per_stud=table.per_stud,
        allowable_g=table.allowable,
        rating_g=table.rating,
        panel_gauge=table.panel_gauge,
        panel_length_nm=panel_length,
        panel_count=table.panel_count,
        panel_glued=table.panel_glued,
    )


def settle_access(tables: Tables, notes: Notes) -> Access:
    """How it opens."""
    table = tables.one("access")
    notes.table("access", table)
    return Access(
        opens=table.opens,
        tool=table.tool,
        hinge=table.hinge,
        angle_deg=table.angle,
        marked=table.marked,
        lock=table.lock,
        fixed_to_fixture=table.fixed_to_fixture,
        air_nm=table.air,
    )


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
    notes.table("tools", table)
    return Tools(
        saw=table.saw,
        kerf_nm=table.kerf,
        hold_nm=table.hold,
        keep_offcut_nm=table.keep_offcut,
        clamps=table.clamps,
        cauls=table.cauls,
        clamp_reach_nm=table.clamp_reach,
        measure_ml=table.measure,
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
    )


def settle_paint(tables: Tables, notes: Notes) -> PaintBrief:
    """Coats and coverage."""
    table = tables.one("paint")
    notes.table("paint", table)
    return PaintBrief(
        coats=table.coats,
        colour_m2_per_l=table.m2_per_litre,
        reserve=table.reserve,
        primer_coats=table.primer_coats,
        primer_m2_per_l=table.primer_m2_per_litre,
        side_share=table.side_share,
        dry_g_per_m2=table.dry_g_per_m2,
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


def _usual_sticks(
    tables: Tables, notes: Notes, footprints: tuple[Footprint, ...], species: str
) -> tuple[tuple[StickStock, ...], tuple[Footprint, ...]]:
    """A stick of 2.4 m for each footprint, as wide and high as its face."""
    usual = _usual_stick_values()
    sticks: dict[str, StickStock] = {}
    sized = []
    for footprint in footprints:
        name = footprint.section or format_size(footprint.width_nm, footprint.height_nm, tables.unit)
        if name not in sticks:
            size = format_size(footprint.width_nm, footprint.height_nm, tables.unit)
            notes.add(
                "stick",
                f"{size}, {_say(tables, _STICK_NM)} long, without a price",
                f"no stick was given; the section is the face of {footprint.name}",
            )
            sticks[name] = StickStock(
                name=name,
                section_width_nm=footprint.width_nm,
                section_height_nm=footprint.height_nm,
                length_nm=_STICK_NM,
                species=species,
                **usual,
            )
        sized.append(_named(footprint, name))
    return tuple(sticks.values()), tuple(sized)


def _usual_stick_values() -> dict[str, Any]:
    from bossage.brief.tables_making import StickTable

    usual = StickTable.model_construct()
    return {
        "bought_as": "",
        "price_cents": None,
        "count": None,
        "owned": False,
        "trim_nm": usual.trim,
        "stub_nm": usual.stub,
        "no_go_nm": (),
        "spares_pct": usual.spares,
    }


def _section_size(
    tables: Tables, path: str, table: Any, footprints: tuple[Footprint, ...], alone: Footprint | None
) -> tuple[int, int] | None:
    """A stick's measured section: as given, or the face of the footprint that it is for."""
    if table.width is not None and table.height is not None:
        return table.width, table.height
    if not tables.sound(f"{path}.width", f"{path}.height", "footprint[*].name", "footprint[*].section"):
        return None
    name = (table.name or "").casefold()
    fits = [one for one in footprints if name and name in {one.section.casefold(), one.name.casefold()}]
    face = fits[0] if fits else alone
    if face is None or (table.width or table.height) is not None:
        allowed = "width and height of the section, as measured"
        tables.fault(path, "a stick without both", allowed, "Add width and height.")
        return None
    return face.width_nm, face.height_nm


def _with_section(
    tables: Tables, path: str, footprint: Footprint, names: dict[str, str], sections: dict[str, tuple[int, int]]
) -> Footprint:
    """The footprint with the stick section that it is sliced from, which must have its size."""
    if not tables.sound("stick[*].name", "stick[*].width", "stick[*].height", "stick", f"{path}.section"):
        return footprint
    face = (footprint.width_nm, footprint.height_nm)
    asked = footprint.section.casefold()
    if asked and asked not in names:
        near = nearest(asked, names)
        advice = f'Did you mean "{names[near]}"?' if near else "Name a section that some [[stick]] has."
        known = f"a section: {', '.join(names.values())}"
        tables.fault(f"{path}.section", f'"{footprint.section}"', known, advice)
        return footprint
    fitting = [key for key, size in sections.items() if sorted(size) == sorted(face)]
    key = asked or (footprint.name.casefold() if footprint.name.casefold() in names else "")
    if not key and (fitting or len(names) == 1):
        key = fitting[0] if fitting else next(iter(names))
    if not key:
        allowed = f"a stick of that section; there are {', '.join(names.values())}"
        tables.fault(f"{path}.section", "nothing", allowed, "Add section = …, or a [[stick]] for it.")
        return footprint
    if key not in fitting and tables.sound(f"{path}.width", f"{path}.height"):
        found = (
            f"a face of {format_size(*face, tables.unit)} from a section of {format_size(*sections[key], tables.unit)}"
        )
        remedy = "Measure both; a slice is as large as its stick."
        tables.fault(f"{path}.section", found, "the same size", remedy)
    return _named(footprint, names[key])


def _named(footprint: Footprint, section: str) -> Footprint:
    return Footprint(
        name=footprint.name,
        width_nm=footprint.width_nm,
        height_nm=footprint.height_nm,
        section=section,
        quotas=footprint.quotas,
        weights=footprint.weights,
        allowed=footprint.allowed,
        spread_nm=footprint.spread_nm,
    )


def _check_lengths(tables: Tables, path: str, table: Any) -> None:
    if table.trim + table.stub >= table.length and tables.sound(f"{path}.trim", f"{path}.stub", f"{path}.length"):
        found = f"{_say(tables, table.length)} long with {_say(tables, table.trim + table.stub)} of trim and stub"
        tables.fault(f"{path}.length", found, "a length of which something is left", "Nothing could be cut from it.")
    for number, (start, end) in enumerate(table.no_go, 1):
        if (start >= end or end > table.length) and tables.sound(f"{path}.no_go", f"{path}.length"):
            found = f"{_say(tables, start)} to {_say(tables, end)}"
            allowed = f"[from, to] within {_say(tables, table.length)}"
            tables.fault(f"{path}.no_go[{number}]", found, allowed, "Measure both from the end that is trimmed.")


def _on_hand(path: str, table: Any, notes: Notes) -> int | None:
    """How many there are: as many as wanted, but only one of what lies in the shop unless more are counted."""
    count: int | None = table.count
    if count is None and table.owned:
        notes.add(f"{path}.count", "1", "it lies in the shop, and no number was given")
        return 1
    return count


def _say(tables: Tables, nm: int) -> str:
    return format_length(nm, tables.unit)
