"""One block glued on a board: how far both bend when the block wants to shrink and the board does not.

The block stands by itself, its sides free, its end grain on the board; what it pulls with reaches the board through
the joint alone. Plane stress in the cut along the strip, block and board as two rectangles that share one edge. The
displacements are series of Legendre polynomials, and the least energy among all of them is the answer (method of
Rayleigh and Ritz, `timber.cell_series`). Everything is per mm of width of the board.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from bossage.ranges import within
from bossage.timber.cell_series import MOST, RISE, SLIDE, TURN, block_on_joint, board_on_joint, stretches

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]

REACHES = 1.5
"""Nothing of a joint is felt higher in a block than so many of its widths: the block is cut off there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """Stiffness in the cut: along the strip, square to the joint, and in shear, MPa."""

    along_mpa: float
    through_mpa: float
    shear_mpa: float

    def __post_init__(self) -> None:
        for value in (self.along_mpa, self.through_mpa, self.shear_mpa):
            within("Modulus of elasticity", value, 1, 1e6, "MPa")


@dataclass(frozen=True, slots=True, kw_only=True)
class RibLayer:
    """Glued ribs behind the board, spread over its width: `share` of the width is rib, `off_mm` behind its back."""

    depth_mm: float
    along_mpa: float
    share: float
    off_mm: float = 0.0

    def __post_init__(self) -> None:
        within("Depth of a rib", self.depth_mm, 0.01, 1000, "mm")
        within("Distance of a rib from the board", self.off_mm, 0, 1000, "mm")
        within("Modulus of elasticity", self.along_mpa, 1, 1e6, "MPa")
        within("Share of the width that is rib", self.share, 0, 1, "(ratio)")


@dataclass(frozen=True, slots=True, kw_only=True)
class GluedCell:
    """Curvature under a block, per mm, for a free strain of 1 in each part; positive bulges towards the block.

    `per_faces`: the board's front wants to be longer by 1 than its back, a straight line between. `stiffness_n_mm`:
    moment that bends the cell by 1 per mm, per mm of width.
    """

    per_block: float
    per_board: float
    per_faces: float
    per_ribs: tuple[float, ...]  # of each layer of ribs
    stiffness_n_mm: float


@lru_cache(maxsize=4096)
def glued_cell(
    *,
    block_mm: float,
    height_mm: float,
    covers: float,
    block: Plane,
    board_mm: float,
    board: Plane,
    ribs: tuple[RibLayer, ...] = (),
) -> GluedCell:
    """How one block on its piece of board bends.

    Args:
        block_mm: Size of the block along the strip, 1 to 2000 mm.
        height_mm: How far it stands off the board, 1 to 1000 mm.
        covers: Share of the strip's width that the block covers, above 0 to 1.
        block: Its stiffness.
        board_mm: Thickness of the board, 1 to 100 mm.
        board: Its stiffness.
        ribs: Layers of glued ribs behind it.

    Returns:
        Curvatures under the block; the bare board between two blocks takes no part in it.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        What the block does across the strip, glue that gives (a film of 0.1 mm counts for nothing beside the wood), and
        relaxation: lower the block's moduli for that.

    Source:
        Ritz's method on plane stress. The tests hold it against finite elements (nine-node rectangles, no code shared)
        and, for a block without end, against Timoshenko (1925). In 936 cells drawn from all woods and boards a block
        pulls 1 to 15 % more than finite elements say, 4 % in the median (bench/bending.py --share 0.05).
    """
    import numpy as np

    half = within("Size of the block", block_mm, 1, 2000, "mm") / 2
    high = min(within("Height of the block", height_mm, 1, 1000, "mm"), 2 * REACHES * half)
    share = within("Covered share", covers, 1e-3, 1, "(ratio)")
    thick = within("Thickness of the board", board_mm, 1, 100, "mm")
    K_block = block_on_joint(high / half, *_shares(block)) * (block.along_mpa * share)
    K_board = board_on_joint(thick / half, *_shares(board)) * board.along_mpa
    K_ribs = [_ribs_on_joint(half, thick, layer) for layer in ribs]
    K = sum(K_ribs, K_block + K_board)
    moment = np.zeros(MOST)
    moment[TURN] = 1 / thick  # a turn is reckoned as the slide of the board's back
    moved = np.linalg.solve(K, moment)
    # What swells freely by 1 loads the joint as its own stiffness does when the joint is held at a slide of one half
    # block; and under a load the cell turns as far as the load moves under a moment of 1 (Betti).
    even, turned, risen = (float(K_board[k] @ moved) for k in (SLIDE.start, TURN.start, RISE.start))
    return GluedCell(
        per_block=float(K_block[SLIDE.start] @ moved),
        per_board=even,
        # a front that swells and a back that does not bend the board to an arc of one over its thickness: x² / 2t below
        # the middle, of which the third of x² in the polynomial of order 2 counts
        per_faces=even + turned - half / (3 * thick) * risen,
        per_ribs=tuple(float(layer[SLIDE.start] @ moved) for layer in K_ribs),
        stiffness_n_mm=half / float(moment @ moved),
    )


def _shares(plane: Plane) -> tuple[float, float]:
    """Stiffness square to the joint and in shear over that along; only these give a part its shape of bending."""
    return plane.through_mpa / plane.along_mpa, plane.shear_mpa / plane.along_mpa


def _ribs_on_joint(half_mm: float, board_mm: float, ribs: RibLayer) -> Floats:
    """Ribs follow the board's section as it slides and turns."""
    import numpy as np

    # depths below the joint, in thicknesses of the board
    high = 1.0 + ribs.off_mm / board_mm
    low = high + ribs.depth_mm / board_mm
    EA, ES, EI = ((low**n - high**n) / n for n in (1, 2, 3))
    shapes = stretches() * (ribs.along_mpa * ribs.share * board_mm / half_mm)
    K = np.zeros((MOST, MOST))
    K[SLIDE, SLIDE] = EA * shapes
    K[SLIDE, TURN] = K[TURN, SLIDE] = -ES * shapes
    K[TURN, TURN] = EI * shapes
    return K
