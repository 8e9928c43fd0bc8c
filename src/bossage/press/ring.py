"""The edge ring of an outrigger: set on its strips as a job of its own, with the piece face down."""

from __future__ import annotations

import numpy as np

from bossage.body import Role
from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.fasteners import TIP_COVER_NM, force_words, stress_words
from bossage.layout.records import Zone
from bossage.press.bench import BackPart, Bench
from bossage.press.records import RingJob, RingPlace, RingStep
from bossage.press.rows import glue_g
from bossage.press.screws import longest_screw_nm
from bossage.press.young import PAPER, YOUNG_DAYS
from bossage.relief import Relief
from bossage.timber import modulus_mpa
from bossage.units import NM_PER_MM, format_length, format_size, format_thin

KNOCK_N = 50.0
"""About what a shoulder or a vacuum cleaner gives one edge block. Ours."""

GIVES_NM = 1_000_000
"""An edge that gives way further feels loose, and works its glue. Ours."""


def ring_job(brief: Brief, bench: Bench, relief: Relief, *, face_down: bool) -> RingJob | None:
    """The ring's job, or None where the edge has no ring. `face_down` tells how the field comes out of its clamps.

    Returns:
        Template, shims, glue, fixings that cannot come through, and how far a ring block gives way to a knock.

    Source:
        Deflection: the strip as a leaf spring between backer and block, free over the gap and its own thickness at
        either end (ours); M L / (E I), any textbook of strength.
    """
    ring = np.flatnonzero(bench.blocks.zone == Zone.RING)
    if not ring.size:
        return None
    highest = max(_field_levels_nm(bench, relief))
    shortest = int(relief.length_nm[ring].min())
    strip, leaf = brief.edge.strip_thickness_nm, bench.leaves[0]
    move_nm, stress = _knock(brief, strip / NM_PER_MM)
    return RingJob(
        blocks_per_leaf=len(ring) // len(bench.leaves),
        template_width_nm=leaf.width_nm,
        template_height_nm=leaf.height_nm,
        support_nm=highest,
        glue_g=glue_g(brief, bench, [int(b) for b in ring]),
        fixing_longest_nm=strip + shortest - TIP_COVER_NM,
        fixing_usual_nm=longest_screw_nm(strip, shortest, brief.piece.unit),
        fixing_backer_nm=_backer_most_nm(brief, bench, relief),
        knock_n=KNOCK_N,
        knock_move_nm=move_nm,
        knock_stress_mpa=stress,
        template=tuple(_template(bench, relief, number, highest) for number in range(len(bench.leaves))),
        steps=tuple(RingStep(text=text) for text in _steps(brief, bench, relief, highest, shortest, face_down)),
    )


def ring_figures(ring: RingJob | None) -> dict[str, float]:
    """Lengths of the ring's job by name."""
    if ring is None:
        return {}
    return {
        "ring.support_mm": ring.support_nm / NM_PER_MM,
        "ring.fixing_longest_mm": ring.fixing_longest_nm / NM_PER_MM,
        "ring.fixing_backer_mm": ring.fixing_backer_nm / NM_PER_MM,
        "ring.knock_move_mm": ring.knock_move_nm / NM_PER_MM,
        "ring.knock_stress_mpa": ring.knock_stress_mpa,
    }


def check_ring(brief: Brief, ring: RingJob) -> Check:
    """`ring_strip`: whether the strip is stiff enough for an edge that people touch."""
    unit = brief.piece.unit
    fine = ring.knock_move_nm <= GIVES_NM
    return Check(
        stage="press",
        name="ring_strip",
        title="Edge strips stiff enough",
        verdict=Verdict.FINE if fine else Verdict.CAUTION,
        found=f"Pushed with {force_words(ring.knock_n, unit)} at its outer edge, a ring block gives way "
        f"{format_thin(ring.knock_move_nm, unit)}; the strip is bent with {stress_words(ring.knock_stress_mpa, unit)}.",
        allowed=f"{format_thin(GIVES_NM, unit)}.",
        why="The ring is carried by its strips alone; what gives way at every touch works loose.",
        remedy=f"take strips of {format_length(_stiff_nm(brief), unit)}, or bring the ring nearer to the backer",
        source="M L / (E I); modulus from memory; load and limit ours.",
    )


def _knock(brief: Brief, t: float) -> tuple[int, float]:
    """With a strip of `t` mm: how far the outer edge of one ring block gives way, nm, and the strip's stress, MPa."""
    blocks = brief.blocks
    gap = blocks.gap_nm / NM_PER_MM
    side = max(blocks.module_width_nm, blocks.module_height_nm) / NM_PER_MM
    served = min(blocks.module_width_nm, blocks.module_height_nm) / NM_PER_MM + gap
    arm, free = gap + side, gap + 2 * t
    moment = KNOCK_N * arm
    stiffness = modulus_mpa(brief.edge.strip_material, along=False) * served * t**3 / 12
    return round(moment * free / stiffness * arm * NM_PER_MM), moment / (served * t**2 / 6)


def _stiff_nm(brief: Brief) -> int:
    """The next whole millimetre of strip that gives way little enough."""
    thickness = brief.edge.strip_thickness_nm // NM_PER_MM + 1
    while _knock(brief, thickness)[0] > GIVES_NM:
        thickness += 1
    return thickness * NM_PER_MM


def _template(bench: Bench, relief: Relief, number: int, highest: int) -> tuple[RingPlace, ...]:
    leaf, blocks = bench.leaves[number], bench.blocks
    places = []
    for b in np.flatnonzero((blocks.zone == Zone.RING) & (blocks.leaf == number)):
        x, y = int(blocks.x_nm[b]) - leaf.x_nm, int(blocks.y_nm[b]) - leaf.y_nm
        width, height = int(blocks.width_nm[b]), int(blocks.height_nm[b])
        beside = x == 0 or x + width == leaf.width_nm
        above = y == 0 or y + height == leaf.height_nm
        places.append(
            RingPlace(
                block=int(b),
                x_nm=leaf.width_nm - x - width,
                y_nm=y,
                width_nm=width,
                height_nm=height,
                shim_nm=highest - relief.levels_nm[int(relief.level[b])],
                corner=beside and above,
            )
        )
    return tuple(places)


def _steps(brief: Brief, bench: Bench, relief: Relief, highest: int, shortest: int, face_down: bool) -> tuple[str, ...]:
    leaf, unit, edge = bench.leaves[0], brief.piece.unit, brief.edge
    owner, other = ("upright", "horizontal") if edge.strip_corners == "upright" else ("horizontal", "upright")
    extra = format_length(brief.backer.thickness_nm, unit)
    run_out = format_length(edge.strip_run_out_nm, unit)
    usual = longest_screw_nm(edge.strip_thickness_nm, shortest, unit)
    fixing = (
        "glue alone: no usual screw bites into the lowest ring block without coming through"
        if usual is None
        else f"a screw or brad of {format_length(usual, unit)} at most into a ring block, drilled first"
    )
    return (
        f"Draw the outline, {format_size(leaf.width_nm, leaf.height_nm, unit)}, and every ring block on a flat board, "
        "mirrored: the piece will lie face down.",
        f"Spread a cloth on the board within the outline. Lay {PAPER} over it, under every face, of the field and of "
        f"the ring, and on every shim. For {YOUNG_DAYS} days after the last coat paint clings to cloth, board and "
        "shim.",
        _turned(brief, face_down),
        f"Rest the piece face down on its highest blocks ({format_length(highest, unit)}) on the paper; under lower "
        "blocks lay shims, paper on each, so that it does not rock.",
        f"Set the ring blocks in the template. Each is {extra} longer than its level, so "
        f"under each lay a shim of {format_length(highest, unit)} less its level, paper on it; all backs then lie "
        "level with the back of the backer. Sweep a straightedge over both.",
        f"Dry-fit the strips: the {owner} ones own the corners and run {run_out} past the backer at each end; the "
        f"{other} ones fill between.{_hinged(bench)}",
        f"The margin of {format_length(edge.strip_behind_nm, unit)} round the back, and the backs of the ring blocks, "
        "are bare wood. Scrape off any sealer or paint: glue holds on neither.",
        f"Glue the {owner} strips first, corners with them: to the backer, then to the ring blocks, a side at a time, "
        f"within the open time. Then the {other} ones.{_stile_ring(bench)}",
        f"If you fix them as well: {fixing}; into the backer, {_backer_fixing(brief)} of its edge, "
        f"{format_length(_backer_most_nm(brief, bench, relief), unit)} at most: it reaches a field block. Nothing may "
        "end nearer than 3 mm (1/8 in) to a face.",
        f"Weigh or clamp the strips{_stile_too(bench)} down along their whole length, ring and backer alike; leave "
        "them for the clamp time and a day before lifting the piece, by its backer, never by the ring.",
        *(
            (
                "Then prime the ring's backs where they reach past the strips: bare end grain that is seen when the "
                "piece opens. Let it dry before it hangs.",
            )
            if brief.paint.primer_coats
            else ()
        ),
    )


def _hinged(bench: Bench) -> str:
    """What lies in the stead of a strip where the leaf swings."""
    stile = _hinge_stile(bench)
    if stile is None:
        return ""
    return f" None lies at the {stile.name} (no. {stile.number}): the ring is glued to its bare wood, from below."


def _stile_ring(bench: Bench) -> str:
    """The blocks before a stile that is on already: no strip can be lowered on them, so they come up to it."""
    stile = _hinge_stile(bench)
    if stile is None:
        return ""
    return (
        f" The blocks at the {stile.name}: take them out of the template. Glue their backs. Slide them in under it one "
        "by one on card. Press each up with its shim and a sheet of card more, until it touches all over."
    )


def _stile_too(bench: Bench) -> str:
    stile = _hinge_stile(bench)
    return f", and the {stile.name}," if stile is not None else ""


def _hinge_stile(bench: Bench) -> BackPart | None:
    return next((part for part in bench.back if part.role is Role.HINGE_STILE), None)


def _backer_most_nm(brief: Brief, bench: Bench, relief: Relief) -> int:
    """The longest fixing through strip and backer that ends before the face of the lowest field block."""
    lowest = min(_field_levels_nm(bench, relief))
    return brief.edge.strip_thickness_nm + brief.backer.thickness_nm + lowest - TIP_COVER_NM


def _turned(brief: Brief, face_down: bool) -> str:
    """How the piece comes face down on the template: out of its bed it lies so already, but no face has been seen."""
    turn = "between two boards, paper on the faces, held by its backer, two people; never by a block"
    if not face_down:
        return f"Turn the piece face down {turn}."
    pull = "pull the spacers, " if brief.blocks.gap_nm else ""
    return f"Turn the piece face up {turn}; {pull}look every face over, then turn it face down again the same way."


def _backer_fixing(brief: Brief) -> str:
    return f"within {format_length(brief.edge.strip_behind_nm // 2, brief.piece.unit)}"


def _field_levels_nm(bench: Bench, relief: Relief) -> list[int]:
    field = np.flatnonzero(bench.blocks.zone == Zone.FIELD)
    return [relief.levels_nm[int(relief.level[b])] for b in field]
