"""From what the shop says to a valid relief and who takes which block."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.relief import FREE, NEW, NOT_TAKEN, Effort, HeightProblem, Laid, NoField, Proof, Trays, lay_from_trays
from bossage.replan.records import Mended, NoMend, Recut, Shop, Standing, Taken, TrayCount
from bossage.replan.seen import seen_weights
from bossage.replan.stock import new_blocks
from bossage.replan.trays import Piles, piles_of
from bossage.units import format_length

IntArray = NDArray[np.int64]
DEFAULT_EFFORT = Effort()


def mend(standing: Standing, shop: Shop, *, effort: Effort = DEFAULT_EFFORT) -> Mended | NoMend:
    """A valid relief with the fewest places on another height than planned, from what there is.

    What is glued stays. Among equally few changes the least visible are made, then those with the least paint, then
    those with the least sawing.

    Args:
        standing: The piece as planned.
        shop: What is glued, lost and there.
        effort: Work to put in.

    Raises:
        UnclearShop: More is lost than there is.
    """
    piles, notes = piles_of(standing, shop)
    lengths = _lengths(standing, piles)
    pins = np.full(standing.count, FREE, dtype=np.int64)
    for one in shop.glued:
        pins[one.place] = standing.level[one.place] if one.level is None else one.level
    problem, kept = _problem(standing, pins)
    trays = _trays(standing, piles, lengths, saw=shop.saw)
    weights = seen_weights(standing, shop.light_from)
    laid = lay_from_trays(
        problem,
        standing.level,
        trays,
        weights=weights,
        prefer=np.array(shop.spoiled, dtype=np.int64),
        effort=effort,
    )
    if isinstance(laid, NoField):
        return _no_mend(standing, laid)
    shade = np.array(standing.shade)
    took = np.array(laid.took)
    if not shop.repaint:
        took, shade = _without_brush(standing, trays, laid, weights)
    if kept:
        notes += (_kept_words(standing, kept),)
    recuts = _recuts(standing, laid, took, lengths)
    return Mended(
        standing=standing,
        level=laid.levels,
        shade=shade,
        glued=pins >= 0,
        changes_n=laid.changes,
        bound_n=laid.bound,
        proven=laid.proven,
        visible_n=laid.visible,
        least_seen=laid.least_seen,
        kept_n=len(kept),
        taken=_taken(standing, shop, laid, took, shade, lengths),
        recuts=recuts,
        new=new_blocks(standing, standing.rests if shop.rests is None else shop.rests, recuts),
        left=_left(standing, laid, lengths),
        notes=notes,
    )


def _lengths(standing: Standing, piles: Piles) -> list[int]:
    """Every length that a place may need or a block has, shortest first."""
    needed = {level + extra for level in standing.levels_nm for extra in set(standing.extra_nm.tolist())}
    return sorted(needed | {length for _, length in piles})


def _problem(standing: Standing, pins: IntArray) -> tuple[HeightProblem, list[tuple[int, int]]]:
    """The rule as it binds what is not glued, and the pairs of glued neighbours that break it already."""
    allowed = standing.allowed.copy()
    held = np.flatnonzero(pins >= 0)
    allowed[held, pins[held]] = True  # what is glued stays, whether it was meant to be allowed there or not
    edges, broken = _unbroken(standing.edges, pins, standing.min_step)
    corners, more = _unbroken(standing.corner_edges, pins, standing.min_step) if standing.diagonal else (None, [])
    problem = HeightProblem(
        block_count=standing.count,
        edges=edges,
        diagonal_edges=corners,
        quotas=np.bincount(standing.level, minlength=len(standing.levels_nm)).reshape(1, -1).astype(np.int64),
        min_step=standing.min_step,
        allowed=allowed,
        pins=pins,
        seed=standing.seed,
        level_names=tuple(format_length(level, standing.unit) for level in standing.levels_nm),
        block_names=tuple(named(standing, v) for v in range(standing.count)),
    )
    return problem, broken + more


def _unbroken(edges: IntArray, pins: IntArray, min_step: int) -> tuple[IntArray, list[tuple[int, int]]]:
    a, b = pins[edges[:, 0]], pins[edges[:, 1]]
    broken = (a >= 0) & (b >= 0) & (np.abs(a - b) < min_step)
    return edges[~broken], [(int(u), int(v)) for u, v in edges[broken]]


def _trays(standing: Standing, piles: Piles, lengths: list[int], *, saw: bool) -> Trays:
    at = {length: k for k, length in enumerate(lengths)}
    number = {name: s for s, name in enumerate(standing.shades)} | {"": len(standing.shades)}
    have = np.zeros((len(standing.footprints), len(lengths), len(standing.shades) + 1), dtype=np.int64)
    for (footprint, length), pile in piles.items():
        for shade, count in pile.items():
            have[footprint, at[length], number[shade]] += max(0, count)
    levels = np.asarray(standing.levels_nm, dtype=np.int64)
    needs = np.searchsorted(np.array(lengths), levels[None, :] + standing.extra_nm[:, None])
    return Trays(kind=standing.footprint, shade=standing.shade, length=needs.astype(np.int64), have=have, saw=saw)


def _without_brush(standing: Standing, trays: Trays, laid: Laid, weights: IntArray) -> tuple[IntArray, IntArray]:
    """Painted blocks keep their paint: of each footprint and length they go where the fade suffers least."""
    from scipy.optimize import linear_sum_assignment

    lab = np.array(standing.lab, dtype=np.float64).reshape(-1, 3)
    took, shade = np.array(laid.took), np.array(standing.shade)
    need = trays.length[np.arange(standing.count), laid.levels]
    open_to = took[:, 0] != NOT_TAKEN
    for key in sorted({(int(trays.kind[v]), int(need[v])) for v in np.flatnonzero(open_to)}):
        places = np.flatnonzero(open_to & (trays.kind == key[0]) & (need == key[1]))
        blocks = took[places]
        painted = blocks[:, 1] != trays.bare
        off = lab[np.where(painted, blocks[:, 1], 0)][None, :] - lab[shade[places]][:, None]
        price = np.sqrt((off * off).sum(axis=2)) * weights[places][:, None]
        price[:, ~painted] = 1e-3  # a bare block fits anywhere, but one that has its paint is less work
        rows, cols = linear_sum_assignment(price)
        took[places[rows]] = blocks[cols]
        keeps = places[rows][painted[cols]]
        shade[keeps] = took[keeps, 1]
    return took, shade


def _taken(
    standing: Standing, shop: Shop, laid: Laid, took: IntArray, shade: IntArray, lengths: list[int]
) -> tuple[Taken, ...]:
    """Places that get another block than their own, least visible changes and all, in the order of the plan."""
    out = []
    for v in range(standing.count):
        source, colour = int(took[v, 0]), int(took[v, 1])
        if source == NOT_TAKEN:
            continue
        length = standing.length_nm(v, int(laid.levels[v]))
        source_nm = None if source == NEW else lengths[source]
        bare = colour == len(standing.shades)
        one = Taken(
            place=v,
            before_nm=standing.levels_nm[int(standing.level[v])],
            after_nm=standing.levels_nm[int(laid.levels[v])],
            planned_shade=standing.shades[int(standing.shade[v])],
            shade=standing.shades[int(shade[v])],
            source_nm=source_nm,
            source_shade="" if bare else standing.shades[colour],
            length_nm=length,
        )
        same = not one.moves and source_nm == length and one.shade == one.planned_shade
        # where nothing is painted yet a bare block is nothing out of the ordinary
        if same and (not one.needs_paint or not shop.painted):
            continue
        out.append(one)
    return tuple(out)


def _recuts(standing: Standing, laid: Laid, took: IntArray, lengths: list[int]) -> tuple[Recut, ...]:
    found: dict[tuple[int, int, int], int] = {}
    for v in np.flatnonzero(took[:, 0] != NOT_TAKEN).tolist():
        to = standing.length_nm(v, int(laid.levels[v]))
        source = int(took[v, 0])
        origin = -1 if source == NEW else lengths[source]
        if origin != to:
            key = (int(standing.footprint[v]), origin, to)
            found[key] = found.get(key, 0) + 1
    return tuple(
        Recut(footprint=f, from_nm=None if origin < 0 else origin, to_nm=to, count=n)
        for (f, origin, to), n in sorted(found.items(), key=lambda item: (item[0][0], -item[0][1], -item[0][2]))
    )


def _left(standing: Standing, laid: Laid, lengths: list[int]) -> tuple[TrayCount, ...]:
    return tuple(
        TrayCount(
            footprint=int(f),
            length_nm=lengths[k],
            shade="" if s == len(standing.shades) else standing.shades[s],
            count=int(laid.left[f, k, s]),
        )
        for f, k, s in np.argwhere(laid.left > 0).tolist()
    )


def named(standing: Standing, v: int) -> str:
    """A place by its address, with leaf and copy where there are several."""
    place = standing.places[v]
    several = len({one.leaf for one in standing.places}) > 1
    words = f"{place.leaf} " if several else ""
    copies = max(one.copy for one in standing.places)
    return f"{words}{place.address}" + (f" of copy {place.copy}" if copies > 1 else "")


def _kept_words(standing: Standing, kept: list[tuple[int, int]]) -> str:
    pairs = [f"{named(standing, a)} and {named(standing, b)}" for a, b in kept[:3]]
    more = f", and {len(kept) - 3} pairs more" if len(kept) > 3 else ""
    return f"Already glued, and too alike as neighbours: {', '.join(pairs)}{more}. They stay as they are."


def _no_mend(standing: Standing, no: NoField) -> NoMend:
    if no.proof is Proof.EMPTIED and no.blocks:
        around = [named(standing, v) for v in no.blocks[1:]]
        where = (
            ", ".join(around[:-1]) + (" and " if len(around) > 1 else "") + around[-1] if around else "its neighbours"
        )
        return NoMend(
            reason=f"Nothing fits at {named(standing, no.blocks[0])}: what is settled at {where} leaves it no height.",
            remedy="Take one of these off again while the glue still lets go, or leave two neighbours alike there: say "
            "the height that it is to have as glued.",
            proven=True,
        )
    return NoMend(
        reason=no.reasons[0],
        remedy="Take a glued block off again where the glue still lets go, or plan the rest anew.",
        proven=no.proven,
    )
