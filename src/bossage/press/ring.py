"""The edge ring of an outrigger: set on its strips as a job of its own, with the piece face down."""

from __future__ import annotations

import numpy as np

from bossage.brief.records import Brief
from bossage.layout.records import Layout, Zone
from bossage.press.records import RingJob, RingStep
from bossage.press.rows import glue_g
from bossage.relief.records import Relief
from bossage.units import format_length, format_size

KEEP_BACK_NM = 3_000_000  # no fixing ends nearer to a face


def ring_job(brief: Brief, layout: Layout, relief: Relief) -> RingJob | None:
    """The ring's job, or None where the edge has no ring."""
    if layout.ring_bond is None:
        return None
    ring = np.flatnonzero(layout.blocks.zone == Zone.RING)
    field = np.flatnonzero(layout.blocks.zone == Zone.FIELD)
    leaf, unit = layout.leaves[0], brief.piece.unit
    highest = max(int(relief.levels_nm[int(relief.level[b])]) for b in field)
    shortest = int(relief.length_nm[ring].min())
    strip = brief.edge.strip_thickness_nm
    owner = "upright" if brief.edge.strip_corners == "upright" else "horizontal"
    extra = format_length(layout.ring_bond.extra_nm, unit)
    outline = format_size(leaf.width_nm, leaf.height_nm, unit)
    run_out = format_length(brief.edge.strip_run_out_nm, unit)
    steps = (
        f"Draw the outline, {outline}, and every ring block on a flat board, mirrored: the piece will lie face down.",
        f"Put the piece face down on its highest blocks ({format_length(highest, unit)}) within the outline; under "
        "lower blocks lay shims, so that it does not rock. Cloth between paint and board.",
        f"Set the ring blocks in the template. Each is {extra} longer than its level, so under each lay a shim of "
        f"{format_length(highest, unit)} less its level; all backs then lie level with the back of the backer.",
        f"Dry-fit the strips: the {owner} ones own the corners and run {run_out} past the backer at each end.",
        "Glue the strips to the backer first, then to the ring blocks, a side at a time, within the open time.",
        "Weigh or clamp the strips down along their whole length; leave them for the clamp time and a day before "
        "lifting the piece by its backer, never by the ring.",
    )
    return RingJob(
        blocks_per_leaf=len(ring) // len(layout.leaves),
        template_width_nm=leaf.width_nm,
        template_height_nm=leaf.height_nm,
        support_nm=highest,
        glue_g=glue_g(brief, layout, [int(b) for b in ring]),
        fixing_longest_nm=strip + shortest - KEEP_BACK_NM,
        steps=tuple(RingStep(text=text) for text in steps),
    )
