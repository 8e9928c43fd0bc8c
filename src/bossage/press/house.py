"""Wood in its house: how far blocks, rows and backer move between the saw and the room, and the gap that it asks for.

Movement by the Wood Handbook's coefficients (`timber.movement_mm`); ring angle unknown, so tangential, and the largest
mover where a name stands for several species.
"""

from __future__ import annotations

import math

from bossage.brief.records import Brief, Footprint
from bossage.checks import Check, Verdict
from bossage.layout.records import Zone
from bossage.press.bench import Bench
from bossage.press.wood_records import FaceMovement, House, YearPart
from bossage.timber import Movement, board, board_keys, emc_pct, movement_mm, species
from bossage.units import NM_PER_IN, NM_PER_MM, format_length, format_percent, format_thin

ROOM_DEGC = 21.0
"""Air temperature at which a moisture is turned into the humidity that holds it; 70 °F, the handbook's own column."""

LEAVES_OUT = (
    "Glue and neighbours hold part of the movement back; what they hold shows as strain, cupping or a fine crack.",
    "Blocks follow the air by days to weeks, so they hardly reach what a month or a season would bring them to.",
    "Paint slows movement and does not stop it: it evens out days, not seasons.",
    "Blocks are taken as glued by their middle and as free all round.",
    "Ring angle is unknown: rings that run straight across move about half as much.",
)


def wood_in_house(brief: Brief, bench: Bench) -> House:
    """Movement of every footprint, of a whole row against its backer, and of the outline.

    Args:
        brief: Moisture when sawn, when laid, driest and dampest in use, the air of shop and room; species of the
            sticks; backer.
        bench: The grid, for the width of a row and of the backer.

    Returns:
        Millimetres, swelling positive: `moved` from the saw to the driest day in use, `swells` from the driest to the
        dampest the wood ever is, the saw counted in; joints, rows and outline since the blocks were laid.

    Source:
        Wood Handbook FPL-GTR-190 (2010) Eq. 13-2 and 13-3; coefficient rows as named in each face. Boards:
        CEN/TS 12872 (2007), from memory.
    """
    blocks, leaf = brief.blocks, bench.leaves[0]
    faces = tuple(_face(brief, name, size_nm, wood) for (name, size_nm, wood) in _faces(brief))
    widest = max(faces, key=lambda face: abs(face.moved_mm))
    sawn, laid, driest = blocks.moisture_sawn_pct, blocks.moisture_laid_pct, blocks.moisture_use_low_pct
    row_mm = _row_mm(brief, bench, driest)
    backer = {
        way: backer_expansion_per_pct(brief) * (driest - laid) * size_nm / NM_PER_MM
        for way, size_nm in (("across", leaf.backer_width_nm), ("up", leaf.backer_height_nm))
    }
    outer = {way: _outer_moved_mm(brief, way) for way in ("across", "up")}
    return House(
        faces=faces,
        sawn_pct=sawn,
        laid_pct=laid,
        driest_pct=min(sawn, laid, driest),
        dampest_pct=max(sawn, laid, blocks.moisture_use_high_pct),
        driest_humidity_pct=humidity_pct(driest),
        use_humidity_pct=humidity_pct(blocks.moisture_use_high_pct),
        backer_across_mm=backer["across"],
        backer_up_mm=backer["up"],
        row_free_mm=row_mm,
        row_against_backer_mm=row_mm - backer["across"],
        joint_opens_mm=_opens_mm(brief, widest, driest),
        # water is what leaves: a slice of 100 g dry wood weighs 100 and its moisture
        rested_share=(100 + laid) / (100 + sawn),
        gap_free_nm=max(0, blocks.gap_nm - 2 * side_build_nm(brief)),
        # each outer block draws back by half of its own movement on its side, on top of what the backer does
        outline_across_mm=backer["across"] + outer["across"],
        outline_up_mm=backer["up"] + outer["up"],
        most_swelling_mm=max(face.swells_mm for face in faces),
        gap_advice_nm=_gap_advice_nm(brief, max(face.closes_mm for face in faces)),
        year=_year(brief, bench, widest),
        leaves_out=LEAVES_OUT,
    )


def house_figures(brief: Brief, house: House) -> dict[str, float]:
    """The movements by name: `move.58_mm` by size in the piece's unit, `move.big_mm` by the footprint's own name."""
    per_unit = NM_PER_IN if brief.piece.unit == "in" else NM_PER_MM
    out = {}
    for face in house.faces:
        out[f"move.{round(face.size_nm / per_unit, 4):g}_mm"] = face.moved_mm
    # a footprint's name goes with its longer side; written last, so that a name that is a number keeps its own size
    for footprint in brief.blocks.footprints:
        size = max(footprint.width_nm, footprint.height_nm)
        face = next(f for f in house.faces if f.size_nm == size and footprint.name in f.footprints)
        out.setdefault(f"move.{footprint.name}_mm", face.moved_mm)
    return out | {
        "move.swelling_mm": house.most_swelling_mm,
        "move.backer_across_mm": house.backer_across_mm,
        "move.backer_up_mm": house.backer_up_mm,
        "move.row_mm": house.row_free_mm,
        "move.row_against_backer_mm": house.row_against_backer_mm,
        "move.joint_opens_mm": house.joint_opens_mm,
        "move.outline_across_mm": house.outline_across_mm,
        "move.outline_up_mm": house.outline_up_mm,
        "move.gap_advice_mm": house.gap_advice_nm / NM_PER_MM,
        "room.humidity_driest_pct": house.driest_humidity_pct,
        "room.humidity_use_pct": house.use_humidity_pct,
    }


def check_gap(brief: Brief, house: House) -> Check:
    """Whether the gap takes the swelling from the day of gluing on; blocks that touch are fine while they only dry.

    One rule for every gap: from the moisture when laid to the dampest in use, what a block swells must fit into what
    the paint of both sides leaves of the gap. A wider gap is never worse than a narrower one.
    """
    blocks, unit = brief.blocks, brief.piece.unit
    worst = max(house.faces, key=lambda face: face.closes_mm)
    closes_nm = round(worst.closes_mm * NM_PER_MM)
    passes = closes_nm <= house.gap_free_nm
    laid, dampest = format_percent(house.laid_pct), format_percent(blocks.moisture_use_high_pct)
    gap = f"{format_length(blocks.gap_nm, unit)} of gap" if blocks.gap_nm else "No gap"
    if blocks.gap_nm and side_build_nm(brief):
        gap += f", of which paint on both sides leaves {format_thin(house.gap_free_nm, unit)}"
    opens = format_thin(max(0, round(house.joint_opens_mm * NM_PER_MM)), unit)
    if closes_nm:
        size = format_length(worst.size_nm, unit)
        moves = f"a block of {size} swells {format_thin(closes_nm, unit)} from {laid} when laid to {dampest} in use"
    else:
        driest = format_percent(blocks.moisture_use_low_pct)
        moves = f"from {laid} when laid to {driest} in use the blocks only dry, and joints open by up to {opens}"
    advice = format_length(house.gap_advice_nm, unit)
    return Check(
        stage="press",
        name="gap",
        title="Gap between blocks against their swelling",
        verdict=Verdict.FINE if passes else Verdict.CAUTION,
        found=f"{gap}; {moves}.",
        allowed="Free gap at least as wide as the swelling after gluing; none is needed where blocks only dry.",
        why="Blocks that swell against one another push their neighbours off the backer or bow it.",
        care=f"{resting_words()[:1].upper()}{resting_words()[1:]}.",
        remedy=f"leave {advice} between blocks",
        source=f"Wood Handbook FPL-GTR-190 Eq. 13-2, row {worst.species_row}, {worst.column}, "
        f"{worst.coefficient_per_pct:g} per 1 %" + (" (from memory)." if worst.from_memory else "."),
    )


def resting_words() -> str:
    """How a maker sees that slices have come to the room's moisture: by weight."""
    return (
        "let the slices lie loose in the room before they are glued; weigh a dozen of them each day; glue when two "
        "weighings a day apart agree within 2 parts in 1,000; then measure a few with a meter and write that as "
        "blocks.moisture_laid"
    )


def side_build_nm(brief: Brief) -> int:
    """Thickness of the dry paint on a side that touches its neighbour."""
    return brief.paint.side_build_nm


def backer_expansion_per_pct(brief: Brief) -> float:
    """Change of the backer's size in its plane, per 1 % of moisture; solid wood by its largest mover."""
    material = brief.backer.material
    if material in board_keys():
        return board(material).expansion_per_pct
    return species(material).movement.tangential_per_pct


def humidity_pct(moisture_pct: float, air_degc: float = ROOM_DEGC) -> float:
    """Relative humidity that holds wood at a moisture: what a hygrometer in the room should read; 5 to 95 %."""
    low, high = 5.0, 95.0
    for _ in range(40):
        middle = (low + high) / 2
        if float(emc_pct(air_degc, middle)) < moisture_pct:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _faces(brief: Brief) -> list[tuple[tuple[str, ...], int, Movement]]:
    """Every size across the grain, with the footprints that have it and the largest mover among their sticks."""
    sizes: dict[int, list[Footprint]] = {}
    for footprint in brief.blocks.footprints:
        for size in {footprint.width_nm, footprint.height_nm}:
            sizes.setdefault(size, []).append(footprint)
    return [
        (
            tuple(footprint.name for footprint in sizes[size]),
            size,
            max((wood_of(brief, footprint) for footprint in sizes[size]), key=lambda wood: wood.tangential_per_pct),
        )
        for size in sorted(sizes, reverse=True)
    ]


def _face(brief: Brief, footprints: tuple[str, ...], size_nm: int, wood: Movement) -> FaceMovement:
    blocks = brief.blocks
    sawn, laid = blocks.moisture_sawn_pct, blocks.moisture_laid_pct
    low, high = blocks.moisture_use_low_pct, blocks.moisture_use_high_pct
    return FaceMovement(
        footprints=footprints,
        size_nm=size_nm,
        species_row=wood.row,
        reason=wood.reason,
        column=wood.column,
        coefficient_per_pct=wood.tangential_per_pct,
        fsp_pct=wood.fsp_pct,
        from_memory=wood.from_memory,
        moved_mm=moved_mm(size_nm, wood, sawn, low),
        # the drawn size is that of the dampest day: what the block was smaller by on the driest one
        swells_mm=-moved_mm(size_nm, wood, max(sawn, high), min(sawn, low)),
        opens_mm=max(0.0, -moved_mm(size_nm, wood, laid, low)),
        closes_mm=max(0.0, moved_mm(size_nm, wood, laid, high)),
    )


def _gap_advice_nm(brief: Brief, closes_mm: float) -> int:
    """Swelling and paint, rounded up to half a millimetre or a 64th of an inch: what a maker can space with."""
    if closes_mm <= 0:
        return 0
    step = NM_PER_IN // 64 if brief.piece.unit == "in" else NM_PER_MM // 2
    return math.ceil((round(closes_mm * NM_PER_MM) + 2 * side_build_nm(brief)) / step) * step


def wood_of(brief: Brief, footprint: Footprint) -> Movement:
    """The largest mover among the sticks of a footprint's section."""
    keys = [stick.species for stick in brief.sticks if stick.name == footprint.section] or [brief.blocks.species]
    return max((species(key).movement for key in keys), key=lambda wood: wood.tangential_per_pct)


def _first_row(brief: Brief, bench: Bench) -> list[Footprint]:
    """The footprints along the top of the first leaf's field, left to right."""
    blocks = bench.blocks
    field = (blocks.leaf == 0) & (blocks.zone == Zone.FIELD)
    tops = blocks.y_nm + blocks.height_nm
    return [brief.blocks.footprints[int(f)] for f in blocks.footprint[field & (tops == tops[field].max())]]


def _row_mm(brief: Brief, bench: Bench, moisture_pct: float) -> float:
    """Movement of a whole row since it was laid, if nothing held it."""
    laid = brief.blocks.moisture_laid_pct
    return sum(moved_mm(part.width_nm, wood_of(brief, part), laid, moisture_pct) for part in _first_row(brief, bench))


def _block_mm(brief: Brief, face: FaceMovement, moisture_pct: float) -> float:
    """Movement of one size since it was laid."""
    woods = [wood_of(brief, footprint) for footprint in brief.blocks.footprints if footprint.name in face.footprints]
    wood = max(woods, key=lambda found: found.tangential_per_pct)
    return moved_mm(face.size_nm, wood, brief.blocks.moisture_laid_pct, moisture_pct)


def _opens_mm(brief: Brief, face: FaceMovement, moisture_pct: float) -> float:
    """How far the joint between two blocks of one size opens: each draws back, and the backer under them follows."""
    under = backer_expansion_per_pct(brief) * (moisture_pct - brief.blocks.moisture_laid_pct)
    return -_block_mm(brief, face, moisture_pct) + under * face.size_nm / NM_PER_MM


def _year(brief: Brief, bench: Bench, widest: FaceMovement) -> tuple[YearPart, ...]:
    """The year in the shop, then in the room."""
    width_mm = bench.leaves[0].backer_width_nm / NM_PER_MM
    laid = brief.blocks.moisture_laid_pct
    return tuple(
        YearPart(
            place=place,
            when=air.when,
            air_degc=air.air_degc,
            humidity_pct=air.humidity_pct,
            moisture_pct=air.moisture_pct,
            block_mm=_block_mm(brief, widest, air.moisture_pct),
            joint_opens_mm=_opens_mm(brief, widest, air.moisture_pct),
            row_against_backer_mm=_row_mm(brief, bench, air.moisture_pct)
            - backer_expansion_per_pct(brief) * (air.moisture_pct - laid) * width_mm,
        )
        for place, airs in (("shop", brief.climate.shop), ("room", brief.climate.room))
        for air in airs
    )


def _outer_moved_mm(brief: Brief, way: str) -> float:
    """Movement of the largest block at the outline."""
    blocks = brief.blocks
    size = max((f.width_nm if way == "across" else f.height_nm) for f in blocks.footprints)
    wood = max((wood_of(brief, f) for f in blocks.footprints), key=lambda found: found.tangential_per_pct)
    return moved_mm(size, wood, blocks.moisture_laid_pct, blocks.moisture_use_low_pct)


def moved_mm(size_nm: int, wood: Movement, start: float, end: float) -> float:
    """Change of a size between two moistures; swelling is positive.

    Wood wetter than its fibre saturation moves no further, so both ends are held to it.
    """
    at = [min(moisture, wood.fsp_pct) for moisture in (start, end)]
    return movement_mm(size_nm / NM_PER_MM, wood.tangential_per_pct, at[0], at[1], wood.fsp_pct)
