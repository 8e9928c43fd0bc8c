"""What each leaf weighs, part by part, and where its centre of gravity lies."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from bossage.body import Body, How, Part, Role
from bossage.brief.records import Brief
from bossage.hang.glue_screws import screws_along
from bossage.hang.records import LeafMass, MassPart
from bossage.layout.records import Layout, Leaf
from bossage.paint.records import Paint
from bossage.relief.records import Relief
from bossage.timber import species_or_board

NM3_PER_M3 = 1e27
G_PER_KG = 1e3

DENSITY_AT_PCT = 12.0
"""Moisture at which the densities of `timber` are printed."""

HARDWARE = "screws and hardware"
SCREW_G = 3.0
"""A steel wood screw of 4 to 5 mm by 40 weighs 2 to 4 g. Common practice, no source."""

HARDWARE_G = {Role.HINGE: 80.0, Role.STAY: 120.0, Role.CATCH: 40.0}
"""All of a hinge, stay or catch, counted on the leaf: usual light ones. Ours."""

#: How the mass bill calls the parts of the body, in its order.
BILL = {
    Role.BACKER: "backer",
    Role.STRIP: "strips",
    Role.LIPPING: "lipping",
    Role.RIB: "ribs",
    Role.FRAME: "frame",
    Role.STILE: "stiles",
    Role.HINGE_STILE: "hinge stile",
    Role.STOP: "stop block",
    Role.STAY_BLOCK: "stay blocks",
    Role.PANEL_HALF: "cleat",
    Role.PACKER: "packer",
    Role.FILLER: "filler",
    Role.FOOT: "foot spacer",
    Role.LEDGE: "lock ledge",
}


def leaf_masses(brief: Brief, layout: Layout, body: Body, relief: Relief, paint: Paint) -> tuple[LeafMass, ...]:
    """Mass and centre of gravity of every leaf.

    Counts blocks, every part of the body that moves with the leaf, dry paint and dry glue, the water of wood that is
    damper than 12 % when laid or in use, screws and bought hardware. Paint and glue are shared out over the blocks.
    What the scales say (`piece.weighed_g`, of one leaf) replaces the total, not the bill and not the centre.

    Returns:
        One record a leaf: grams, and millimetres from the wall, from the leaf's left edge and from its foot.

    Leaves out:
        What stays on the wall; the natural spread of density (about ±10 %).

    Source:
        Densities at 12 %: `timber` data, each row with its source; paint and glue: dry grams per m² of the brief;
        water: moisture is mass of water over that of dry wood; screws and hardware: `SCREW_G`, `HARDWARE_G`.
    """
    return tuple(_leaf_mass(number, brief, layout, body, relief, paint) for number in range(len(layout.leaves)))


def _leaf_mass(number: int, brief: Brief, layout: Layout, body: Body, relief: Relief, paint: Paint) -> LeafMass:
    leaf = layout.leaves[number]
    wood = [_blocks(number, brief, layout, relief), *_of_the_body(body.of(leaf.name, leaf.copy), leaf)]
    parts = [*wood, _paint_and_glue(number, brief, layout, relief, paint)]
    parts += [*_water(wood, brief), *_hardware(body, leaf)]
    computed_g = math.fsum(part.mass_g for part in parts)
    weighed_g = brief.piece.weighed_g
    return LeafMass(
        leaf=leaf.name,
        copy=leaf.copy,
        parts=tuple(parts),
        total_g=computed_g if weighed_g is None else weighed_g,
        from_wall_mm=math.fsum(part.mass_g * part.from_wall_mm for part in parts) / computed_g,
        from_left_mm=math.fsum(part.mass_g * part.from_left_mm for part in parts) / computed_g,
        from_foot_mm=math.fsum(part.mass_g * part.from_foot_mm for part in parts) / computed_g,
        computed_g=computed_g,
        weighed=weighed_g is not None,
    )


def _of_the_body(parts: tuple[Part, ...], leaf: Leaf) -> Iterator[MassPart]:
    """One line for each kind of part that moves with the leaf."""
    by_name: dict[str, list[Part]] = defaultdict(list)
    for part in parts:
        if part.moves and part.role in BILL:
            by_name[BILL[part.role]].append(part)
    for name in BILL.values():
        alike = by_name.get(name)
        if not alike:
            continue
        total = math.fsum(part.mass_g for part in alike)
        centres = [part.centre_nm for part in alike]
        x, y, z = (
            math.fsum(part.mass_g * centre[axis] for part, centre in zip(alike, centres, strict=True)) / total
            for axis in range(3)
        )
        yield MassPart(
            name=name,
            mass_g=total,
            from_wall_mm=z / 1e6,
            from_left_mm=(x - leaf.x_nm) / 1e6,
            from_foot_mm=(y - leaf.y_nm) / 1e6,
        )


def _water(wood: list[MassPart], brief: Brief) -> Iterator[MassPart]:
    """What all wood weighs more than at 12 %, at the dampest that it gets: as laid, or in use; nothing where drier.

    Boards and frame are taken to be as damp as the blocks: they lie in the same shop and hang in the same room.
    """
    blocks = brief.blocks
    dampest = max(blocks.moisture_laid_pct, blocks.moisture_use_high_pct)
    dry = math.fsum(part.mass_g for part in wood)
    if dampest > DENSITY_AT_PCT and dry:
        more = (dampest - DENSITY_AT_PCT) / (100 + DENSITY_AT_PCT)
        centre = (
            math.fsum(part.mass_g * at for part, at in zip(wood, places, strict=True)) / dry
            for places in (
                [part.from_wall_mm for part in wood],
                [part.from_left_mm for part in wood],
                [part.from_foot_mm for part in wood],
            )
        )
        out, left, up = centre
        yield MassPart(
            name=f"water over {DENSITY_AT_PCT:g} %",
            mass_g=dry * more,
            from_wall_mm=out,
            from_left_mm=left,
            from_foot_mm=up,
        )


def _hardware(body: Body, leaf: Leaf) -> Iterator[MassPart]:
    """Screws of the back, as many as `screws_along` a joint, and what is bought and moves with the leaf."""
    parts = {part.name: part for part in body.of(leaf.name, leaf.copy)}
    found: list[tuple[float, tuple[float, float, float]]] = []
    for joint in body.joints:
        one = parts.get(joint.a)
        if (joint.leaf, joint.copy) != (leaf.name, leaf.copy) or one is None or not one.moves:
            continue
        if joint.how in (How.GLUE_AND_SCREWS, How.SCREWS):
            long = max(one.length_nm, one.box.y1 - one.box.y0)
            found.append((SCREW_G * screws_along(long), one.centre_nm))
    found += [(HARDWARE_G[part.role], part.centre_nm) for part in parts.values() if part.role in HARDWARE_G]
    total = math.fsum(mass for mass, _ in found)
    if total:
        x, y, z = (math.fsum(mass * centre[axis] for mass, centre in found) / total for axis in range(3))
        yield MassPart(
            name=HARDWARE,
            mass_g=total,
            from_wall_mm=z / 1e6,
            from_left_mm=(x - leaf.x_nm) / 1e6,
            from_foot_mm=(y - leaf.y_nm) / 1e6,
        )


def _blocks(number: int, brief: Brief, layout: Layout, relief: Relief) -> MassPart:
    mine = layout.blocks.leaf == number
    volume_nm3 = _footprint_nm2(layout)[mine] * relief.length_nm[mine]
    mass_g = volume_nm3 / NM3_PER_M3 * species_or_board(brief.blocks.species).density_12pct_kg_m3 * G_PER_KG
    return _spread_over_blocks("blocks", mine, mass_g, layout, relief)


def _spread_over_blocks(
    name: str, mine: NDArray[np.bool_], mass_g: NDArray[np.float64], layout: Layout, relief: Relief
) -> MassPart:
    blocks, leaf = layout.blocks, layout.leaves[int(layout.blocks.leaf[mine][0])]
    total = float(mass_g.sum())
    front_nm = layout.stand_off.stand_off_nm + layout.backer_nm + np.asarray(relief.levels_nm)[relief.level[mine]]
    middle_nm = front_nm - relief.length_nm[mine] / 2
    x_nm = blocks.x_nm[mine] + blocks.width_nm[mine] / 2 - leaf.x_nm
    y_nm = blocks.y_nm[mine] + blocks.height_nm[mine] / 2 - leaf.y_nm
    return MassPart(
        name=name,
        mass_g=total,
        from_wall_mm=float((mass_g * middle_nm).sum()) / total / 1e6,
        from_left_mm=float((mass_g * x_nm).sum()) / total / 1e6,
        from_foot_mm=float((mass_g * y_nm).sum()) / total / 1e6,
    )


def _paint_and_glue(number: int, brief: Brief, layout: Layout, relief: Relief, paint: Paint) -> MassPart:
    mine = layout.blocks.leaf == number
    glue_g = float(_footprint_nm2(layout)[mine].sum()) / 1e18 * brief.glue.dry_g_per_m2
    blocks = _blocks(number, brief, layout, relief)
    return MassPart(
        name="paint and glue",
        mass_g=glue_g + paint.dry_paint_g_per_leaf[number],
        from_wall_mm=blocks.from_wall_mm,
        from_left_mm=blocks.from_left_mm,
        from_foot_mm=blocks.from_foot_mm,
    )


def _footprint_nm2(layout: Layout) -> NDArray[np.float64]:
    return layout.blocks.width_nm.astype(np.float64) * layout.blocks.height_nm
