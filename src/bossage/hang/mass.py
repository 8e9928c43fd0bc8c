"""What each leaf weighs, part by part, and where its centre of gravity lies."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief, EdgeStyle, Opens
from bossage.hang.places import bevel_rise_nm, cleat_line, line_below_top_nm
from bossage.hang.records import LeafMass, MassPart
from bossage.layout.records import EdgeStrip, Layout, Leaf
from bossage.layout.rough import cleat_g_per_nm, packer_g_per_nm
from bossage.paint.records import Paint
from bossage.relief.records import Relief
from bossage.timber import species_or_board

NM3_PER_M3 = 1e27
G_PER_KG = 1e3


def leaf_masses(brief: Brief, layout: Layout, relief: Relief, paint: Paint) -> tuple[LeafMass, ...]:
    """Mass and centre of gravity of every leaf.

    Counts blocks, backer, strips or lipping, ribs, stiles, frame, the panel half of the cleat with its packer (none
    when the piece swings), dry paint and dry glue. Paint and glue are shared out over the blocks. What the scales say
    (`piece.weighed_g`, of one leaf) replaces the total, not the bill and not the centre.

    Returns:
        One record a leaf: grams, and millimetres from the wall, from the leaf's left edge and from its foot.

    Leaves out:
        Fixings, the wall half of the cleat, the foot spacer, hinges; the natural spread of density (about ±10 %).

    Source:
        Densities: `timber` data, each row with its source; paint and glue: dry grams per m² of the brief.
    """
    return tuple(_leaf_mass(number, brief, layout, relief, paint) for number in range(len(layout.leaves)))


def _leaf_mass(number: int, brief: Brief, layout: Layout, relief: Relief, paint: Paint) -> LeafMass:
    leaf = layout.leaves[number]
    parts = [_blocks(number, brief, layout, relief), _backer(brief, layout, leaf)]
    parts += [*_rim(brief, layout, leaf), *_behind(brief, layout, leaf), *_cleat(brief, layout, leaf)]
    parts.append(_paint_and_glue(number, brief, layout, relief, paint))
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


def _blocks(number: int, brief: Brief, layout: Layout, relief: Relief) -> MassPart:
    mine = layout.blocks.leaf == number
    volume_nm3 = _footprint_nm2(layout)[mine] * relief.length_nm[mine]
    mass_g = volume_nm3 / NM3_PER_M3 * species_or_board(brief.blocks.species).density_12pct_kg_m3 * G_PER_KG
    if not mine.any():
        return _no_blocks(layout, layout.leaves[number])
    return _spread_over_blocks("blocks", mine, mass_g, layout, relief)


def _no_blocks(layout: Layout, leaf: Leaf) -> MassPart:
    """A leaf of open cells only."""
    return MassPart(
        name="blocks",
        mass_g=0.0,
        from_wall_mm=(layout.stand_off.stand_off_nm + layout.backer_nm) / 1e6,
        from_left_mm=leaf.width_nm / 2e6,
        from_foot_mm=leaf.height_nm / 2e6,
    )


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


def _backer(brief: Brief, layout: Layout, leaf: Leaf) -> MassPart:
    thickness_nm = brief.backer.thickness_nm
    return _board(
        "backer",
        volume_nm3=leaf.backer_width_nm * leaf.backer_height_nm * thickness_nm,
        material=brief.backer.material,
        from_wall_nm=layout.stand_off.stand_off_nm + thickness_nm / 2,
        leaf=leaf,
    )


def _rim(brief: Brief, layout: Layout, leaf: Leaf) -> Iterator[MassPart]:
    if not layout.strips:
        return
    banded = brief.edge.style is EdgeStyle.BANDED
    stand_off_nm = layout.stand_off.stand_off_nm
    depth_nm = layout.strips[0].thickness_nm
    # lipping stands beside the backer from its back face on; strips lie behind the backer
    from_wall_nm = stand_off_nm + depth_nm / 2 if banded else stand_off_nm - depth_nm / 2
    yield _board(
        "lipping" if banded else "strips",
        volume_nm3=sum(_strip_volume_nm3(strip) for strip in layout.strips),
        material=layout.strips[0].material,
        from_wall_nm=from_wall_nm,
        leaf=leaf,
    )


def _strip_volume_nm3(strip: EdgeStrip) -> int:
    return strip.count * strip.length_nm * strip.width_nm * strip.thickness_nm


def _behind(brief: Brief, layout: Layout, leaf: Leaf) -> Iterator[MassPart]:
    for role in dict.fromkeys(part.role for part in brief.behind):
        alike = [part for part in brief.behind if part.role == role]
        volumes = [part.count * part.length_nm * part.width_nm * part.depth_nm for part in alike]
        volume_nm3 = sum(volumes)
        depth_nm = sum(v * part.depth_nm for v, part in zip(volumes, alike, strict=True)) / volume_nm3
        yield _board(
            {"rib": "ribs", "stile": "stiles"}.get(role, role),
            volume_nm3=volume_nm3,
            material=alike[0].species,
            from_wall_nm=layout.stand_off.stand_off_nm - depth_nm / 2,
            leaf=leaf,
        )


def _cleat(brief: Brief, layout: Layout, leaf: Leaf) -> Iterator[MassPart]:
    cleat = brief.cleat
    if brief.access.opens is Opens.SWING:
        return
    length_nm = cleat_line(brief, leaf).total_nm
    mean_nm = max(0.0, cleat.strip_nm - bevel_rise_nm(brief) / 2)
    # the panel half stands on the cleat line: its bevelled edge is the lower one
    foot_mm = (leaf.height_nm - line_below_top_nm(brief, leaf) + mean_nm / 2) / 1e6
    left_mm = (cleat_line(brief, leaf).middle_nm - leaf.x_nm) / 1e6
    deep = {"cleat": cleat.thickness_nm / 2, "packer": cleat.thickness_nm + cleat.packer_nm / 2}
    for name, g_per_nm in (("cleat", cleat_g_per_nm(brief)), ("packer", packer_g_per_nm(brief))):
        if g_per_nm:
            yield MassPart(
                name=name,
                mass_g=length_nm * g_per_nm,
                from_wall_mm=deep[name] / 1e6,
                from_left_mm=left_mm,
                from_foot_mm=foot_mm,
            )


def _board(
    name: str,
    *,
    volume_nm3: float,
    material: str,
    from_wall_nm: float,
    leaf: Leaf,
) -> MassPart:
    density = species_or_board(material).density_12pct_kg_m3
    return MassPart(
        name=name,
        mass_g=volume_nm3 / NM3_PER_M3 * density * G_PER_KG,
        from_wall_mm=from_wall_nm / 1e6,
        from_left_mm=leaf.width_nm / 2e6,
        from_foot_mm=leaf.height_nm / 2e6,
    )


def _footprint_nm2(layout: Layout) -> NDArray[np.float64]:
    return layout.blocks.width_nm.astype(np.float64) * layout.blocks.height_nm
