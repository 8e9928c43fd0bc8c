"""Slots through the rails of a frame that shuts off a fixture which needs air."""

from __future__ import annotations

from dataclasses import replace

from bossage.body.air import ways_of
from bossage.body.build import weighed
from bossage.body.records import Part, Role
from bossage.body.site import Site
from bossage.units import NM_PER_MM

LAND_NM = 50 * NM_PER_MM
"""Wood left whole between two slots, and at the ends of a rail: ours."""

SLOT_NM = 100 * NM_PER_MM
"""Greatest length of one slot: ours."""

DEPTH_SHARE = 0.6
"""Of a rail's depth that a slot may take, from the wall's side: ours; the rest goes on carrying."""


def with_slots(site: Site, parts: list[Part]) -> list[Part]:
    """The parts, with as many slots in the rails as the narrowest way lacks; more are of no use once all are cut."""
    for side in ("low", "high"):
        for count in range(1, 9):
            short = [w for w in ways_of(site, parts) if w.side == side and w.free_mm2 < w.wanted_mm2]
            rail = _rail(site, parts, side)
            if not short or rail is None:
                break
            slotted = _slotted(rail, count)
            if slotted is None:
                break
            parts = [slotted if p is rail else p for p in parts]
    return parts


def _rail(site: Site, parts: list[Part], side: str) -> Part | None:
    """The frame's rail at the foot or at the top, that reaches the wall."""
    rails = [p for p in parts if p.role is Role.FRAME and p.length_nm > p.box.y1 - p.box.y0 and p.box.z0 == 0]
    if not rails:
        return None
    rail = min(rails, key=lambda p: p.box.y0 if side == "low" else -p.box.y0)
    middle = site.backer.y + site.backer.height // 2
    return rail if (rail.box.y0 < middle) is (side == "low") else None


def _slotted(rail: Part, count: int) -> Part | None:
    """The rail with so many slots, evenly; None where they do not fit."""
    box = rail.box
    room = rail.length_nm - LAND_NM * (count + 1)
    long = min(SLOT_NM, room // count) // NM_PER_MM * NM_PER_MM
    if long < LAND_NM // 2:
        return None
    pitch = (rail.length_nm - long * count) // (count + 1)
    deep = round((box.z1 - box.z0) * DEPTH_SHARE) // NM_PER_MM * NM_PER_MM
    notches = tuple(
        (box.x0 + pitch * (k + 1) + long * k, box.x0 + pitch * (k + 1) + long * (k + 1), box.z0, box.z0 + deep)
        for k in range(count)
    )
    return weighed(replace(rail, notches_nm=notches))
