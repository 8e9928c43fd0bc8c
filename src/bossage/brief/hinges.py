"""The butt hinges of a piece that swings: their sizes as measured, and how deep the wood of their two halves is.

A leaf that swings turns on butt hinges laid flat along the outer edges of two pieces of wood that lie on one another:
the *post* on the wall, the *stile* (or rail) on the back of the leaf. The pins run beside the joint between the two,
behind the face. So every flap lies on wood that is as wide as a stile, and nothing is let in.
"""

from __future__ import annotations

from dataclasses import dataclass

from bossage.units import NM_PER_IN, NM_PER_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Butt:
    """A butt hinge, as measured on the one that is bought; lengths in nm. `flap_nm`: middle of the pin to its edge.

    `holes_nm`, where it was measured: middle of the pin to the line of its holes.
    """

    height_nm: int = 50 * NM_PER_MM
    flap_nm: int = 14 * NM_PER_MM
    knuckle_nm: int = 6 * NM_PER_MM
    thickness_nm: int = NM_PER_MM * 3 // 2
    holes: int = 3  # in each flap
    gauge: str = "3.5 mm"
    holes_nm: int | None = None

    @property
    def line_nm(self) -> int:
        """Middle of the pin to the line of its holes: as measured, else the middle of what shows of a flap."""
        return (self.knuckle_nm // 2 + self.flap_nm) // 2 if self.holes_nm is None else self.holes_nm


USUAL = {
    "mm": Butt(),
    "in": Butt(
        height_nm=2 * NM_PER_IN,
        flap_nm=NM_PER_IN * 9 // 16,
        knuckle_nm=NM_PER_IN // 4,
        thickness_nm=NM_PER_IN // 16,
        gauge="#6",
    ),
}
"""A narrow butt hinge of 50 mm (2 in), three holes in a flap, by the unit of the shop; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """A screw eye: how deep it goes in, how far the middle of its ring then stands before the wood, its wire."""

    deep_nm: int
    out_nm: int
    wire_mm: float


USUAL_EYE = {
    "mm": Eye(deep_nm=15 * NM_PER_MM, out_nm=8 * NM_PER_MM, wire_mm=3.0),
    "in": Eye(deep_nm=NM_PER_IN * 5 // 8, out_nm=NM_PER_IN * 5 // 16, wire_mm=3.175),
}
"""A small screw eye for a light chain, by the unit of the shop; common practice, no source."""

PLAY_NM = NM_PER_MM
"""Air between post and stile: paint on both, and what a wall is out of true. Ours."""

LAND_NM = 2 * NM_PER_MM
"""Wood that stays beside the edge of a flap. Ours."""

LEAST_STILE_NM = {"mm": 17 * NM_PER_MM, "in": NM_PER_IN * 11 // 16}
"""Thickness of a stile at least, by the unit of the shop: a screw of 3.5 mm (#6) from the backer's face finds four
diameters of thread in it, and its tip stays covered. Ours."""


def stack_nm(butt: Butt, unit: str) -> int:
    """How deep post, air and stile are together at least: each is as wide at its edge as a flap, and takes a screw."""
    wide = butt.flap_nm + LAND_NM
    return wide + max(wide, LEAST_STILE_NM[unit]) + PLAY_NM


def swung_stand_off_nm(
    butt: Butt, unit: str, *, fixture_nm: int, strips_nm: int, lipping_nm: int, behind_nm: int
) -> int:
    """Wall to the back of the backer of a piece that swings: its hinges' wood, or what asks for more.

    Args:
        butt: The hinge.
        unit: Of the shop.
        fixture_nm: The proudest fixture with its air; 0 where nothing is hidden.
        strips_nm: How far edge strips reach behind the backer.
        lipping_nm: How far a lipping does: it stands before the hinges, where strips make room for the stile.
        behind_nm: Depth of the deepest part of the brief on the back.
    """
    return max(stack_nm(butt, unit) + 2 * lipping_nm, fixture_nm + strips_nm + lipping_nm, behind_nm)


def post_and_stile_nm(stand_off_nm: int, unit: str) -> tuple[int, int]:
    """Thickness of post and of stile: half of the depth each, the post on a whole mark, what is left to the stile."""
    mark = NM_PER_MM if unit == "mm" else NM_PER_IN // 16
    wood = stand_off_nm - PLAY_NM
    post = max(1, wood // 2 // mark) * mark
    return post, wood - post
