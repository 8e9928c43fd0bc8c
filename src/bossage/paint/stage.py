"""Which faces and sides are painted, in which shade and in which way, and how much that takes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.body import Body, seen_wall_half
from bossage.brief.records import Brief
from bossage.fade.records import Fade
from bossage.layout.records import Layout
from bossage.paint.areas import BlockAreas, block_areas
from bossage.paint.buying import paints_to_buy
from bossage.paint.cautions import paint_cautions
from bossage.paint.coats import coat_runs, most_coats
from bossage.paint.days import paint_days
from bossage.paint.drying import batch_shares, drying_batches, shade_rooms
from bossage.paint.extras import extra_ml, thirst, tried_ml
from bossage.paint.faces import face_coats, glue_checks
from bossage.paint.ground import GlueField, glue_field, ground_ways
from bossage.paint.pots import family_pots
from bossage.paint.records import CountedPaint, EdgeWork, GroundPaint, Paint, ShadePaint
from bossage.paint.sealed import overhang_mm2, part_sides_mm2
from bossage.paint.stains import primed_blocks, stain_families, with_volumes
from bossage.paint.strips import StripFaces, strip_faces
from bossage.paint.way_checks import way_checks
from bossage.paint.way_records import GroundWay, PaintWay
from bossage.paint.ways import KEEPS, compare_ways
from bossage.relief.records import Relief

FloatArray = NDArray[np.float64]

MM2_PER_M2 = 1e6
ML_PER_L = 1e3
GRITS = (120, 180, 240)  # common practice, no source: end grain is taken to 220-320 before the primer
TOOL_OF = {"brush": "brush", "brush to line": "brush", "roll": "roll", "sticks first": "roll"}


def plan_paint(brief: Brief, layout: Layout, body: Body, relief: Relief, fade: Fade) -> Paint:
    """Paint by shade, primer, ground colour, tins and the edge work, over all leaves and copies.

    The painted area of a block is what the chosen way of painting coats: its face, and of its four sides what that
    way reaches, down to its back: a ring block as it is sawn. Where the brief has a maker's own count of the sides,
    that count stands beside it (`counted`) and weighs the dry paint; pots and tins hold what the way takes, for a pot
    that is used up cannot be matched.

    Args:
        brief: The checked brief.
        layout: Where the blocks sit.
        body: What is sawn out of the backers.
        relief: Their levels.
        fade: Their shades.

    Returns:
        Areas in mm², volumes in mL with all coats and reserves.

    Leaves out:
        How much more one species drinks than another.

    Source:
        Coverage is the brief's; the default rates are this project's own assumption (practice, no source).
    """
    asked, areas = brief.paint, block_areas(layout, relief)
    primed = primed_blocks(brief, fade)
    stains = stain_families(brief)
    coats_of = {one.shade: one.coats for family in stains for one in family.shades}
    coats_n = np.array([coats_of.get(shade.name, asked.coats) for shade in fade.shades])
    runs = coat_runs(brief, stains)
    face_times = np.array(thirst(brief, fade, stains))
    drunk_mm2 = (face_times[fade.shade] - 1) * areas.face_mm2  # by end grain, beyond what the face itself counts
    ways = compare_ways(brief, layout, relief, fade, areas, primed, coats_n[fade.shade], runs, drunk_mm2=drunk_mm2)
    way = next(one for one in ways if one.chosen)
    painted, side_mm2 = _painted(areas, way)
    field = glue_field(layout, body, gap_nm=brief.blocks.gap_nm, build_nm=asked.side_build_nm)
    grounds = ground_ways(brief, layout, field)
    on_front = next(one for one in grounds if one.chosen)
    ground = _ground(
        brief,
        layout,
        fade,
        field,
        on_front,
        strip_faces(layout, body),
        wall_half_mm2=_seen_mm2(layout, body),
        behind_mm2=part_sides_mm2(body) + overhang_mm2(layout),
    )
    litre = ML_PER_L / MM2_PER_M2 * KEEPS[TOOL_OF.get(way.name, way.name)]
    coat_ml_per_mm2 = 1 / asked.colour_m2_per_l * litre * (1 + asked.reserve)
    extra = extra_ml(brief, fade, areas, stains, face_times.tolist(), coats_n.tolist())
    rows = tuple(
        ShadePaint(
            shade=shade.name,
            blocks=int(mine.sum()),
            face_mm2=float(areas.face_mm2[mine].sum()),
            sides_shown_mm2=float(areas.shown_mm2[mine].sum()),
            painted_mm2=float(painted[mine].sum()),
            colour_ml=float((painted + drunk_mm2)[mine].sum()) * coat_ml_per_mm2 * int(coats_n[number]),
            extra_ml=extra[number],
        )
        for number, shade in enumerate(fade.shades)
        for mine in (fade.shade == number,)
    )
    area, coats = float(painted.sum()), asked.topcoat_coats if asked.topcoat else 0
    pots, checks = family_pots(brief, fade, rows)
    stains = with_volumes(stains, rows)
    coats_at_gluing = face_coats(brief, on_front)
    mixed = {one.family for one in pots} | {one.family for one in stains}
    ready = any(family.name not in mixed for family in brief.families)
    rooms = shade_rooms(brief, layout, fade)
    shares = batch_shares(rooms, drying_batches(rooms, way.batches, asked.rack_m2 * 1e6))
    days = paint_days(
        brief, runs, way, on_front, stains, shares=shares, bought_ready=ready, wall_half=ground.wall_half_mm2 > 0
    )
    topcoat_ml = (area + float(drunk_mm2.sum())) * coats / asked.topcoat_m2_per_l * litre * (1 + asked.reserve)
    side_ml = side_mm2 * coat_ml_per_mm2 * asked.coats
    return Paint(
        rows=rows,
        painted_mm2=area + side_mm2,
        shown_mm2=float((areas.face_mm2 + areas.shown_mm2).sum()),
        side_mm2=side_mm2,
        primer_ml=way.primer_ml,
        colour_ml=sum(row.colour_ml for row in rows),
        side_ml=side_ml,
        topcoat_ml=topcoat_ml,
        mean_per_shade_ml=sum(row.colour_ml for row in rows) / len(fade.shades),
        coats=most_coats(brief, stains),
        days=days,
        reserve=asked.reserve,
        basis=_basis(way),
        counted=_counted(brief, fade, areas, primed),
        ground=ground,
        ways=ways,
        ground_ways=grounds,
        glue_field_mm2=_read_only(field.bare_mm2),
        face_coats=coats_at_gluing,
        buy=paints_to_buy(
            brief,
            rows,
            pots,
            stains,
            ground,
            labs={shade.name: shade.lab for shade in fade.shades},
            tries_ml={one.family: tried_ml(brief, areas.face_mm2, one) for one in stains},
            primer_ml=way.primer_ml,
            sides_ml=side_ml,
            topcoat_ml=topcoat_ml,
        ),
        edge_work=_edge_work(brief, layout),
        pots=pots,
        stains=stains,
        dry_paint_g_per_leaf=_dry_g_per_leaf(brief, layout, _weighed_mm2(brief, areas, painted, way)),
        cautions=paint_cautions(brief),
        checks=(*checks, *glue_checks(coats_at_gluing, grounds), *way_checks(brief, way, days)),
    )


def _painted(areas: BlockAreas, way: PaintWay) -> tuple[FloatArray, float]:
    """By block what is painted in its own shade, and in all what sides are painted in the ground's colour."""
    if way.ground_mm2 > 0:
        return areas.face_mm2, way.ground_mm2
    return areas.face_mm2 + (areas.to_line_mm2 if way.name == "brush to line" else areas.sides_mm2), 0.0


def _weighed_mm2(brief: Brief, areas: BlockAreas, painted: FloatArray, way: PaintWay) -> FloatArray:
    """By block what carries dry paint on the finished piece; by the maker's own count of the sides where there is one,
    as the brief's dry grams go with that count."""
    share = brief.paint.side_share
    if share is not None:
        return areas.face_mm2 + share * areas.to_level_mm2
    return painted + (areas.sides_mm2 if way.ground_mm2 > 0 else 0.0)


def _counted(brief: Brief, fade: Fade, areas: BlockAreas, primed: NDArray[np.bool_]) -> CountedPaint | None:
    """Area and volumes by the maker's own share of the sides: faces, and that share of the sides up to their level."""
    asked = brief.paint
    if asked.side_share is None:
        return None
    mm2 = areas.face_mm2 + asked.side_share * areas.to_level_mm2
    litre = ML_PER_L / MM2_PER_M2
    colour_ml = float(mm2.sum()) * asked.coats / asked.colour_m2_per_l * litre * (1 + asked.reserve)
    primer = asked.primer_coats / asked.primer_m2_per_l * litre * (1 + asked.primer_reserve)
    return CountedPaint(
        share=asked.side_share,
        painted_mm2=float(mm2.sum()),
        primer_ml=float(mm2[primed].sum()) * primer,
        colour_ml=colour_ml,
        mean_per_shade_ml=colour_ml / len(fade.shades),
    )


def _basis(way: PaintWay) -> str:
    return {
        "brush to line": "faces, and the sides down to just below the lowest neighbour",
        "roll": "faces in their shade, and the whole of the four sides in the ground's colour",
        "sticks first": "faces in their shade, and the long sides of the sticks in the ground's colour, kerfs and "
        "spares with them",
    }.get(way.name, "faces, and the whole of the four sides as sawn")


def _read_only(values: FloatArray) -> FloatArray:
    values.setflags(write=False)
    return values


def _seen_mm2(layout: Layout, body: Body) -> float:
    """Faces of wall halves that openings of the backers look on to."""
    stretches = [one for leaf in layout.leaves for one in seen_wall_half(body.of(leaf.name, leaf.copy))]
    return sum((stop - start) * high for start, stop, high in stretches) / 1e12


def _ground(
    brief: Brief,
    layout: Layout,
    fade: Fade,
    field: GlueField,
    way: GroundWay,
    strips: StripFaces,
    *,
    wall_half_mm2: float,
    behind_mm2: float,
) -> GroundPaint:
    chosen = next(ground for ground in fade.grounds if ground.chosen)
    thickness_mm = brief.backer.thickness_nm / 1e6
    openings = field.openings_mm * thickness_mm
    edges = openings + sum(
        2 * (leaf.backer_width_nm + leaf.backer_height_nm) / 1e6 * thickness_mm for leaf in layout.leaves
    )
    faces = sum(leaf.width_nm * leaf.height_nm for leaf in layout.leaves) / 1e12
    asked = brief.paint
    litre = ML_PER_L / MM2_PER_M2
    per_coat = litre / asked.colour_m2_per_l * (1 + asked.reserve)
    # A dye goes on once and without a primer under it; edges are painted in every way. The ring is glued to the strips'
    # fronts: they are dyed, or painted along the ring's gaps alone.
    dyed = way.name == "dye"
    on_strips = strips.beyond_mm2 if dyed else strips.seen_mm2
    sealed = field.front_mm2 + edges + strips.beyond_mm2 + strips.ring_backs_mm2 + behind_mm2
    sealed += 0.0 if dyed else way.painted_mm2 + on_strips
    painted = way.painted_mm2 + edges + (0.0 if dyed else on_strips) + wall_half_mm2
    return GroundPaint(
        name=chosen.name,
        colour_hex=chosen.colour_hex,
        way=way.name,
        front_mm2=way.painted_mm2 + way.dyed_mm2,
        edges_mm2=edges,
        openings_mm2=openings,
        shows_mm2=field.shows_mm2,
        shows_share=field.shows_mm2 / faces,
        back_mm2=field.front_mm2,
        wall_half_mm2=wall_half_mm2,
        behind_mm2=behind_mm2,
        strips_mm2=on_strips,
        ring_backs_mm2=strips.ring_backs_mm2,
        dye_ml=(way.dyed_mm2 + on_strips) * per_coat if dyed else 0.0,
        colour_ml=painted * asked.coats * per_coat,
        seal_ml=sealed * asked.primer_coats / asked.primer_m2_per_l * litre * (1 + asked.primer_reserve),
    )


def _edge_work(brief: Brief, layout: Layout) -> EdgeWork:
    blocks = layout.blocks
    return EdgeWork(
        blocks=blocks.count,
        front_edges=4 * blocks.count,
        front_edges_mm=float((2 * (blocks.width_nm + blocks.height_nm)).sum()) / 1e6,
        grits=GRITS,
        minutes=brief.rates.sand_min * blocks.count,
    )


def _dry_g_per_leaf(brief: Brief, layout: Layout, painted_mm2: FloatArray) -> tuple[float, ...]:
    per_leaf = np.bincount(layout.blocks.leaf, weights=painted_mm2, minlength=len(layout.leaves))
    return tuple(float(area) * brief.paint.dry_g_per_m2 / MM2_PER_M2 for area in per_leaf)
