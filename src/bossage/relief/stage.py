"""From a layout to its heights: the quotas of every footprint on every leaf, the rule, the pins."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.layout.records import Layout, Zone
from bossage.relief.likeness import Likeness
from bossage.relief.look import likeness_of, look_check
from bossage.relief.measure import measure_randomness
from bossage.relief.places import at_outline, grid_of
from bossage.relief.problem.records import FREE, HeightProblem, NoField, Proof
from bossage.relief.quotas import mass_check, quota_groups
from bossage.relief.records import NoRelief, QuotaGroup, Relief
from bossage.relief.solve import solve_heights
from bossage.relief.warnings import warn_before
from bossage.units import format_length

IntArray = NDArray[np.int64]

LOOKS = 4  # draws looked at before a field that does not pass for fair is taken all the same
SEED_STEP = 1_000_003  # far from the seeds of other draws of the layout


def plan_relief(brief: Brief, layout: Layout) -> Relief | NoRelief:
    """Give every block a level: quotas exact by leaf, footprint and zone, no two neighbours alike, pins kept.

    Args:
        brief: Levels, quotas or weights, rule, pins and seed.
        layout: The blocks and who touches whom.

    Returns:
        The levels with how random they look, or why there is no such field and what would do.
    """
    problem = height_problem(brief, layout)
    drawn = _drawn(problem)
    if isinstance(drawn, NoField):
        return _no_relief(drawn, brief, layout)
    level, likeness, draws = drawn
    levels_nm = brief.blocks.levels_nm
    groups, group = quota_groups(brief, layout, _pins(brief, layout), _allowed(brief, layout))
    return Relief(
        levels_nm=levels_nm,
        level=level,
        length_nm=_lengths(layout, levels_nm, level),
        groups=groups,
        figures=measure_randomness(problem, level).figures(),
        from_fair=likeness.z if likeness else {},
        draws=1,
        checks=(
            *(_dull(sentence) for sentence in warn_before(problem)),
            look_check(problem, level, likeness, draws),
            *mass_check(brief, layout, groups, group),
        ),
    )


def _drawn(problem: HeightProblem) -> tuple[IntArray, Likeness | None, int] | NoField:
    """The first of a few draws that passes for fair, or the best of them; chance alone now and then makes stripes."""
    best: tuple[IntArray, Likeness | None, int] | None = None
    free = problem.block_count if problem.pins is None else int((problem.pins < 0).sum())
    for draw in range(LOOKS if free else 1):
        answer = solve_heights(replace(problem, seed=problem.seed + draw * SEED_STEP))
        if isinstance(answer, NoField):
            return answer
        likeness = likeness_of(problem, answer.levels)
        if best is None or (likeness and best[1] and len(likeness.caught) < len(best[1].caught)):
            best = answer.levels, likeness, draw + 1
        if not likeness or not likeness.caught:
            break
    assert best is not None
    return best


def height_problem(brief: Brief, layout: Layout) -> HeightProblem:
    """What is asked of the heights, on the graph of the blocks, in the maker's names."""
    blocks, asked = layout.blocks, brief.blocks
    pins = _pins(brief, layout)
    allowed = _allowed(brief, layout)
    groups, group = quota_groups(brief, layout, pins, allowed)
    unit = brief.piece.unit
    several = len(layout.leaves) > 1
    return HeightProblem(
        block_count=blocks.count,
        edges=blocks.edges,
        diagonal_edges=blocks.corner_edges if asked.diagonal else None,
        grid=grid_of(blocks, diagonal=asked.diagonal),
        quotas=np.array([g.quotas for g in groups], dtype=np.int64),
        group=group,
        min_step=asked.min_step,
        allowed=allowed,
        pins=pins if (pins >= 0).any() else None,
        seed=brief.piece.seed + layout.draw,
        level_names=tuple(format_length(level, unit) for level in asked.levels_nm),
        group_names=tuple(_group_name(g, brief, layout) for g in groups) if len(groups) > 1 else (),
        block_names=tuple(
            blocks.address(i) + (f" on leaf {layout.leaves[int(blocks.leaf[i])].name}" if several else "")
            for i in range(blocks.count)
        ),
    )


def _allowed(brief: Brief, layout: Layout) -> NDArray[np.bool_] | None:
    """Levels of each block: those of its footprint, and at the outline only those that the edge may take."""
    blocks, level_count = layout.blocks, len(brief.blocks.levels_nm)
    footprints, edge = brief.blocks.footprints, brief.blocks.edge_levels
    if edge is None and all(len(footprint.allowed) == level_count for footprint in footprints):
        return None
    table = np.zeros((len(footprints), level_count), dtype=np.bool_)
    for number, footprint in enumerate(footprints):
        table[number, list(footprint.allowed)] = True
    allowed: NDArray[np.bool_] = table[blocks.footprint]
    if edge is not None:
        allowed[:, [level for level in range(level_count) if level not in edge]] &= ~_outline(layout)[:, None]
    return allowed


def _outline(layout: Layout) -> NDArray[np.bool_]:
    blocks = layout.blocks
    copies = np.array([leaf.copy for leaf in layout.leaves], dtype=np.int64)[blocks.leaf]
    return at_outline(copies, blocks.x_nm, blocks.y_nm, blocks.width_nm, blocks.height_nm)


def _pins(brief: Brief, layout: Layout) -> IntArray:
    wanted = {(pin.leaf, pin.address): pin.level for pin in brief.blocks.pins if pin.level is not None}
    blocks = layout.blocks
    pins = np.full(blocks.count, FREE, dtype=np.int64)
    if not wanted:
        return pins
    for block in range(blocks.count):
        level = wanted.get((layout.leaves[int(blocks.leaf[block])].name, blocks.address(block)))
        pins[block] = FREE if level is None else level
    return pins


def _lengths(layout: Layout, levels_nm: tuple[int, ...], level: IntArray) -> IntArray:
    """What is sawn: the level, and for a ring block the backer's thickness more."""
    extra_nm = 0 if layout.ring_bond is None else layout.ring_bond.extra_nm
    lengths: IntArray = np.asarray(levels_nm, dtype=np.int64)[level] + extra_nm * (layout.blocks.zone == Zone.RING)
    return lengths


def _group_name(group: QuotaGroup, brief: Brief, layout: Layout) -> str:
    footprint = brief.blocks.footprints[group.footprint].name
    words = [f"{footprint} blocks"]
    if (layout.blocks.zone == Zone.RING).any():
        words.append("in the ring" if group.zone == Zone.RING else "in the field")
    if len(layout.leaves) > 1:
        words.append(f"on leaf {layout.leaves[group.leaf].name}")
    return " ".join(words)


def _no_relief(no: NoField, brief: Brief, layout: Layout) -> NoRelief:
    hopeless = no.proof in (Proof.COUNTS, Proof.PINS, Proof.CHOICES, Proof.FEW_LEVELS)
    remedy = " ".join(no.reasons[1:]) or "Change the quotas, add a level, or free a pinned block."
    return NoRelief(
        reason=no.reasons[0],
        remedy=_wider_edge(no, brief, layout) or remedy,
        proven=no.proven,
        redraw=layout.drawn and not hopeless,
    )


def _wider_edge(no: NoField, brief: Brief, layout: Layout) -> str:
    """The one level, nearest to those that the edge may have, with which there is a field; empty where none does."""
    edge, levels_nm = brief.blocks.edge_levels, brief.blocks.levels_nm
    if edge is None or no.relaxation is None or not no.relaxation.widened:
        return ""
    if not _outline(layout)[list(no.relaxation.widened)].all():
        return ""
    others = sorted(
        set(range(len(levels_nm))) - set(edge),
        key=lambda level: (min(abs(levels_nm[level] - levels_nm[one]) for one in edge), level),
    )
    for level in others:
        blocks = replace(brief.blocks, edge_levels=tuple(sorted((*edge, level))))
        if not isinstance(solve_heights(height_problem(replace(brief, blocks=blocks), layout)), NoField):
            name = format_length(levels_nm[level], brief.piece.unit)
            return f"Let blocks at the edge take {name} too: put it into edge_levels. No fewer levels will do there."
    return ""


def _dull(sentence: str) -> Check:
    return Check(
        stage="relief",
        name="forced_order",
        title="Heights that can hardly look random",
        verdict=Verdict.CAUTION,
        found=sentence,
        allowed="Enough freedom that the eye finds no stripes or chessboard.",
        why="With few levels, or one level on many blocks, the rule for neighbours leaves almost no choice.",
        remedy="Add a level, or spread the quotas more evenly.",
        source="Statistical physics of lattice colourings; see the reference notes in docs.",
    )
