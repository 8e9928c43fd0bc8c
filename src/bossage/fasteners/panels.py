"""Screws that are drawn out of a board: plywood by the wood equation with a stated reduction, other boards by it."""

from __future__ import annotations

from bossage.fasteners.withdrawal import wood_screw_withdrawal_n_per_mm
from bossage.ranges import within

PLYWOOD_FACE_SHARE = 0.75
"""Ours: of what Eq. 12.2-2 gives for solid wood. Tests of plywood found screws weaker than the NDS equation foretells
(J. Korean Wood Sci. Technol. 49(1), 2021, 93, read in its summary), for the plies under the thread split along. With
it a screw counts for nine tenths of a fifth of the average ultimate load in plywood of Douglas fir that the Engineered
Wood Association prints (Technical Note E830, Table 3, from memory)."""

PANEL_EDGE_SHARE = 0.5
"""Ours: in the edge, of what the face holds. The face holds significantly more than the edge in plywood (Wu, Forest
Products J. 49(4), 1999, 56, read in its summary), and more so when damp."""


def panel_withdrawal_n_per_mm(gravity: float, diameter_mm: float, *, plywood: bool, edge: bool = False) -> float:
    """Reference withdrawal value of a wood screw in a board.

    Args:
        gravity: Specific gravity for fasteners of that board, 0.31 to 0.73 (`timber.board(...).fastener_gravity`).
        diameter_mm: Shank diameter, 2 to 10 mm.
        plywood: Whether the board is plywood.
        edge: Whether the screw goes into its edge.

    Returns:
        Newtons per mm of thread without its tip, before duration and service.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Voids in the inner plies; screws driven twice into one hole.

    Source:
        NDS 2018 Eq. 12.2-2 (read) and the shares above.
    """
    whole = wood_screw_withdrawal_n_per_mm(within("Specific gravity", gravity, 0.31, 0.73, "(ratio)"), diameter_mm)
    return whole * panel_share(plywood=plywood, edge=edge)


def panel_share(*, plywood: bool, edge: bool = False) -> float:
    """Of what a screw holds in solid wood of the same density: what is counted on in a board."""
    return (PLYWOOD_FACE_SHARE if plywood else 1.0) * (PANEL_EDGE_SHARE if edge else 1.0)
