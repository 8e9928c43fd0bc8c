"""Quota groups: how many blocks of each level every footprint has, on every leaf, in ring and field."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.layout.records import Layout, Zone
from bossage.relief.mass_weights import MOST_SHARE, Leaning, leaning_weights
from bossage.relief.problem.graph import as_masks
from bossage.relief.problem.matching import unmet_choices
from bossage.relief.problem.records import IntArray, quotas_from_weights, shares_round_pins
from bossage.relief.records import QuotaGroup
from bossage.timber import species_or_board
from bossage.units import format_mass

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

NM3_PER_M3 = 1e27
G_PER_KG = 1e3
NEAR_ENOUGH = 0.01  # of the mass asked for; whole blocks cannot come nearer on a small piece


def quota_groups(
    brief: Brief, layout: Layout, pins: IntArray, allowed: BoolArray | None
) -> tuple[tuple[QuotaGroup, ...], IntArray]:
    """The groups in the order of leaf, footprint, zone, and the group of each block.

    Counts are those asked for, or shared by weight. Weights lean towards the mass that the blocks are to have, and give
    way where more blocks are pinned to a level, or fewer may have it, than they say.
    """
    blocks = layout.blocks
    keys = np.stack([blocks.leaf, blocks.footprint, blocks.zone], axis=1)
    found, index = np.unique(keys, axis=0, return_inverse=True)
    group = index.reshape(-1).astype(np.int64)
    level_count = len(brief.blocks.levels_nm)
    may = np.ones((blocks.count, level_count), dtype=np.bool_) if allowed is None else allowed
    exact = [_asked(brief, int(footprint), int(zone)) for _, footprint, zone in found]
    weights = _weights(brief, layout, found, group, exact)
    groups = []
    for number, (leaf, footprint, zone) in enumerate(found):
        quotas = exact[number]
        if quotas is None:
            mine = group == number
            held = np.bincount(pins[mine & (pins >= 0)], minlength=level_count)
            most = _most(may[mine])
            shares = shares_round_pins(int(mine.sum()), weights[number], held, most)
            if allowed is not None:
                shares = _give_way(shares, weights[number], may[mine], pins[mine])
            quotas = tuple(int(n) for n in shares)
        groups.append(QuotaGroup(leaf=int(leaf), footprint=int(footprint), zone=int(zone), quotas=quotas))
    return tuple(groups), group


def mass_check(brief: Brief, layout: Layout, groups: tuple[QuotaGroup, ...], group: IntArray) -> tuple[Check, ...]:
    """Whether the blocks of one piece come to the mass that the brief asks for; nothing where it asks for none."""
    target_g = brief.blocks.mass_target_g
    if target_g is None:
        return ()
    each = _mass_g(brief, layout, group, len(groups))
    total = math.fsum(
        float((each[number] * one.quotas).sum()) / max(1, sum(one.quotas)) for number, one in enumerate(groups)
    )
    total /= brief.piece.copies
    unit = brief.piece.unit
    near = abs(total - target_g) <= NEAR_ENOUGH * target_g
    return (
        Check(
            stage="relief",
            name="mass_target",
            title="The blocks' mass",
            verdict=Verdict.FINE if near else Verdict.CAUTION,
            found=f"{format_mass(total, unit)} of blocks",
            allowed=f"{format_mass(target_g, unit)}, as asked for",
            why="Heights lean to low or high levels to meet it, but no level may crowd the piece.",
            remedy="Change the levels, give quotas of fewer footprints exactly, or ask for another mass.",
            source="Exponential tilt of the weights (least relative entropy); density as for the hanging.",
        ),
    )


def _asked(brief: Brief, footprint: int, zone: int) -> tuple[int, ...] | None:
    if zone == Zone.RING and brief.blocks.ring_quotas is not None:
        return brief.blocks.ring_quotas
    return brief.blocks.footprints[footprint].quotas


def _weights(
    brief: Brief, layout: Layout, found: IntArray, group: IntArray, exact: list[tuple[int, ...] | None]
) -> list[FloatArray]:
    level_count = len(brief.blocks.levels_nm)
    out = []
    for _, footprint, _ in found:
        asked = brief.blocks.footprints[int(footprint)]
        shares = asked.weights or tuple(float(level in asked.allowed) for level in range(level_count))
        out.append(np.array(shares, dtype=np.float64))
    target_g = brief.blocks.mass_target_g
    if target_g is None:
        return out
    each = _mass_g(brief, layout, group, len(found))
    soft = [number for number, quotas in enumerate(exact) if quotas is None]
    settled_g = math.fsum(
        float((each[number] * quotas).sum()) / max(1, sum(quotas))
        for number, quotas in enumerate(exact)
        if quotas is not None
    )
    leaning = [Leaning(weights=out[number], mass_g=each[number]) for number in soft]
    if leaning:
        leant, _ = leaning_weights(leaning, target_g * brief.piece.copies - settled_g)
        for number, share in zip(soft, leant, strict=True):
            out[number] = share
    return out


def _mass_g(brief: Brief, layout: Layout, group: IntArray, group_count: int) -> FloatArray:
    """What all blocks of each group would weigh at each level, shape (groups, levels)."""
    blocks = layout.blocks
    extra_nm = 0 if layout.ring_bond is None else layout.ring_bond.extra_nm
    area = blocks.width_nm.astype(np.float64) * blocks.height_nm
    areas = np.bincount(group, weights=area, minlength=group_count)
    ring = np.bincount(group, weights=blocks.zone == Zone.RING, minlength=group_count) > 0
    lengths = np.array(brief.blocks.levels_nm, dtype=np.float64)[None, :] + extra_nm * ring[:, None]
    density = species_or_board(brief.blocks.species).density_12pct_kg_m3
    return np.asarray(areas[:, None] * lengths / NM3_PER_M3 * density * G_PER_KG)


def _give_way(quotas: IntArray, weights: FloatArray, may: BoolArray, pins: IntArray) -> IntArray:
    """Counts with a level for every block: levels that more blocks depend on than were to have them get as many."""
    own = may.copy()
    own[pins >= 0] = False
    own[np.flatnonzero(pins >= 0), pins[pins >= 0]] = True
    table, have = np.unique(own, axis=0, return_counts=True)
    kinds = as_masks(table)
    for _ in range(len(quotas)):
        short = unmet_choices(kinds, have.tolist(), quotas.tolist())
        if not short:
            return quotas
        rest = sum(1 << level for level in range(len(quotas)) if level not in short)
        bound = int(sum(n for kind, n in zip(kinds, have.tolist(), strict=True) if not kind & rest))
        inside = np.isin(np.arange(len(quotas)), short)
        parts = [(bound, inside), (len(may) - bound, ~inside)]
        quotas = sum(
            (quotas_from_weights(n, weights * there if (weights * there).any() else there) for n, there in parts if n),
            start=np.zeros_like(quotas),
        )
    return quotas


def _most(may: BoolArray) -> IntArray:
    """The most blocks of each level that a share by weight should ask for: not all that may have it can stand apart."""
    there = may.sum(axis=0)
    return np.where(there < len(may), np.floor(MOST_SHARE * there), len(may)).astype(np.int64)
