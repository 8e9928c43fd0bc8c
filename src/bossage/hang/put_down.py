"""How a leaf is put down: on its back, or on the edge of its backer, and never on the blocks that hang below that."""

from __future__ import annotations

from collections.abc import Callable

from bossage.body import Body, Role
from bossage.brief.records import LengthUnit
from bossage.layout.records import Layout
from bossage.units import NM_PER_IN, NM_PER_MM

PAST_NM = {LengthUnit.MM: 10 * NM_PER_MM, LengthUnit.IN: NM_PER_IN // 2}
"""A batten under the backer's edge is so much thicker than the blocks reach below that edge: ours."""


def put_down_words(layout: Layout, body: Body, unit: LengthUnit, say: Callable[[int], str]) -> str:
    """Sentences that say on what a leaf lies or stands while it is off the wall.

    Args:
        layout: Leaves, stand-off.
        body: What lies behind the blocks, and how far the blocks reach past it.
        unit: Of the piece.
        say: How a length is written.

    Source:
        Common practice, no source; a block is glued to carry itself (`hang.bonds`), not the leaf.
    """
    leaf = layout.leaves[0]
    parts = [part for part in body.of(leaf.name, leaf.copy) if part.moves]
    edge_nm = min(part.box.y0 for part in parts if part.role in (Role.BACKER, Role.LIPPING))
    lower_nm = edge_nm - leaf.y_nm
    lay = (
        f"Lay it on its back, on two battens at least {say(layout.stand_off.stand_off_nm)} thick, clear of all that "
        "stands out behind."
    )
    if any(part.role is Role.STRIP for part in parts):
        # strips and ring blocks lie right under the backer's edge: nothing can be put there
        return f"{lay} Never stand it up: its lowest blocks would carry all of it."
    stand = (
        f"{lay} Or stand the lower edge of its backer on a batten at least {say(lower_nm + PAST_NM[unit])} thick, set "
        "back behind the blocks."
    )
    reach = f"they reach {say(lower_nm)} lower, and " if lower_nm > 0 else ""
    return f"{stand} Never on the blocks: {reach}the lowest row would carry all of it."
