"""The three edge styles: backer, strips and lipping, and how much of each outer block is glued."""

from __future__ import annotations

from fractions import Fraction

import numpy as np

from bossage.brief.records import Brief, EdgeStyle, LengthUnit
from bossage.checks import Check, Verdict
from bossage.layout.records import BlockField, EdgeStrip, IntArray, Leaf, RingBond
from bossage.layout.rect import Rect
from bossage.layout.words import Voice
from bossage.units import NM_PER_IN, NM_PER_MM, format_percent


def backer_rect(brief: Brief, face: Rect) -> Rect:
    """The backer behind a leaf's face: smaller by the overhang, by the ring, or by the lipping."""
    edge, blocks = brief.edge, brief.blocks
    if edge.style is EdgeStyle.OUTRIGGER:
        in_x, in_y = blocks.module_width_nm + blocks.gap_nm, blocks.module_height_nm + blocks.gap_nm
    else:
        in_x = in_y = edge.overhang_nm if edge.style is EdgeStyle.INSET else edge.lipping_thickness_nm
    return Rect(face.x + in_x, face.y + in_y, face.width - 2 * in_x, face.height - 2 * in_y)


def plan_strips(brief: Brief, leaf: Leaf) -> tuple[EdgeStrip, ...]:
    """Edge strips of an outrigger, or lipping of a banded edge, on each leaf; the horizontal ones first.

    Strips lie across the backer's edge; those that own the corners run out past it, the others fill between them.
    Lipping is butted: the horizontal pieces run the whole width unless the brief says otherwise.
    """
    edge = brief.edge
    across_owns = edge.strip_corners != "upright"
    if edge.style is EdgeStyle.OUTRIGGER:
        wide, tall = leaf.backer_width_nm, leaf.backer_height_nm
        out, lap = 2 * edge.strip_run_out_nm, 2 * edge.strip_behind_nm
        lengths = (wide + out, tall - lap) if across_owns else (wide - lap, tall + out)
        size = (edge.strip_width_nm, edge.strip_thickness_nm, edge.strip_material)
    elif edge.style is EdgeStyle.BANDED:
        less = 2 * edge.lipping_thickness_nm
        wide, tall = leaf.width_nm, leaf.height_nm
        lengths = (wide, tall - less) if across_owns else (wide - less, tall)
        size = (edge.lipping_thickness_nm, edge.lipping_depth_nm, edge.lipping_species)
    else:
        return ()
    return tuple(
        EdgeStrip(side=side, count=2, length_nm=long, width_nm=size[0], thickness_nm=size[1], material=size[2])
        for side, long in zip(("horizontal", "upright"), lengths, strict=True)
    )


def ring_bond(brief: Brief) -> RingBond | None:
    """How an outrigger's ring holds on its strips; None for the other styles.

    A corner block rests on the end of the strip that owns the corner. Its share grows with that strip's run-out,
    until the run-out reaches the ring's outer face.
    """
    edge, blocks = brief.edge, brief.blocks
    if edge.style is not EdgeStyle.OUTRIGGER:
        return None
    wide, tall, gap = blocks.module_width_nm, blocks.module_height_nm, blocks.gap_nm
    across_owns = edge.strip_corners != "upright"
    over, along = (tall, wide) if across_owns else (wide, tall)  # of a corner block: over and along the owning strip
    past = edge.strip_width_nm - edge.strip_behind_nm
    behind = max(0, past - gap)
    corner = min(behind, over) * min(max(0, edge.strip_run_out_nm - gap), along)
    return RingBond(
        extra_nm=brief.backer.thickness_nm,
        behind_backer_nm=edge.strip_behind_nm,
        behind_ring_nm=behind,
        ring_share=min(1.0, behind / wide, behind / tall),
        corner_area_nm2=corner,
        corner_share=corner / (wide * tall),
        corner_run_out_that_passes_nm=_run_out_that_passes(brief, min(behind, over), along),
    )


def check_edge(
    brief: Brief, leaves: tuple[Leaf, ...], field: BlockField, bond: RingBond | None, voice: Voice
) -> tuple[Check, ...]:
    """The bond of outer blocks: `corner_bond`, `ring_bond`, `edge_strips` for a ring, else `outer_bond`."""
    if bond is None:
        return _check_overhang(brief, leaves, field, voice) if brief.edge.style is EdgeStyle.INSET else ()
    return (
        _check_corner(brief, bond, voice),
        _check_ring(brief, bond, voice),
        _check_strips(brief, leaves[0], bond, voice),
    )


def outer_shares(brief: Brief, leaves: tuple[Leaf, ...], field: BlockField) -> dict[str, float]:
    """Least share of any outer block's back that lies on an inset backer."""
    if brief.edge.style is not EdgeStyle.INSET or not field.count:
        return {}
    across, up = _outer_sides(leaves, field)
    over = brief.edge.overhang_nm
    glued = np.maximum(field.width_nm - over * across, 0) / field.width_nm
    glued = glued * np.maximum(field.height_nm - over * up, 0) / field.height_nm
    return {"outer_bond_share": float(glued.min())}


MARK_NM = {LengthUnit.MM: NM_PER_MM, LengthUnit.IN: NM_PER_IN // 16}
"""What a shop marks a strip to: whole millimetres, sixteenths of an inch."""


def exact_share(share: float) -> Fraction:
    """The fraction that a maker meant by a rounded share: 0.3333 is one third."""
    return Fraction(share).limit_denominator(1000)


def _run_out_that_passes(brief: Brief, behind: int, along: int) -> int:
    """Smallest run-out with which a corner block has its share, in marks of the brief's tape; 0 when none does."""
    blocks = brief.blocks
    wanted = exact_share(brief.edge.bond_share_min) * blocks.module_width_nm * blocks.module_height_nm
    if behind <= 0:
        return 0
    mark = MARK_NM[brief.piece.unit]
    run_out = -(-(wanted / behind + blocks.gap_nm) // mark) * mark
    return int(run_out) if run_out - blocks.gap_nm <= along else 0


def _percent(share: float | Fraction) -> str:
    return format_percent(100 * float(share))


def _check_corner(brief: Brief, bond: RingBond, voice: Voice) -> Check:
    blocks, least = brief.blocks, exact_share(brief.edge.bond_share_min)
    passes = Fraction(bond.corner_area_nm2, blocks.module_width_nm * blocks.module_height_nm) >= least
    out = bond.corner_run_out_that_passes_nm
    more = out - brief.edge.strip_run_out_nm
    return voice.check(
        "corner_bond",
        "Corner blocks of the ring on their strips",
        Verdict.FINE if passes else Verdict.CAUTION,
        found=f"a corner block rests on {voice.say_area(bond.corner_area_nm2)}, "
        f"{_percent(bond.corner_share)} of its back",
        allowed=f"at least {least} of its back, {_percent(least)}",
        why="a corner block is the one that gets knocked, and it hangs by this patch of glue alone",
        remedy=f"let the strips that own the corners run out {voice.say(out)} past the backer ({voice.say(more)} more)"
        if out
        else f"use strips wider than {voice.say(brief.edge.strip_width_nm)}: no run-out alone will do",
        source="bond rule of the brief; common practice, no source",
    )


def _check_ring(brief: Brief, bond: RingBond, voice: Voice) -> Check:
    least = exact_share(brief.edge.bond_share_min)
    side = max(brief.blocks.module_width_nm, brief.blocks.module_height_nm)
    passes = Fraction(bond.behind_ring_nm, side) >= least
    need = int(-(-(least * side) // NM_PER_MM) * NM_PER_MM) + brief.blocks.gap_nm + brief.edge.strip_behind_nm
    return voice.check(
        "ring_bond",
        "Ring blocks on their strips",
        Verdict.FINE if passes else Verdict.STOP,
        found=f"a ring block rests on {voice.say(bond.behind_ring_nm)} of strip, "
        f"{_percent(bond.ring_share)} of its back",
        allowed=f"at least {least} of its back, {_percent(least)}",
        why="the ring stands outside the backer and is carried by its strips alone",
        remedy=f"make the strips {voice.say(need)} wide",
        source="bond rule of the brief; common practice, no source",
    )


def _check_strips(brief: Brief, leaf: Leaf, bond: RingBond, voice: Voice) -> Check:
    """Strips must stay behind the ring, and the backer must leave room for the laps of both sides."""
    edge, blocks = brief.edge, brief.blocks
    past = edge.strip_width_nm - edge.strip_behind_nm
    across_owns = edge.strip_corners != "upright"
    along = blocks.module_width_nm if across_owns else blocks.module_height_nm
    over = blocks.module_height_nm if across_owns else blocks.module_width_nm
    shows = max(past - blocks.gap_nm - min(over, along), edge.strip_run_out_nm - blocks.gap_nm - along)
    short = 2 * edge.strip_behind_nm - min(leaf.backer_width_nm, leaf.backer_height_nm)
    verdict = Verdict.STOP if shows > 0 or short >= 0 else Verdict.FINE
    found = (
        f"strips reach {voice.say(max(past, edge.strip_run_out_nm))} past the backer and lap "
        f"{voice.say(bond.behind_backer_nm)} behind it"
    )
    return voice.check(
        "edge_strips",
        "Edge strips stay out of sight",
        verdict,
        found=found,
        allowed=f"at most {voice.say(blocks.gap_nm + min(over, along))} past the backer, less than half of it behind",
        why="a strip that reaches past the ring shows at the side, and laps that meet leave no room for each other",
        remedy=f"shorten the reach by {voice.say(shows)}"
        if shows > 0
        else f"lap {voice.say(short // 2 + NM_PER_MM)} less",
        source="geometry",
    )


def _check_overhang(brief: Brief, leaves: tuple[Leaf, ...], field: BlockField, voice: Voice) -> tuple[Check, ...]:
    if not field.count:
        return ()
    over = brief.edge.overhang_nm
    across, up = _outer_sides(leaves, field)
    sizes = np.concatenate([field.width_nm[across > 0], field.height_nm[up > 0]])
    if not sizes.size:
        return ()
    smallest = int(sizes.min())
    share = outer_shares(brief, leaves, field)["outer_bond_share"]
    least = exact_share(brief.edge.bond_share_min)
    half = 2 * over >= smallest
    most = (smallest - 1) // 2 // NM_PER_MM * NM_PER_MM
    return (
        voice.check(
            "outer_bond",
            "Outer blocks on the backer",
            Verdict.STOP if half else Verdict.CAUTION if share < float(least) else Verdict.FINE,
            found=f"outer blocks hang {voice.say(over)} past the backer; the smallest size at the edge is "
            f"{voice.say(smallest)}, and the worst block has {_percent(share)} of its back glued",
            allowed=f"an overhang of less than half a block, and at least {least} of each block glued, "
            f"{_percent(least)}",
            why="a block that hangs by less than half tips off when it is knocked",
            remedy=f"take an overhang of at most {voice.say(most)}, or keep small blocks off the edge",
            source="overhang under half a block: common practice, no source",
        ),
    )


def _outer_sides(leaves: tuple[Leaf, ...], field: BlockField) -> tuple[IntArray, IntArray]:
    """On how many sides, across and up, each block lies at the edge of its leaf."""
    frame = np.array([(f.x_nm, f.y_nm, f.x_nm + f.width_nm, f.y_nm + f.height_nm) for f in leaves], dtype=np.int64)
    left, bottom, right, top = frame[field.leaf].T
    across = (field.x_nm == left).astype(np.int64) + (field.x_nm + field.width_nm == right)
    up = (field.y_nm == bottom).astype(np.int64) + (field.y_nm + field.height_nm == top)
    return across, up
