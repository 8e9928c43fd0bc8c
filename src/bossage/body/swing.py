"""Where a leaf that swings turns: the line of its pins, and the wood of its hinges on the wall and on the leaf.

The post lies on the wall, the stile (a rail where the axis is level) on the back of the leaf, one over the other with
a little play. Their outer edges are one line, so far behind the edge of the face that the knuckles stand hidden; the
hinges lie flat along these edges, their pins beside the joint. What lies before the pins swings away from the wall,
what little reaches past them swings towards it.
"""

from __future__ import annotations

from dataclasses import dataclass

from bossage.body.solids import Cuboid
from bossage.brief.hinges import PLAY_NM, post_and_stile_nm
from bossage.brief.records import Brief, EdgeStyle, Side
from bossage.layout.records import Leaf
from bossage.layout.rect import Rect
from bossage.layout.stand_off import lipping_reach_nm
from bossage.units import NM_PER_MM

REVEAL_NM = NM_PER_MM
"""The knuckles stand so far behind the edge of the face: ours."""

WIDTH_NM = 60 * NM_PER_MM
"""Width of post and stile where no edge strip asks for more: ours."""

LEAST_WIDTH_NM = 40 * NM_PER_MM
"""Narrower, a post has no room beside the flaps' screws for its own into the wall: ours."""

END_PLAY_NM = 2 * NM_PER_MM
"""Air between a part on the back and an edge strip, which goes on last: ours."""

HINGE_INSET_NM = 50 * NM_PER_MM
"""Middle of a hinge from the end of its post; common practice, no source."""

FLAP_SCREWS_NM = (26 * NM_PER_MM, 32 * NM_PER_MM)
"""Screws of a flap are no longer, at first and at most: six diameters and more of thread, and the screws of the post
pass behind the tips. Ours."""

STAY_BLOCK_NM = 80 * NM_PER_MM
"""Of a block of a stay, along the leaf: ours, roomy for the feet of stays that shops sell."""

CHAIN_NM = (20 * NM_PER_MM, 20 * NM_PER_MM)
"""Room of a chain: out from post and stile, and along them. Ours, roomy for what shops sell."""

UPRIGHT = (Side.LEFT, Side.RIGHT)
SIDES = (Side.BOTTOM, Side.TOP, Side.LEFT, Side.RIGHT)
"""In the order of `strip_rects`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """The axis and the wood round it. *Along the leaf* is at right angles to the axis, inward from its hung edge."""

    side: Side
    upright: bool
    sign: int  # +1 where along the leaf is to the right, or up
    axis_nm: int  # along the wall, or over the floor where it is level
    axis_z_nm: int  # off the wall
    edge_nm: int  # outer edges of post and stile
    inner_nm: int  # their inner edges
    from_nm: int  # of both, along the axis
    to_nm: int
    post_nm: int  # thickness
    stile_nm: int
    stand_off_nm: int
    hemmed: bool  # two edge strips end at their inner edges

    @property
    def middles_nm(self) -> tuple[int, int]:
        """Middles of both hinges along the axis, the upper or left one first."""
        inset = min(HINGE_INSET_NM, (self.to_nm - self.from_nm) // 4)
        ends = self.from_nm + inset, self.to_nm - inset
        return (ends[1], ends[0]) if self.upright else ends

    def across(self, rect: Rect) -> tuple[int, int]:
        """Reach of a rectangle along the leaf, from low to high."""
        return (rect.x, rect.right) if self.upright else (rect.y, rect.top)

    def run(self, rect: Rect) -> tuple[int, int]:
        """Reach of a rectangle along the axis, from low to high."""
        return (rect.y, rect.top) if self.upright else (rect.x, rect.right)

    def beside(self, rect: Rect) -> bool:
        """Whether a rectangle lies beside post or stile along the axis."""
        low, high = self.run(rect)
        return low < self.to_nm and self.from_nm < high

    def inward(self, nm: int) -> int:
        """The place so far inward from the outer edge of the post."""
        return self.edge_nm + self.sign * nm

    def box(self, along: tuple[int, int], axis: tuple[int, int], z0: int, z1: int) -> Cuboid:
        """A box by its two ends along the leaf, in any order, those along the axis, and its depths."""
        low, high = sorted(along)
        return Cuboid(low, high, *axis, z0, z1) if self.upright else Cuboid(*axis, low, high, z0, z1)


def swing_of(brief: Brief, leaf: Leaf, stand_off_nm: int) -> Swing:
    """The swing of a leaf that is hung on the side that the brief names.

    Args:
        brief: Side, hinge, edge, unit.
        leaf: Its face and backer.
        stand_off_nm: Wall to the back of the backer.
    """
    side, butt = brief.access.hinge, brief.butt
    upright, sign = side in UPRIGHT, 1 if side in (Side.LEFT, Side.BOTTOM) else -1
    face, backer, axis = _edges(leaf, side)
    edge = face + sign * (butt.knuckle_nm + REVEAL_NM)
    if lipping_reach_nm(brief):
        edge = backer  # a lipping that reaches back stands before the knuckles
    inner = sign * max(sign * edge + WIDTH_NM, sign * backer + LEAST_WIDTH_NM)
    hemmed = False
    if brief.edge.style is EdgeStyle.OUTRIGGER:
        strip = strip_rects(brief, leaf)[SIDES.index(side)]
        axis = (strip.y, strip.top) if upright else (strip.x, strip.right)
        inner = sign * max(sign * edge + LEAST_WIDTH_NM, sign * backer + brief.edge.strip_behind_nm)
        if (brief.edge.strip_corners != "upright") is upright:  # it ends between two strips
            axis = axis[0] + END_PLAY_NM, axis[1] - END_PLAY_NM
        else:  # two strips end beside it
            inner, hemmed = inner - sign * END_PLAY_NM, True
    post, stile = post_and_stile_nm(stand_off_nm, brief.piece.unit)
    return Swing(
        side=side,
        upright=upright,
        sign=sign,
        axis_nm=edge - sign * (butt.knuckle_nm // 2),
        axis_z_nm=post + PLAY_NM // 2,
        edge_nm=edge,
        inner_nm=inner,
        from_nm=axis[0],
        to_nm=axis[1],
        post_nm=post,
        stile_nm=stile,
        stand_off_nm=stand_off_nm,
        hemmed=hemmed,
    )


def strip_rects(brief: Brief, leaf: Leaf) -> tuple[Rect, ...]:
    """Edge strips from the front: below, above, left, right; those that own the corners run out past the backer."""
    edge = brief.edge
    b = Rect(leaf.backer_x_nm, leaf.backer_y_nm, leaf.backer_width_nm, leaf.backer_height_nm)
    wide, lap, out = edge.strip_width_nm, edge.strip_behind_nm, edge.strip_run_out_nm
    if edge.strip_corners != "upright":
        x, long, y, tall = b.x - out, b.width + 2 * out, b.y + lap, b.height - 2 * lap
    else:
        x, long, y, tall = b.x + lap, b.width - 2 * lap, b.y - out, b.height + 2 * out
    return (
        Rect(x, b.y + lap - wide, long, wide),
        Rect(x, b.top - lap, long, wide),
        Rect(b.x + lap - wide, y, wide, tall),
        Rect(b.right - lap, y, wide, tall),
    )


def _edges(leaf: Leaf, side: Side) -> tuple[int, int, tuple[int, int]]:
    """The hung edge of the face and of the backer, and the backer's reach along the axis."""
    x, y = leaf.backer_x_nm, leaf.backer_y_nm
    right, top = x + leaf.backer_width_nm, y + leaf.backer_height_nm
    return {
        Side.LEFT: (leaf.x_nm, x, (y, top)),
        Side.RIGHT: (leaf.x_nm + leaf.width_nm, right, (y, top)),
        Side.BOTTOM: (leaf.y_nm, y, (x, right)),
        Side.TOP: (leaf.y_nm + leaf.height_nm, top, (x, right)),
    }[side]
