"""How far a glued cell of block and board is from finite elements, over all woods and boards, and how much quicker.

Peer of the same run: nine-node rectangles in plane stress (tests/timber/plane_fe.py), which share no code with the
package. The peer's own fault is measured too, by a finer mesh. `make test` holds seven cells to 5 %; here are all
woods on all boards, broad and narrow blocks, low and high.

Run: python bench/bending.py [--sizes 20 45 95 150] [--share 1.0]
"""

from __future__ import annotations

import argparse
import random
import statistics
import sys
import time
from itertools import product
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tests.timber.plane_fe import curvature_per_mm  # noqa: E402

from bossage.timber import Plane, block_plane, board_keys, board_plane, glued_cell, species_keys, strip_moduli_mpa  # noqa: E402

SIZES_MM = (20.0, 45.0, 95.0, 150.0)
#: Of the block's size.
HEIGHTS = (0.2, 0.5, 1.0, 2.0)
THICKNESSES_MM = (6.0, 12.0, 18.0)
BOARDS = board_keys()
#: What the tests hold seven cells to.
HELD = 0.05


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", type=float, nargs="+", default=SIZES_MM, help="sizes of the blocks, mm")
    parser.add_argument("--share", type=float, default=1.0, help="share of the cells, drawn by a fixed seed")
    asked = parser.parse_args()
    cases = list(product(species_keys(), BOARDS, asked.sizes, HEIGHTS, THICKNESSES_MM))
    cases = random.Random(1).sample(cases, max(1, round(len(cases) * asked.share)))
    off, ours_s, peer_s = [], 0.0, 0.0
    for wood, sheet, size, height, thick in cases:
        block, board = block_plane(wood), board_plane(sheet, strip_moduli_mpa(sheet)[1])
        start = time.perf_counter()
        glued_cell.cache_clear()
        cell = glued_cell(block_mm=size, height_mm=size * height, covers=1.0, block=block, board_mm=thick, board=board)
        between = time.perf_counter()
        peer = reference(size, size * height, thick, block, board)
        peer_s += time.perf_counter() - between
        ours_s += between - start
        off.append((cell.per_block / peer - 1, wood, sheet, size, size * height, thick))
    report(off, ours_s, peer_s)


def reference(size_mm: float, height_mm: float, board_mm: float, block: Plane, board: Plane, fine: int = 2) -> float:
    """Curvature per unit of free strain of the block, 1/mm, by finite elements."""
    of = [(plane.along_mpa, plane.through_mpa, plane.shear_mpa) for plane in (block, board)]
    return float(curvature_per_mm(size_mm, size_mm, height_mm, board_mm, *of, block_strain=1.0, fine=fine))


def report(off: list[tuple[float, str, str, float, float, float]], ours_s: float, peer_s: float) -> None:
    amounts = sorted(abs(case[0]) for case in off)
    over = sum(amount > HELD for amount in amounts)
    most = amounts[len(off) * 19 // 20]
    print(f"{len(off)} cells            median {statistics.median(amounts):.2%}, 19 in 20 {most:.2%}")
    print(f"further than {HELD:.0%}       {over} cells")
    for share, wood, sheet, size, height, thick in (min(off), max(off)):
        print(f"{share:+8.2%}  {wood} on {sheet} {thick:g} mm, block {size:g} mm, {height:g} mm high")
        block, board = block_plane(wood), board_plane(sheet, strip_moduli_mpa(sheet)[1])
        meshes = [reference(size, height, thick, block, board, fine) for fine in (2, 4)]
        print(f"          the peer against its own finer mesh {meshes[0] / meshes[1] - 1:+.2%}")
    print(f"ours {ours_s / len(off) * 1e3:.2f} ms a cell; the peer {peer_s / ours_s:.0f} × ours")


if __name__ == "__main__":
    main()
