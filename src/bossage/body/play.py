"""Play for what stands between two others: a cleat as long as the room between two stiles does not go in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bossage.body.build import cleat_parts
from bossage.body.cleats import Cleats, Span
from bossage.body.records import Part, Role
from bossage.body.site import Site
from bossage.body.solids import Cuboid
from bossage.layout.grid import PLAY_NM

ON_THE_LEAF = (Role.PANEL_HALF, Role.PACKER, Role.FILLER)
OF_THE_CLEAT = (*ON_THE_LEAF, Role.WALL_HALF, Role.WALL_PACKER)


def with_play(site: Site, cleats: Cleats | None, parts: Sequence[Part]) -> tuple[Cleats | None, list[Part]]:
    """The cleat and all parts, with play at both ends of a piece of the cleat that other parts of the leaf shut in.

    A piece with one free end can be pushed along, so it keeps its length. Two pieces stay alike.
    """
    if cleats is None:
        return None, list(parts)
    own = [part for part in parts if part.role in ON_THE_LEAF]
    others = [part.box for part in parts if part.moves and part.role not in (*ON_THE_LEAF, Role.BACKER, Role.LIPPING)]
    play = PLAY_NM[site.brief.piece.unit]
    if not any(_shut_in(own, others, piece, play) for piece in cleats.pieces):
        return cleats, list(parts)
    pieces = tuple((a + play, b - play) for a, b in cleats.pieces)
    eased = replace(cleats, pieces=pieces, ends_nm=max(0, cleats.ends_nm - play))
    made = cleat_parts(site, eased)
    first = next(n for n, part in enumerate(parts) if part.role in OF_THE_CLEAT)
    rest = [part for part in parts if part.role not in OF_THE_CLEAT]
    return eased, [*rest[:first], *made, *rest[first:]]


def _shut_in(own: Sequence[Part], others: Sequence[Cuboid], piece: Span, play: int) -> bool:
    """Whether something stands nearer than the play at both ends of a piece, or of what lies before it."""
    left = right = False
    for box in (part.box for part in own if (part.from_x_nm, part.to_x_nm) == piece):
        for other in others:
            if other.y0 < box.y1 and box.y0 < other.y1 and other.z0 < box.z1 and box.z0 < other.z1:
                left = left or 0 <= box.x0 - other.x1 < play
                right = right or 0 <= other.x0 - box.x1 < play
    return left and right
