"""From families and homes to the shade of every block, and the count table that all papers derive from."""

from __future__ import annotations

from collections import Counter

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief, Home
from bossage.colour.field import Differ, FamilyPlace, Spread, spread_shades
from bossage.colour.field import FadeShape as Shape
from bossage.colour.homes import Box, HomeKind
from bossage.colour.homes import Home as Place
from bossage.colour.measures import FadeMeasures, measure_fade
from bossage.colour.quotas import even_counts
from bossage.colour.scales import Scale
from bossage.fade.choice import chosen_shades
from bossage.fade.fade_checks import fade_checks
from bossage.fade.ground import ground_colours
from bossage.fade.records import CountRow, Fade, Shade
from bossage.fade.scales import family_scales, turned
from bossage.layout.records import Layout, Zone
from bossage.relief import Relief

IntArray = NDArray[np.int64]
FloatArray = NDArray[np.float64]


def plan_fade(brief: Brief, layout: Layout, relief: Relief) -> Fade:
    """Give every block a shade: counts exact, grain between the shades, pins kept.

    Each copy of a series has a fade of its own over its own leaves; within a copy the fade runs across the leaves.

    Raises:
        BossageError: A lightness is out of the paint's reach, or counts and pins cannot be held.
    """
    scales = family_scales(brief)
    shades = _shades(scales)
    shade = np.empty(layout.blocks.count, dtype=np.int64)
    off = np.empty(layout.blocks.count)
    clashes = 0
    choices = _choices(brief, shades)
    for copy in range(1, brief.piece.copies + 1):
        mine = np.flatnonzero(_copy_of(layout) == copy)
        spread = _spread(brief, layout, shades, mine, copy, choices[copy - 1] if choices else None)
        shade[mine], off[mine] = spread.shade, spread.off
        clashes += spread.clashes
    shade.setflags(write=False)
    measures = _measured(brief, layout, relief, shades, shade, off)
    return Fade(
        shades=shades,
        shade=shade,
        grounds=ground_colours(brief, shades, shade, layout.blocks.edges),
        figures=_figures(measures, clashes),
        count_table=_count_table(brief, layout, relief, shades, shade),
        checks=fade_checks(brief, scales, measures, clashes),
    )


def _shades(scales: tuple[Scale, ...]) -> tuple[Shade, ...]:
    return tuple(
        Shade(
            name=shade.name,
            family=shade.family,
            lightness=shade.lab[0],
            lab=shade.lab,
            colour_hex=shade.hex,
            modelled=scale.modelled,
            tinter_fraction=shade.fraction,
            tinter_shares=shade.shares,
        )
        for scale in scales
        for shade in scale.shades
    )


def _copy_of(layout: Layout) -> IntArray:
    copies: IntArray = np.array([leaf.copy for leaf in layout.leaves], dtype=np.int64)[layout.blocks.leaf]
    return copies


def _choices(brief: Brief, shades: tuple[Shade, ...]) -> tuple[tuple[int, ...], ...] | None:
    """The shades of each piece of a series, where a piece does not take all of them."""
    each = brief.fade.shades_each
    if each is None:
        return None
    pinned = {pin.shade for pin in brief.blocks.pins}
    needed = frozenset(number for number, shade in enumerate(shades) if shade.name in pinned)
    return chosen_shades(len(shades), each, brief.piece.copies, seed=brief.piece.seed, needed=needed)


def _spread(
    brief: Brief, layout: Layout, shades: tuple[Shade, ...], mine: IntArray, copy: int, chosen: tuple[int, ...] | None
) -> Spread:
    blocks = layout.blocks
    centres = np.stack(
        [blocks.x_nm[mine] + blocks.width_nm[mine] / 2, blocks.y_nm[mine] + blocks.height_nm[mine] / 2], axis=1
    )
    return spread_shades(
        centres / 1e6,
        [FamilyPlace(shades_n=len(family.lightness), home=_place(family.home)) for family in brief.families],
        seed=brief.piece.seed + copy - 1,
        box=Box(
            x_mm=layout.x_nm / 1e6,
            y_mm=layout.y_nm / 1e6,
            width_mm=layout.width_nm / 1e6,
            height_mm=layout.height_nm / 1e6,
        ),
        shape=Shape(brief.fade.shape.value),
        grain=brief.fade.grain,
        counts=_counts(brief) if chosen is None else _counts_of(chosen, len(shades), mine.size),
        pins=_pins(brief, layout, shades, mine),
        differ=_differ(brief, layout, mine, shades),
    )


def _place(home: Home) -> Place:
    return Place(kind=HomeKind(home.kind.value), x=home.x, y=home.y)


def _counts(brief: Brief) -> tuple[int, ...] | None:
    """Counts by shade where every family has quotas; else as even as can be."""
    if any(family.quotas is None for family in brief.families):
        return None
    return tuple(
        count
        for number, family in enumerate(brief.families)
        for count in (reversed(family.quotas or ()) if turned(brief, number) else family.quotas or ())
    )


def _counts_of(chosen: tuple[int, ...], shades_n: int, blocks_n: int) -> tuple[int, ...]:
    """As even as can be over the chosen shades, none of the others."""
    share = dict(zip(chosen, even_counts(blocks_n, len(chosen)), strict=True))
    return tuple(share.get(shade, 0) for shade in range(shades_n))


def _pins(brief: Brief, layout: Layout, shades: tuple[Shade, ...], mine: IntArray) -> dict[int, int]:
    wanted = {(pin.leaf, pin.address): pin.shade for pin in brief.blocks.pins if pin.shade is not None}
    if not wanted:
        return {}
    number = {shade.name: index for index, shade in enumerate(shades)}
    pins: dict[int, int] = {}
    for here, block in enumerate(mine.tolist()):
        name = wanted.get((layout.leaves[int(layout.blocks.leaf[block])].name, layout.blocks.address(block)))
        if name is not None:
            pins[here] = number[name]
    return pins


def _differ(brief: Brief, layout: Layout, mine: IntArray, shades: tuple[Shade, ...]) -> Differ | None:
    """Shades that may not meet: equal ones, or those too near in lightness, whatever their family."""
    if not brief.fade.neighbours_differ and not brief.fade.neighbours_dl:
        return None
    lightness = np.array([shade.lightness for shade in shades])
    # A hair of slack, so that a step of just what is asked for is enough.
    near = np.abs(lightness[:, None] - lightness[None, :]) < brief.fade.neighbours_dl - 1e-6
    clash = near | np.eye(len(shades), dtype=np.bool_)
    here = np.full(layout.blocks.count, -1, dtype=np.int64)
    here[mine] = np.arange(mine.size)
    edges = here[layout.blocks.edges]
    return Differ(edges=edges[(edges >= 0).all(axis=1)], clash=clash)


def _measured(
    brief: Brief, layout: Layout, relief: Relief, shades: tuple[Shade, ...], shade: IntArray, off: FloatArray
) -> FadeMeasures:
    return measure_fade(
        shade,
        off,
        layout.blocks.edges,
        lightness=[s.lightness for s in shades],
        level_mm=_levels_mm(relief),
        seed=brief.piece.seed,
    )


def _levels_mm(relief: Relief) -> FloatArray:
    return np.asarray(relief.levels_nm, dtype=np.int64)[relief.level] / 1e6


def _figures(measures: FadeMeasures, clashes: int) -> dict[str, float]:
    figures: dict[str, float] = {
        "banding": measures.banding,
        "largest_patch": measures.largest_patch,
        "largest_patch_share": measures.largest_patch_share,
        "stray_patch": measures.stray_patch,
        "stray_patch_usual": measures.stray_patch_usual,
        "clashes": clashes,
    }
    if measures.height_correlation is not None and measures.height_limit is not None:
        figures |= {"height_correlation": measures.height_correlation, "height_limit": measures.height_limit}
    return figures


def _count_table(
    brief: Brief, layout: Layout, relief: Relief, shades: tuple[Shade, ...], shade: IntArray
) -> tuple[CountRow, ...]:
    blocks = layout.blocks
    counts = Counter(
        zip(
            blocks.footprint.tolist(),
            blocks.zone.tolist(),
            relief.level.tolist(),
            relief.length_nm.tolist(),
            shade.tolist(),
            strict=True,
        )
    )
    return tuple(
        CountRow(
            footprint=brief.blocks.footprints[footprint].name,
            zone="ring" if zone == Zone.RING else "field",
            level_nm=relief.levels_nm[level],
            length_nm=length_nm,
            shade=shades[tone].name,
            count=count,
        )
        for (footprint, zone, level, length_nm, tone), count in sorted(counts.items())
    )
