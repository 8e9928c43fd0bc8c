"""Six bought metal cleats by their own thickness: no screw of the panel half comes through the backer."""

from __future__ import annotations

import pytest

from bossage.brief.records import DefaultUsed
from tests.hang.making import hung, verdict
from tests.layout.factory import mm

#: thickness of the hung pair, packer behind the leaf's half, backer: as such cleats are sold, mm (common sizes, ours)
GEOMETRIES = [(3.2, 18, 12), (4.8, 15, 12), (6, 18, 12), (6.4, 12, 18), (9.5, 9, 15), (12.7, 18, 9)]
TIP_MM = 3  # so far before the backer's face every tip ends


@pytest.mark.parametrize(("thick", "packer", "backer"), GEOMETRIES)
def test_no_screw_of_the_panel_half_comes_through(thick, packer, backer):
    planned = hung(
        cleat__kind="metal",
        cleat__thickness_nm=mm(thick),
        cleat__packer_nm=mm(packer),
        cleat__allowable_g=40_000.0,
        backer__thickness_nm=mm(backer),
        defaults=(DefaultUsed(field="fixings.panel_length", value="", reason="found"),),
    )
    panel = planned.leaves[0].cleat.panel
    # from behind it may pass all of the metal, the packer and the backer but what keeps its tip covered
    assert (panel.sunk_nm + panel.length_nm) / 1e6 <= thick + packer + backer - TIP_MM
    assert panel.thread_nm > 0
    assert verdict(planned, "panel_screw") == "fine"
    assert planned.leaves[0].wedge_n == 0  # no bevel


def test_one_that_is_asked_for_too_long_is_told():
    planned = hung(
        cleat__kind="metal",
        cleat__thickness_nm=mm(3.2),
        cleat__packer_nm=mm(18),
        cleat__allowable_g=40_000.0,
        fixings__panel_length_nm=mm(40),  # 3.2 + 18 + 12 - 3 is 30.2
    )
    assert verdict(planned, "panel_screw") == "caution"
