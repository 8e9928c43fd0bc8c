"""Blocks of each footprint on a leaf of a mosaic: small cases by hand, and the cells that they must come to."""

from __future__ import annotations

import pytest

from bossage.brief.face import Footprint
from bossage.brief.mosaic import mosaic_counts


def footprint(cells: tuple[int, int], *, count: int | None = None, share: float | None = None) -> Footprint:
    return Footprint(
        name=f"{cells[0]} by {cells[1]}",
        width_nm=44_000_000 * cells[0],
        height_nm=44_000_000 * cells[1],
        section="s",
        quotas=None,
        weights=(1.0,),
        allowed=(0,),
        spread_nm=0,
        cells=cells,
        count=count,
        share=share,
    )


def test_counts_that_fill_the_leaf_are_kept_none_of_a_size_among_them() -> None:
    prints = (footprint((2, 2), count=3), footprint((2, 1), count=0), footprint((1, 1), count=4))
    assert mosaic_counts(prints, 16) == (3, 0, 4)


@pytest.mark.parametrize("cells", [15, 17])
def test_counts_for_more_or_fewer_cells_than_there_are_come_to_nothing(cells: int) -> None:
    assert mosaic_counts((footprint((2, 2), count=3), footprint((1, 1), count=4)), cells) is None


def test_what_counts_leave_is_shared_out_by_number_of_blocks() -> None:
    # 30 cells less 3 blocks of 4 leave 18. Two shares of 2 cells beside one of 1 are 5 cells: 3.6 times.
    prints = (footprint((2, 1), share=2), footprint((2, 2), count=3), footprint((1, 1)))
    assert mosaic_counts(prints, 30) == (7, 3, 4)


def test_shares_that_leave_out_the_odd_cell_come_to_nothing() -> None:
    assert mosaic_counts((footprint((2, 1)), footprint((2, 2))), 16) is not None
    assert mosaic_counts((footprint((2, 1)), footprint((2, 2))), 17) is None


def test_counts_that_fill_the_leaf_leave_no_block_to_a_share() -> None:
    assert mosaic_counts((footprint((2, 2), count=4), footprint((1, 1))), 16) == (4, 0)
